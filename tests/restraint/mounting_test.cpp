#include "cellstow/restraint/mounting.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "../../src/restraint/mounting_checks.hpp"
#include "samples.hpp"

using cellstow::core::Check;
using cellstow::restraint::FixingUseResult;
using cellstow::restraint::mount_box;
using cellstow::restraint::Mounting;
namespace survey = cellstow::survey;

namespace {

survey::Fixing fixing(const std::string& name, double x, double y, double z, double sheet = 4) {
  survey::Fixing out;
  out.name = name;
  out.at = samples::point(x, y, z);
  out.thread = "M10";
  out.kind = survey::FixingKind::through_hole;
  out.sheet = samples::mm(sheet);
  return out;
}

/// Six holes in stout metal round a box of four cells, 30 mm off its walls.
survey::Cavity cavity_with_six(double sheet = 4) {
  survey::Cavity out;
  out.name = "tank well";
  out.fixings = {fixing("T1", 980, -36, 300, sheet),  fixing("T2", 1170, -36, 300, sheet),
                 fixing("T3", 1340, -36, 300, sheet), fixing("T4", 980, 210, 300, sheet),
                 fixing("T5", 1170, 210, 300, sheet), fixing("T6", 1340, 210, 300, sheet)};
  return out;
}

Mounting mount(const survey::Cavity& cavity, const survey::Rules& rules = samples::rules(),
               double mass_kg = 30) {
  auto box = samples::box_with_block(4, rules);
  box.mass_full = cellstow::core::Kg::of(mass_kg);
  return mount_box(box, cavity, rules, samples::catalogue());
}

constexpr double heavy_kg = 90;  // more than six holes in 0.8 mm sheet hold

bool holds(const Mounting& mounting) {
  for (const Check& c : mounting.checks) if (!c.ok) MESSAGE(c.name << " " << c.where << " " << c.value << " / " << c.limit);
  return std::all_of(mounting.checks.begin(), mounting.checks.end(),
                     [](const Check& c) { return c.ok; });
}

int carrying(const Mounting& mounting) {
  return static_cast<int>(std::count_if(mounting.fixings.begin(), mounting.fixings.end(),
                                        [](const FixingUseResult& f) { return f.carries; }));
}

bool says(const std::vector<std::string>& sentences, const std::string& part) {
  return std::any_of(sentences.begin(), sentences.end(),
                     [&](const std::string& s) { return s.find(part) != std::string::npos; });
}

}  // namespace

TEST_CASE("mounting: fewest fixings that hold, every fixing accounted for in file order") {
  const Mounting mounting = mount(cavity_with_six());
  CHECK(holds(mounting));
  REQUIRE(mounting.fixings.size() == 6);
  CHECK(carrying(mounting) >= 3);
  CHECK(carrying(mounting) < 6);
  for (std::size_t i = 0; i < 6; ++i) {
    CHECK(mounting.fixings[i].fixing == "T" + std::to_string(i + 1));
    CHECK(mounting.fixings[i].carries == mounting.fixings[i].why_not.empty());
  }
  CHECK(says(mounting.cautions, "certifier"));
  CHECK(says(mounting.cautions, "seat-belt"));
}

TEST_CASE("mounting: shear of a box at the height of its bolts, by hand") {
  // Four bolts square about the centre of gravity: 20 g forward is shared evenly, with 1 g of
  // gravity across it.
  survey::Rules rules = samples::rules();
  rules.load_cases.cases = {samples::load_case("20 g forward", -20, 0, 0)};
  auto box = samples::box_with_block(4, rules);
  box.mass_full = cellstow::core::Kg::of(50);  // three of the holes do not hold it, four do
  const double x = box.centre_of_gravity.x.mm();
  survey::Cavity cavity;
  cavity.fixings = {fixing("A", x - 150, -36, 400, 0.9), fixing("B", x + 150, -36, 400, 0.9),
                    fixing("C", x - 150, 210, 400, 0.9), fixing("D", x + 150, 210, 400, 0.9)};
  const Mounting mounting = mount_box(box, cavity, rules, samples::catalogue());
  REQUIRE(carrying(mounting) == 4);
  const double weight_n = box.mass_full.value() * 9.80665;
  for (const FixingUseResult& one : mounting.fixings) {
    CHECK(one.shear_n == doctest::Approx(20 * weight_n / 4));
    CHECK(one.tension_n == doctest::Approx(weight_n / 4));
    CHECK(one.governs == "sheet bearing");
    CHECK(one.worst_case == "20 g forward");
    // EN 1993-1-3: 2.5 kt fu d t / factor, kt = (0.8 x 0.9 + 1.5) / 2.5
    CHECK(one.use == doctest::Approx(one.shear_n / (2.22 * 270 * 10 * 0.9 / 2.0)));
  }
}

TEST_CASE("mounting: mass high above the bolts pulls on them") {
  const survey::Rules rules = samples::rules();
  auto low = samples::box_with_block(4, rules), high = low;
  low.centre_of_gravity.z = samples::mm(320);
  high.centre_of_gravity.z = samples::mm(620);
  survey::Cavity cavity = cavity_with_six();
  for (survey::Fixing& one : cavity.fixings) one.limit = cellstow::core::Newton::of(1e9);
  cavity.fixings.resize(4);  // the same four in both, whatever the search likes
  cavity.fixings.erase(cavity.fixings.begin() + 1);
  const Mounting a = mount_box(low, cavity, rules, samples::catalogue());
  const Mounting b = mount_box(high, cavity, rules, samples::catalogue());
  REQUIRE(carrying(a) == 3);
  REQUIRE(carrying(b) == 3);
  double pull_a = 0, pull_b = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    pull_a = std::max(pull_a, a.fixings[i].use);
    pull_b = std::max(pull_b, b.fixings[i].use);
  }
  CHECK(pull_b > pull_a);
}

TEST_CASE("mounting: never is never used, locate never loaded, far ones are out of reach") {
  survey::Cavity cavity = cavity_with_six();
  cavity.fixings[0].use = survey::FixingUse::never;
  cavity.fixings[1].use = survey::FixingUse::locate;
  cavity.fixings[2].at = samples::point(1300, -288, 300);  // 282 mm from the wall at y = -6
  cavity.fixings[3].thread = "M9";
  const Mounting mounting = mount(cavity);
  CHECK(mounting.fixings[0].why_not == "marked never");
  CHECK(mounting.fixings[1].why_not.starts_with("marked locate"));
  CHECK(mounting.fixings[2].why_not == "282 mm from the box, bracket reach is 150 mm");
  CHECK(mounting.fixings[3].why_not.find("M9") != std::string::npos);
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK_FALSE(mounting.fixings[i].carries);
    CHECK(mounting.fixings[i].shear_n == 0);
    CHECK(mounting.fixings[i].use == 0);
  }
  // two are left, which is too few
  REQUIRE(mounting.checks.size() == 1);
  CHECK_FALSE(mounting.checks[0].ok);
  CHECK(mounting.checks[0].value == 2);
  CHECK(mounting.checks[0].cure.find("T3 is 282 mm away") != std::string::npos);
}

TEST_CASE("mounting: reach is met exactly at the limit, in a corner and over the lid") {
  survey::Cavity cavity = cavity_with_six();
  const auto reach_of = [&](double x, double y, double z) {
    survey::Cavity one = cavity;
    one.fixings[0].at = samples::point(x, y, z);
    return mount(one).fixings[0].why_not;
  };
  CHECK(reach_of(994 - 150, 87, 400).find("reach") == std::string::npos);
  CHECK(reach_of(994 - 150.01, 87, 400).find("bracket reach") != std::string::npos);
  CHECK(reach_of(994 - 90, -6 - 120, 400).find("bracket reach") ==
        std::string::npos);  // 90, 120, 150
  CHECK(reach_of(1100, 87, 540 + 150).find("bracket reach") == std::string::npos);
  CHECK(reach_of(1100, 87, 540 + 151).find("bracket reach") != std::string::npos);
  CHECK(reach_of(994 - 90, -6 - 120, 540 + 1).find("bracket reach") != std::string::npos);
}

TEST_CASE("mounting: when no set holds, the best one comes with a number") {
  const Mounting mounting = mount(cavity_with_six(0.8), samples::rules(), heavy_kg);
  REQUIRE_FALSE(holds(mounting));
  CHECK(carrying(mounting) >= 3);
  const auto failed = std::find_if(mounting.checks.begin(), mounting.checks.end(),
                                   [](const Check& c) { return !c.ok; });
  CAPTURE(failed->cure);
  CHECK(failed->cure.starts_with("needs about "));
  CHECK(std::stoi(failed->cure.substr(12)) > carrying(mounting));
  CHECK(failed->cure.find("spreader plates") != std::string::npos);
}

TEST_CASE("mounting: unknown sheet is taken thin, and said so") {
  survey::Cavity cavity = cavity_with_six(), thin = cavity_with_six(0.8);
  for (survey::Fixing& one : cavity.fixings) one.sheet.reset();
  const Mounting guessed = mount(cavity), measured = mount(thin);
  CHECK(says(guessed.cautions, "0.8 mm assumed"));
  CHECK_FALSE(says(measured.cautions, "assumed"));
  for (std::size_t i = 0; i < 6; ++i) CHECK(guessed.fixings[i].use == measured.fixings[i].use);
}

TEST_CASE("mounting: the user's own limit stands in place of the sheet, not of the bolt") {
  survey::Cavity cavity = cavity_with_six(0.8);
  for (survey::Fixing& one : cavity.fixings) one.limit = cellstow::core::Newton::of(50000);
  const Mounting mounting = mount(cavity);
  CHECK(holds(mounting));
  for (const Check& check : mounting.checks) CHECK(check.name.find("sheet") == std::string::npos);
  CHECK(std::any_of(mounting.checks.begin(), mounting.checks.end(),
                    [](const Check& c) { return c.name == "bolt shear"; }));
}

TEST_CASE("mounting: fixings in one line hold nothing") {
  survey::Cavity cavity = cavity_with_six();
  cavity.fixings.resize(3);
  const Mounting mounting = mount(cavity);
  CHECK(carrying(mounting) == 0);
  REQUIRE(mounting.checks.size() == 1);
  CHECK(mounting.checks[0].name == "fixings off one line");
}

TEST_CASE("mounting: fixings nearly in one line are cured by one off it, not by thicker metal") {
  survey::Cavity cavity;
  // 20 mm off a line of 360 mm is as good as none; the same hole on the other side of the box is off it by the box's width.
  cavity.fixings = {fixing("T1", 980, -36, 300), fixing("T2", 1170, -56, 300), fixing("T3", 1340, -36, 300)};
  const Mounting in_line = mount(cavity, samples::rules(), heavy_kg);
  REQUIRE_FALSE(holds(in_line));
  for (const Check& check : in_line.checks)
    if (!check.ok) CHECK(check.cure.find("well off that line") != std::string::npos);
  cavity.fixings[1] = fixing("T2", 1170, 210, 300);
  for (const Check& check : mount(cavity, samples::rules(), heavy_kg).checks) CHECK(check.cure.find("well off that line") == std::string::npos);
}

TEST_CASE("mounting: as many fixings as the brackets need, though fewer bolts would hold") {
  // Fixings far off the wall: a long foot bends before its bolt is in trouble.
  survey::Cavity cavity;
  for (int i = 0; i < 5; ++i) {
    cavity.fixings.push_back(fixing("L" + std::to_string(i), 990 + 85 * i, -66, 300));
    cavity.fixings.push_back(fixing("R" + std::to_string(i), 990 + 85 * i, 240, 300));
  }
  int more = 0;
  for (double mass_kg = 20; mass_kg <= 160; mass_kg += 10) {
    CAPTURE(mass_kg);
    const Mounting mounting = mount(cavity, samples::rules(), mass_kg);
    double bolts = 0;
    for (const FixingUseResult& one : mounting.fixings) bolts = std::max(bolts, one.use);
    const bool all_hold = std::all_of(mounting.checks.begin(), mounting.checks.end(), [](const Check& check) { return check.ok; });
    more += all_hold && carrying(mounting) > 3 && bolts < 0.5;
    for (const FixingUseResult& one : mounting.fixings) {
      if (!one.carries) CHECK(one.why_not.starts_with("not needed") == all_hold);
    }
    if (!all_hold) CHECK(carrying(mounting) > 3);
  }
  CHECK(more > 0);
}

TEST_CASE("mounting: one M10 8.8 in 1 mm body sheet, by hand") {
  // Factors 1.5 and 2. Shear 0.6 x 800 x 58 / 2 = 13 920; proof 580 x 58 / 1.5 = 22 427; together
  // 6960 / 13 920 + 14 616 / (1.4 x 0.9 x 800 x 58 / 2) = 0.5 + 0.5 (EN 1993-1-8 Table 3.4);
  // bearing 2.5 x 0.92 x 270 x 10 x 1 / 2 = 3105; hexagon 16: mean 17.24; 0.6 pi 17.24 x 270 / 2 =
  // 4386
  namespace restraint = cellstow::restraint;
  const auto strength = restraint::fixing_strength(
      fixing("T1", 0, 0, 0, 1.0), samples::catalogue().threads.at("M10"), samples::rules(), {});
  const std::vector<Check> checks = restraint::fixing_checks(strength, 6960, 14616);
  REQUIRE(checks.size() == 5);
  CHECK(checks[0].limit == doctest::Approx(13920));
  CHECK(checks[1].limit == doctest::Approx(22426.7));
  CHECK(checks[2].value == doctest::Approx(100));
  CHECK(checks[2].limit == 100);
  CHECK(checks[3].limit == doctest::Approx(3105));
  CHECK(checks[4].limit == doctest::Approx(4386).epsilon(0.0002));
}

TEST_CASE("mounting: the search and the report judge a fixing alike, pushed or pulled") {
  namespace restraint = cellstow::restraint;
  const survey::Rules rules = samples::rules();
  survey::Fixing one = fixing("T1", 0, 0, 0, 1.0);
  for (const bool stated : {false, true}) {
    if (stated) one.limit = cellstow::core::Newton::of(4000);
    const auto strength =
        restraint::fixing_strength(one, samples::catalogue().threads.at("M10"), rules, {});
    for (const double shear : {0.0, 700.0, 9000.0}) {
      for (const double along : {-8000.0, -300.0, 0.0, 300.0, 8000.0}) {
        double worst = 0;
        for (const Check& check : restraint::fixing_checks(strength, shear, along))
          worst = std::max(worst, check.use);
        CHECK(restraint::fixing_use(strength, shear, along) == doctest::Approx(worst));
        CHECK(restraint::fixing_use(strength, shear, along) ==
              restraint::fixing_use(strength, shear, -along));
      }
    }
  }
}

TEST_CASE("mounting: no fixings in the job file, no verdict") {
  const Mounting mounting = mount({});
  CHECK(mounting.checks.empty());
  CHECK(says(mounting.notes, "not worked out"));
}

TEST_CASE("mounting: nothing in reach is a failing check with a readable use") {
  survey::Cavity cavity = cavity_with_six();
  for (survey::Fixing& one : cavity.fixings) one.at.z = samples::mm(2000);
  const Mounting mounting = mount(cavity);
  REQUIRE(mounting.checks.size() == 1);
  CHECK_FALSE(mounting.checks[0].ok);
  CHECK(mounting.checks[0].use == 2);
}

TEST_CASE("mounting: more g never makes do with fewer fixings") {
  int before = 0;
  for (const double g : {2.0, 5.0, 10.0, 20.0, 30.0}) {
    survey::Rules rules = samples::rules();
    rules.load_cases.cases = {samples::load_case("forward", -g, 0, 0)};
    const Mounting mounting = mount(cavity_with_six(1.5), rules);
    if (!holds(mounting)) continue;
    CHECK(carrying(mounting) >= before);
    before = carrying(mounting);
  }
  CHECK(before >= 3);
}

TEST_CASE("mounting: one more hole to choose from never makes it worse") {
  const auto worst = [](const Mounting& mounting) {
    double use = 0;
    for (const FixingUseResult& one : mounting.fixings) use = std::max(use, one.use);
    return use;
  };
  survey::Cavity cavity = cavity_with_six(0.8);  // too thin: the search looks for the least use
  const double all = worst(mount(cavity, samples::rules(), heavy_kg));
  REQUIRE(all > 1);
  cavity.fixings.pop_back();
  CHECK(worst(mount(cavity, samples::rules(), heavy_kg)) >= all);
}

TEST_CASE("mounting: beyond twelve candidates a set is still found") {
  survey::Cavity cavity;
  for (int i = 0; i < 16; ++i)
    cavity.fixings.push_back(
        fixing("F" + std::to_string(i), 980 + 45.0 * (i / 2), i % 2 == 0 ? -36 : 210, 300, 2));
  const Mounting mounting = mount(cavity);
  CHECK(holds(mounting));
  CHECK(carrying(mounting) >= 3);
  CHECK(carrying(mounting) < 16);
}

TEST_CASE("mounting: order of the fixings does not change which ones carry") {
  survey::Cavity cavity = cavity_with_six(1.5), turned = cavity;
  std::reverse(turned.fixings.begin(), turned.fixings.end());
  const Mounting a = mount(cavity), b = mount(turned);
  CHECK(carrying(a) == carrying(b));
  double use_a = 0, use_b = 0;
  for (std::size_t i = 0; i < 6; ++i) {
    use_a = std::max(use_a, a.fixings[i].use);
    use_b = std::max(use_b, b.fixings[i].use);
  }
  CHECK(use_a == doctest::Approx(use_b));
}
