#include <algorithm>
#include <cmath>

#include "bracket_shape.hpp"
#include "cellstow/box/plan_outline.hpp"
#include "cellstow/restraint/bracket.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

/// A fixing's axis may lean this far and still take a square bracket: 5 degrees. Common practice, no source.
constexpr double square_cos = 0.9962;
/// Below the lid's top edge, for the lid's flange. Common practice, no source.
constexpr double flange_mm = 25;
constexpr double least_overlap_mm = 40, least_width_mm = 30;

/// Heads look into the side the box comes from: down where it is brought in from below.
int head_side(const survey::Cavity& cavity) {
  return !cavity.way_in.empty() && cavity.way_in.back().move[2] > 0.5 ? -1 : 1;
}

BracketPlace frame_on(const box::Box& box, const box::WallRun& wall, std::size_t index) {
  BracketPlace out;
  const double u0 = wall.footprint[0].a.mm(), v0 = wall.footprint[0].b.mm(), u1 = wall.footprint[1].a.mm(), v1 = wall.footprint[1].b.mm();
  const double length = std::hypot(u1 - u0, v1 - v0);
  out.wall = index;
  out.wall_name = fmt::format("{} {}", box::to_text(wall.face), wall.number);
  out.origin_mm = {u0, v0};
  out.along = {(u1 - u0) / length, (v1 - v0) / length};
  out.out = {(v1 - v0) / length, (u0 - u1) / length};
  out.q_high_mm = length;
  out.p_low_mm = box.layout.z_bottom.mm();
  out.p_high_mm = box.layout.lid_top.mm() - flange_mm;
  return out;
}

double lever_mm(const BracketPlace& place) {
  return place.d_mm + place.beyond_mm + std::abs(place.q_mm - leg_middle_mm(place, least_width_mm));
}

/// The place on one wall, for one side of the head; nothing when a once-folded bracket does not go there.
std::optional<BracketPlace> place_on(const box::Box& box, const box::WallRun& wall, std::size_t index, const survey::Rules& rules, const survey::Fixing& fixing, int side,
                                     const BracketFrame& frame) {
  BracketPlace out = frame_on(box, wall, index);
  const core::InPlan at = core::to_box(box.layout.heading, core::InPlan{fixing.at.x.mm(), fixing.at.y.mm()});
  const core::InPlan axis = core::to_box(box.layout.heading, core::InPlan{fixing.axis[0], fixing.axis[1]});
  const double du = at.a - out.origin_mm[0], dv = at.b - out.origin_mm[1];
  const double s = du * out.along[0] + dv * out.along[1];
  out.d_mm = du * out.out[0] + dv * out.out[1];
  out.level_fold = std::abs(fixing.axis[2]) >= square_cos;
  if (!out.level_fold) {
    if (std::abs(axis.a * out.along[0] + axis.b * out.along[1]) < square_cos) return std::nullopt;
    std::swap(out.p_low_mm, out.q_low_mm);
    std::swap(out.p_high_mm, out.q_high_mm);
  }
  out.p_mm = out.level_fold ? fixing.at.z.mm() : s;
  out.q_mm = out.level_fold ? s : fixing.at.z.mm();
  out.side = side;
  out.beyond_mm = std::max({out.p_low_mm - out.p_mm, out.p_mm - out.p_high_mm, 0.0});
  if ((side > 0 && out.p_mm > out.p_high_mm - least_overlap_mm) || (side < 0 && out.p_mm < out.p_low_mm + least_overlap_mm)) return std::nullopt;
  if (out.d_mm < least_out_mm(rules, frame, least_bracket_mm, 0)) return std::nullopt;
  const double beside = std::max({out.q_low_mm - out.q_mm, out.q_mm - out.q_high_mm, 0.0});
  if (beside > 100 || out.q_high_mm - out.q_low_mm < least_width_mm) return std::nullopt;
  return out;
}

}  // namespace

PlaceResult bracket_places(const box::Box& box, const survey::Cavity& cavity, const survey::Rules& rules, const survey::Fixing& fixing, const survey::Thread& thread) {
  PlaceResult out;
  const std::vector<box::WallRun> walls = box::wall_runs(box::inset(box.layout.outline, rules.flange), rules.wall);
  const BracketFrame frame = bracket_frame(thread, 0, false);
  std::string met;
  const bool level = std::abs(fixing.axis[2]) >= square_cos;
  for (std::size_t k = 0; k < walls.size(); ++k) {
    for (const int side : {head_side(cavity), -head_side(cavity)}) {
      const auto place = place_on(box, walls[k], k, rules, fixing, side, frame);
      if (!place) continue;
      const BracketSize size{6, std::min(40.0, place->q_high_mm - place->q_low_mm), std::min(longest_leg_mm(*place), place->beyond_mm + 60), 0, false};
      const std::string in_the_way = keep_out_met(cavity, rules, fixing, bracket_pieces(box, *place, frame, size));
      if (!in_the_way.empty()) {
        met = in_the_way;
        continue;
      }
      out.places.push_back(*place);
      break;
    }
  }
  std::stable_sort(out.places.begin(), out.places.end(), [](const auto& a, const auto& b) { return lever_mm(a) < lever_mm(b); });
  if (!out.places.empty()) return out;
  out.why_not = !met.empty() ? fmt::format("no room for a bracket: {} is in the way", met)
                : level      ? "no once-folded plate gets to it beside the box: it lies under or over the box, or too near a wall for its bolt's head"
                             : "no once-folded plate gets to it: it looks at a wall of the box, or stands askew to it";
  return out;
}

}  // namespace cellstow::restraint
