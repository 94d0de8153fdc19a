#include "cellstow/fabrication/bracket_parts.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "cellstow/fabrication/bend.hpp"

namespace fabrication = cellstow::fabrication;
namespace restraint = cellstow::restraint;
namespace survey = cellstow::survey;
using cellstow::core::Heading;
using cellstow::core::Length;
using cellstow::core::Point2;

namespace {

Length mm(double v) { return Length::from_mm(v); }
Point2 p2(double a, double b) { return {mm(a), mm(b)}; }

survey::Rules rules() {
  survey::Rules out;
  out.materials.wall.name = "sheet";
  out.materials.wall.density_kg_per_m3 = 2700;
  out.materials.wall.min_bend_radius_over_thickness = 1;
  return out;
}

/// On a wall that looks to the left (outward along -y), foot at z 300 pointing out, leg upward 120 mm, 60 mm wide from x 100.
restraint::Bracket bracket() {
  restraint::Bracket b;
  b.mark = "TW-BR-T1";
  b.fixing = "T1";
  b.wall = "left 1";
  b.material = "sheet";
  b.thickness = mm(5);
  b.foot = mm(62);
  b.leg = mm(120);
  b.width = mm(60);
  b.hole = mm(11);
  b.slot = mm(19);
  b.hole_out = mm(40);
  b.slot_out = true;
  b.fold = "level";
  b.pieces = {{"foot", {p2(100, 0), p2(100, -62), p2(160, -62), p2(160, 0)}, mm(300), mm(305)},
              {"leg", {p2(100, 0), p2(100, -5), p2(160, -5), p2(160, 0)}, mm(300), mm(420)}};
  return b;
}

double low(const fabrication::FoldedSolid& solid, std::size_t axis, double pick) {
  double out = pick * 1e9;
  for (const auto& plate : solid.plates)
    for (const auto& corner : plate.outline)
      for (const double deep : {0.0, -plate.thickness}) {
        const double v = fabrication::in_space(plate.at, {corner.a, corner.b}, deep)[axis];
        out = pick > 0 ? std::min(out, v) : std::max(out, v);
      }
  return out;
}

}  // namespace

TEST_CASE("bracket part: flat length is outside legs less the bend deduction") {
  restraint::Mounting mounting;
  mounting.brackets = {bracket()};
  const auto parts = fabrication::bracket_parts(mounting, Heading{}, rules(), "A");
  REQUIRE(parts.size() == 1);
  const auto bend = fabrication::bend_rule(rules().materials.wall, 5, rules());
  const auto extent = fabrication::extent_of(parts[0].flat.outline);
  CHECK(extent.width() == doctest::Approx(60));
  CHECK(extent.height() == doctest::Approx(62 + 120 - bend.deduction_mm()));
  REQUIRE(parts[0].flat.bends.size() == 1);
  REQUIRE(parts[0].flat.holes.size() == 1);
  const auto& hole = parts[0].flat.holes[0];
  CHECK(hole.length == doctest::Approx(19));
  // its middle lies 62 - 40 mm from the foot's end, and in the middle of the width
  CHECK(hole.centre.b == doctest::Approx(62 - 40));
  CHECK(hole.centre.a == doctest::Approx(30));
  CHECK(std::abs(std::fmod(std::abs(hole.angle_deg), 180) - 90) < 1e-9);
}

TEST_CASE("bracket part: folded it stands where the strength sums put it") {
  restraint::Mounting mounting;
  mounting.brackets = {bracket()};
  const auto parts = fabrication::bracket_parts(mounting, Heading{}, rules(), "A");
  const auto& solid = parts[0].folded.at(0);
  CHECK(low(solid, 0, 1) == doctest::Approx(100));
  CHECK(low(solid, 0, -1) == doctest::Approx(160));
  CHECK(low(solid, 1, 1) == doctest::Approx(-62));
  CHECK(low(solid, 1, -1) == doctest::Approx(0));
  CHECK(low(solid, 2, 1) == doctest::Approx(300));
  CHECK(low(solid, 2, -1) == doctest::Approx(420));
  // metal: as much as the flat has, within what the neutral line of the bend is off the middle
  CHECK(fabrication::volume_mm3(solid) == doctest::Approx(fabrication::sheet_area(parts[0].flat) * 5).epsilon(0.02));
}

TEST_CASE("bracket part: a hole off the middle, gussets and a doubler") {
  restraint::Bracket b = bracket();
  b.hole_beside = mm(45);
  b.foot_beyond = mm(37);
  b.beyond_is_right = true;
  b.gussets = true;
  b.gusset_out = mm(57);
  b.gusset_up = mm(60);
  b.doubler = mm(3);
  for (auto& piece : b.pieces) piece.outline = piece.outline;
  restraint::Mounting mounting;
  mounting.brackets = {b};
  const auto parts = fabrication::bracket_parts(mounting, Heading{}, rules(), "A");
  REQUIRE(parts.size() == 3);
  CHECK(fabrication::extent_of(parts[0].flat.outline).width() == doctest::Approx(60 + 37));
  CHECK(parts[1].quantity == 2);
  CHECK(parts[1].folded.size() == 2);
  CHECK(parts[2].thickness == 3);
  // the bolt stands at x 130 + 45
  const auto& plates = parts[0].folded[0].plates;
  bool found = false;
  for (const auto& plate : plates)
    for (const auto& hole : plate.holes) {
      const auto at = fabrication::in_space(plate.at, hole.centre);
      CHECK(at[0] == doctest::Approx(175));
      CHECK(at[1] == doctest::Approx(-40 - 3));
      found = true;
    }
  CHECK(found);
}
