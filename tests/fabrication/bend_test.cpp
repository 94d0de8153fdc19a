#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "cellstow/fabrication/bend.hpp"

namespace {

using namespace cellstow;
using namespace cellstow::fabrication;
using core::Length;

constexpr double inch = 25.4;

survey::BendTest strip(double t, double r, double l1, double l2, double flat, double angle = 90) {
  survey::BendTest test;
  test.material = "EN AW-5754 H22";
  test.thickness = Length::from_mm(t);
  test.inside_radius = Length::from_mm(r);
  test.angle_deg = angle;
  test.legs = {Length::from_mm(l1), Length::from_mm(l2)};
  test.flat = Length::from_mm(flat);
  return test;
}

survey::Material sheet(std::optional<double> ratio, std::optional<double> k, bool cracks = false) {
  survey::Material m;
  m.name = "EN AW-5754 H22";
  m.min_bend_radius_over_thickness = ratio;
  m.k_factor = k;
  m.bend_may_crack = cracks;
  return m;
}

}  // namespace

// Published: values of a web calculator, 1 mm sheet, 2 mm radius, K 0.33, 90 degrees.
TEST_CASE("allowance, setback, deduction: published 3.660, 3.000, 2.340") {
  CHECK(bend_allowance_mm(90, 2, 1, 0.33) == doctest::Approx(3.660).epsilon(0.0002));
  CHECK(outside_setback_mm(90, 2, 1) == doctest::Approx(3.000));
  CHECK(bend_deduction_mm(90, 2, 1, 0.33) == doctest::Approx(2.340).epsilon(0.0002));
}

// FAA-H-8083-31, chapter 4, U-channel of 0.040 in 2024-T3, radius 0.16 in, outside 1.00 / 2.00 / 1.00 in:
// setback 0.2, flats 0.8 / 1.6 / 0.8 in. The allowance and total of 0.27 and 3.74 in (from memory) are cut off, not
// rounded: the handbook's own formula (0.01743 R + 0.0078 T) N gives 0.279, so they hold to 0.02 in only.
TEST_CASE("aircraft U-channel: setback and flats exact, total within 0.02 in of the printed one") {
  const double r = 0.16 * inch, t = 0.040 * inch, k = 0.0078 / (std::numbers::pi / 180);
  const double setback = outside_setback_mm(90, r, t) / inch;
  CHECK(setback == doctest::Approx(0.2));
  CHECK(1.00 - setback == doctest::Approx(0.8));
  CHECK(2.00 - 2 * setback == doctest::Approx(1.6));
  const double allowance = bend_allowance_mm(90, r, t, k) / inch;
  CHECK(allowance == doctest::Approx((0.01743 * 0.16 + 0.0078 * 0.040) * 90).epsilon(0.002));
  const double total = 4.00 - 2 * bend_deduction_mm(90, r, t, k) / inch;
  CHECK(std::abs(total - 3.74) < 0.02);
  CHECK(std::abs(allowance - 0.27) > 0.005);  // the printed allowance is not what its formula gives
}

// AC 43.13-1B form 2 pi (R + T/2) / 4, in a published build log: 0.025 in sheet, radius 0.25 in: 0.413 in.
TEST_CASE("neutral line in the middle: published 0.413 in") {
  CHECK(bend_allowance_mm(90, 0.25 * inch, 0.025 * inch, 0.5) / inch == doctest::Approx(0.413).epsilon(0.003));
}

// Tabellenbuch Metall, worked after DIN 6935 (from memory): a 25, b 20, c 15, s 2, r 4: v 4.5 each, length 51 mm.
TEST_CASE("DIN 6935: U part of the tables, 51 mm") {
  const double v = din_6935_addition_mm(90, 4, 2);
  CHECK(v == doctest::Approx(-4.5).epsilon(0.01));
  CHECK(25 + 20 + 15 + 2 * v == doctest::Approx(51).epsilon(0.002));
}

// Coefficients of DIN 6935 from memory; values worked by hand from the formula.
TEST_CASE("DIN 6935: other opening angles, s 2, r 3") {
  CHECK(din_6935_addition_mm(60, 3, 2) == doctest::Approx(-2.171).epsilon(0.0005));
  CHECK(din_6935_addition_mm(90, 3, 2) == doctest::Approx(-4.128).epsilon(0.0005));
  CHECK(din_6935_addition_mm(120, 3, 2) == doctest::Approx(-1.859).epsilon(0.0005));
  CHECK(din_6935_addition_mm(135, 3, 2) == doctest::Approx(-1.206).epsilon(0.0005));
  CHECK(din_6935_addition_mm(150, 3, 2) == doctest::Approx(-0.722).epsilon(0.001));
  CHECK(din_6935_addition_mm(170, 3, 2) == 0);
}

// A published page calls 100.41 mm the flat of a 50 x 50 x 3 angle, radius 3: its legs are inside sizes. With outside legs
// DIN 6935 gives 94.24, and a K factor for 100.41 would put the neutral line outside the sheet.
TEST_CASE("inside sizes taken for outside legs are told apart") {
  CHECK(100 + din_6935_addition_mm(90, 3, 3) == doctest::Approx(94.24).epsilon(0.0002));
  CHECK(k_of(strip(3, 3, 50, 50, 100.41)) > 1);
  survey::Rules rules;
  rules.bend_tests = {strip(3, 3, 50, 50, 99)};
  const auto material = sheet(1, 0.4);
  const auto told = bend_cautions(material, bend_rule(material, 3, rules), rules, "TW");
  REQUIRE(told.size() == 1);
  CHECK(told[0].find("measured inside") != std::string::npos);
}

TEST_CASE("a bend test gives back the strip it came from, at any angle") {
  for (const double angle : {30.0, 90.0, 120.0}) {
    const double k = 0.37, r = 4, t = 3;
    const double flat = 60 + 40 - bend_deduction_mm(angle, r, t, k);
    CHECK(k_of(strip(t, r, 60, 40, flat, angle)) == doctest::Approx(k).epsilon(0.001));
  }
}

TEST_CASE("K: own test before table before the low end; nearest radius of several tests") {
  survey::Rules rules;
  CHECK(bend_rule(sheet(1.5, 0.4), 3, rules).k_factor == 0.4);
  CHECK(bend_rule(sheet(1.5, {}), 3, rules).k_factor == 0.33);
  const double flat4 = 100 - bend_deduction_mm(90, 4, 3, 0.36), flat8 = 100 - bend_deduction_mm(90, 8, 3, 0.45);
  rules.bend_tests = {strip(3, 8, 50, 50, flat8), strip(3, 4, 50, 50, flat4), strip(2, 4.5, 50, 50, 95)};
  CHECK(bend_rule(sheet(1.5, 0.4), 3, rules).k_factor == doctest::Approx(0.36).epsilon(0.002));
  rules.bend_radius = Length::from_mm(7);
  CHECK(bend_rule(sheet(1.5, 0.4), 3, rules).k_factor == doctest::Approx(0.45).epsilon(0.002));
}

TEST_CASE("radius: least of the material rounded up to half a millimetre, checked when the shop gives its own") {
  survey::Rules rules;
  CHECK(bend_rule(sheet(1.5, {}), 2.5, rules).inside_radius_mm == 4.0);
  CHECK(radius_check(sheet(1.5, {}), bend_rule(sheet(1.5, {}), 2.5, rules), "TW").ok);
  rules.bend_radius = Length::from_mm(3);
  const auto tight = radius_check(sheet(4, {}, true), bend_rule(sheet(4, {}, true), 2, rules), "TW");
  CHECK_FALSE(tight.ok);
  CHECK(tight.limit == doctest::Approx(8));
  CHECK(tight.cure.find("5754") != std::string::npos);
  CHECK(bend_cautions(sheet(4, {}, true), bend_rule(sheet(4, {}, true), 2, rules), rules, "TW")[0].find("crack") != std::string::npos);
}
