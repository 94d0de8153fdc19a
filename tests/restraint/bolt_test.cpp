#include "cellstow/restraint/bolt.hpp"

#include <doctest/doctest.h>

#include "cellstow/restraint/joint.hpp"
#include "samples.hpp"

namespace restraint = cellstow::restraint;
using cellstow::core::Newton;
using cellstow::core::NewtonMetre;

TEST_CASE("torque: M12 of class 8.8 to 0.70 of its proof load, published worked example") {
  // 0.70 x 580 MPa x 84.3 mm2, K 0.2: printed 34 kN and 82 N m
  const Newton tension = Newton::of(0.70 * 580 * 84.3);
  CHECK(tension.value() == doctest::Approx(34000).epsilon(0.01));
  CHECK(restraint::torque_for_tension(tension, 0.2, 12).value() == doctest::Approx(82).epsilon(0.005));
}

TEST_CASE("torque: M10 of class 8.8 at 50 N m; the source's proof load is not that of ISO 898-1") {
  const auto rules = samples::rules();
  const double tension_n = restraint::tension_from_torque(NewtonMetre::of(50), 0.20, 10).value();
  CHECK(tension_n == doctest::Approx(25000));
  CHECK(tension_n / 58.0 == doctest::Approx(431).epsilon(0.001));
  // printed: proof 34.8 kN, 71.8 %, from 600 MPa. ISO 898-1 up to M16: 580 MPa, 33.7 kN in its own table, so 74 %.
  const double proof_n = restraint::bolt_proof_load(rules.materials.fasteners, samples::catalogue().threads.at("M10")).value();
  CHECK(proof_n == doctest::Approx(33700).epsilon(0.006));
  CHECK(proof_n < 34800 * 0.97);
  CHECK(tension_n / proof_n == doctest::Approx(0.743).epsilon(0.002));
}

TEST_CASE("torque: class 8.8 at 0.75 of proof, as received and oiled") {
  // worked by hand from T = K F d
  struct Case { const char* thread; double dry_nm, oiled_nm; };
  const auto rules = samples::rules();
  for (const Case& c : {Case{"M5", 6.2, 4.6}, Case{"M6", 10.4, 7.8}, Case{"M8", 25.4, 19.1}, Case{"M10", 50.6, 37.9}, Case{"M12", 88.0, 66.0}}) {
    CAPTURE(c.thread);
    cellstow::survey::Fixing fixing;
    fixing.thread = c.thread;
    const auto bolt = restraint::fixing_bolt(fixing, samples::catalogue().threads.at(c.thread), rules.materials.fasteners, 6, 2, true);
    CHECK(bolt.torque_nm == doctest::Approx(c.dry_nm).epsilon(0.01));
    CHECK(bolt.torque_oiled_nm == doctest::Approx(c.oiled_nm).epsilon(0.01));
  }
}

TEST_CASE("torque: inch bolts of SAE grade 2, published chart") {
  // 0.75 x 55 000 psi x 0.0318 in2, K 0.20: 1312 lbf and 5.4 ft lbf (cut off, 5.47); 1/2-13: 5853 lbf and 48.8 ft lbf
  const double small_lbf = 0.75 * 55000 * 0.0318, large_lbf = 0.75 * 55000 * 0.1419;
  CHECK(small_lbf == doctest::Approx(1312).epsilon(0.001));
  CHECK(large_lbf == doctest::Approx(5853).epsilon(0.001));
  const double n_per_lbf = 4.4482216, nm_per_ft_lbf = 1.3558179;
  const auto torque = [&](double lbf, double inch) { return restraint::torque_for_tension(Newton::of(lbf * n_per_lbf), 0.20, inch * 25.4).value() / nm_per_ft_lbf; };
  CHECK(torque(small_lbf, 0.25) == doctest::Approx(5.47).epsilon(0.002));
  CHECK(torque(large_lbf, 0.5) == doctest::Approx(48.8).epsilon(0.002));
}

TEST_CASE("bolt: long enough for one diameter of thread in a weld nut, and for a nut behind a hole") {
  const auto rules = samples::rules();
  const auto m8 = samples::catalogue().threads.at("M8");
  cellstow::survey::Fixing fixing;
  fixing.thread = "M8";
  fixing.kind = cellstow::survey::FixingKind::weld_nut;
  const auto welded = restraint::fixing_bolt(fixing, m8, rules.materials.fasteners, 6, 2, true);
  CHECK(welded.stack_mm == doctest::Approx(2 + 6 + 1 + 2));
  CHECK(welded.engagement_mm >= 8);
  CHECK(welded.length_mm >= welded.stack_mm + welded.engagement_mm);
  CHECK(welded.length_mm < welded.stack_mm + welded.engagement_mm + 5);
  fixing.kind = cellstow::survey::FixingKind::through_hole;
  const auto through = restraint::fixing_bolt(fixing, m8, rules.materials.fasteners, 6, 2, false);
  CHECK(through.stack_mm == doctest::Approx(2 + 6 + 2 + 2));
  CHECK(through.isolation.empty());
  fixing.kind = cellstow::survey::FixingKind::stud;
  CHECK(restraint::fixing_bolt(fixing, m8, rules.materials.fasteners, 6, 2, false).length_mm == 0);
}
