#include "cellstow/restraint/load_path.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "cellstow/restraint/creepage.hpp"
#include "samples.hpp"

namespace restraint = cellstow::restraint;
using cellstow::core::Check;
using restraint::Link;

namespace {

struct Made {
  restraint::StrapPlan straps;
  restraint::HoldDownPlan hold_downs;
  restraint::LoadPath path;
  double outside_mm[2] = {0, 0};
};

Made made(cellstow::survey::Rules rules, cellstow::survey::Cell cell, int cells = 4, std::optional<cellstow::core::Volt> volts = {}) {
  auto box = samples::box_with_block(cells, rules);
  box.inside = {samples::mm(326), samples::mm(180), samples::mm(240)};
  const auto catalogue = samples::catalogue();
  Made out;
  const auto& corners = box.layout.outline;
  out.outside_mm[0] = (corners[2].a - corners[0].a).mm();
  out.outside_mm[1] = (corners[2].b - corners[0].b).mm();
  out.straps = restraint::design_straps(box, cell, rules, catalogue);
  out.hold_downs = restraint::design_hold_downs(box, cell, rules, catalogue, out.straps);
  out.path = restraint::follow_load(box, cell, rules, catalogue, out.straps, out.hold_downs, {}, volts);
  return out;
}

const Link* find(const restraint::LoadPath& path, const std::string& name) {
  const auto found = std::find_if(path.links.begin(), path.links.end(), [&](const Link& one) { return one.check.name == name; });
  return found == path.links.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("load path: end plate between foot and strap, by hand") {
  const Made one = made(samples::rules(), samples::cell());
  const Link* plate = find(one.path, "end plate bent, foot to strap");
  REQUIRE(plate != nullptr);
  // 4 x 5.4 kg and two plates 10 x 174 x 207 mm of 2700 kg/m3, 20 g
  const double force_n = (4 * 5.4 + 2 * 0.010 * 0.174 * 0.207 * 2700) * 9.80665 * 20;
  const double modulus = 174 * 100 / 6.0;
  CHECK(plate->check.value == doctest::Approx(force_n * 207 / 8 / modulus));
  CHECK(plate->check.limit == doctest::Approx(130 / 1.5));
  CHECK(plate->spare() == doctest::Approx(1 / plate->check.use));
}

TEST_CASE("load path: the wall's net in equilibrium, by hand") {
  const Made one = made(samples::rules(), samples::cell());
  const Link* wall = find(one.path, "wall hung like a net");
  REQUIRE(wall != nullptr);
  // a rectangle, so all contents lean on one wall: the long one at 15 g, the short one at 20 g
  const double kg = 4 * 5.4 + 8, height = 507 - 294 - 3 - 3, pull = std::min(130 / 1.5, 220 / 2.0) * 3;
  double worst_bulge = 0;
  for (const Link& link : one.path.links) {
    if (link.part != "wall") continue;
    const bool is_long = link.load_case.starts_with("15 g");
    const double span = (is_long ? one.outside_mm[0] : one.outside_mm[1]) - 6;
    const double q = kg * 9.80665 * (is_long ? 15 : 20) / (span * height);
    // equilibrium of half the net: pull x bulge = q (L/2)(L/4)
    const double bulge = q * span / 2 * span / 4 / pull;
    CHECK(link.check.value == doctest::Approx(100 * 8 / 3.0 * std::pow(bulge / span, 2)));
    worst_bulge = std::max(worst_bulge, bulge);
  }
  CHECK(one.path.wall_bulge_mm == doctest::Approx(worst_bulge));
}

TEST_CASE("load path: heavier, thinner and welded are never better") {
  auto rules = samples::rules();
  const Made plain = made(rules, samples::cell());
  auto heavy_cell = samples::cell();
  heavy_cell.mass = cellstow::core::Kg::of(8);
  const Made heavy = made(rules, heavy_cell);
  CHECK(find(heavy.path, "end plate bent, foot to strap")->check.use > find(plain.path, "end plate bent, foot to strap")->check.use);
  auto welded_rules = rules;
  welded_rules.materials.wall.welded_proof_strength = cellstow::core::Mpa::of(80);
  const Made welded = made(welded_rules, samples::cell());
  CHECK(find(welded.path, "floor pulled at its welds")->check.use > find(plain.path, "floor pulled at its welds")->check.use);
  CHECK(welded.path.wall_bulge_mm > plain.path.wall_bulge_mm);
  rules.floor = samples::mm(2);
  CHECK(made(rules, samples::cell()).path.floor_sag_mm > plain.path.floor_sag_mm);
}

TEST_CASE("load path: the weakest link is the most used one, and every link can be re-done") {
  const Made one = made(samples::rules(), samples::cell());
  REQUIRE(one.path.weakest >= 0);
  for (const Link& link : one.path.links) {
    CHECK(link.check.use <= one.path.links[static_cast<std::size_t>(one.path.weakest)].check.use);
    CHECK(!link.formula.empty());
    CHECK(!link.check.source.empty());
    CHECK(!link.part.empty());
  }
}

TEST_CASE("load path: springs keep the clamp force in the maker's range while the block grows") {
  auto cell = samples::cell();
  cell.clamp_force = cellstow::survey::ForceRange{cellstow::core::Newton::of(1400), cellstow::core::Newton::of(3000)};
  const Made one = made(samples::rules(), cell);
  REQUIRE(one.path.clamps.size() == 1);
  const auto& clamp = one.path.clamps[0];
  CHECK(clamp.growth_mm == doctest::Approx(4 * 72 * 0.03));
  CHECK(clamp.start_n + clamp.spring_n_per_mm * clamp.growth_mm == doctest::Approx(3000));
  CHECK(clamp.rigid_n_per_mm > 20 * clamp.spring_n_per_mm);
  CHECK(find(one.path, "end plate bent by the clamping")->check.value == doctest::Approx(3000.0 * 174 / 8 / (207 * 100 / 6.0)));
}

TEST_CASE("creepage: rows of IEC 60664-1 Table F.4, pollution degree 3, group III, and the next row up between them") {
  CHECK(restraint::creepage_mm(63) == 2.0);
  CHECK(restraint::creepage_mm(160) == 2.5);
  CHECK(restraint::creepage_mm(131.4) == 2.5);
  CHECK(restraint::creepage_mm(400) == 6.3);
  CHECK(restraint::creepage_mm(401) == 8.0);
  CHECK(restraint::creepage_mm(800) == 12.5);
  CHECK(restraint::creepage_mm(1000) > 12.5);
}

TEST_CASE("hold-down: only where straps do not hold, and bar and strap rise alike") {
  CHECK(made(samples::rules(), samples::cell()).hold_downs.bars.empty());
  auto rules = samples::rules();
  rules.strap_space = {};
  rules.end_plate = samples::mm(14);
  auto cell = samples::cell();
  cell.terminal_offset = samples::mm(61);
  rules.load_cases.cases = {samples::load_case("10 g upward", 0, 0, 10)};
  const Made without = made(rules, cell, 3);
  REQUIRE(without.hold_downs.bars.size() == 1);
  const auto& bar = without.hold_downs.bars[0];
  CHECK(bar.quantity == 2);
  CHECK(bar.strap_share == 0);
  for (const Check& check : bar.checks) CHECK(check.ok);
  // 10 g up less 1 g of gravity on cells and plates, shared by two bars
  const double kg = 3 * 5.4 + 2 * 0.014 * 0.174 * 0.207 * 2700;
  CHECK(bar.lift.value() == doctest::Approx(kg * 9.80665 * 9 / 2));
  // clear of vents and links: within 20 and 46 mm of the middle
  CHECK(bar.beside.mm() - bar.width.mm() / 2 >= 20);
  CHECK(bar.beside.mm() + bar.width.mm() / 2 <= 46);
}

TEST_CASE("hold-down: sharing by stiffness has the right limits") {
  const double stiff = restraint::strap_share_of_lift(2400, 400, 1e12, 40, 5, 70000, 400);
  const double soft = restraint::strap_share_of_lift(2400, 400, 1e3, 40, 5, 70000, 400);
  CHECK(stiff < 0.01);
  CHECK(soft > 0.99);
  const double middle = restraint::strap_share_of_lift(2400, 400, 2e8, 40, 5, 70000, 400);
  CHECK(middle > stiff);
  CHECK(middle < soft);
}
