#include "bracket_shape.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/region/free_plan.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

/// Room above a head for a socket and the first joint of its extension. Common practice, no source.
constexpr double socket_height_mm = 80;

struct Rect { double d0, d1, p0, p1, q0, q1; };

core::Point2 in_car(const box::Box& box, const BracketPlace& place, double d, double s) {
  const double u = place.origin_mm[0] + s * place.along[0] + d * place.out[0];
  const double v = place.origin_mm[1] + s * place.along[1] + d * place.out[1];
  return core::to_car(box.layout.heading, core::Point2{Length::from_mm(u), Length::from_mm(v)});
}

BracketPiece piece(const box::Box& box, const BracketPlace& place, const std::string& name, Rect r) {
  if (r.p0 > r.p1) std::swap(r.p0, r.p1);
  const double s0 = place.level_fold ? r.q0 : r.p0, s1 = place.level_fold ? r.q1 : r.p1;
  const double z0 = place.level_fold ? r.p0 : r.q0, z1 = place.level_fold ? r.p1 : r.q1;
  return {name,
          {in_car(box, place, r.d0, s0), in_car(box, place, r.d1, s0), in_car(box, place, r.d1, s1), in_car(box, place, r.d0, s1)},
          Length::from_mm(z0), Length::from_mm(z1)};
}

geometry::Loop loop_of(const std::vector<core::Point2>& outline) {
  geometry::Loop loop;
  for (const core::Point2& p : outline) loop.push_back({p.a.um(), p.b.um()});
  if (geometry::doubled_area(loop) < 0) std::reverse(loop.begin(), loop.end());
  return loop;
}

bool near_box(const survey::Fixing& fixing, const Point2& low, const Point2& high, Length z_low, Length z_high) {
  const Length near = Length::from_mm(10);
  return fixing.at.x >= low.a - near && fixing.at.x <= high.a + near && fixing.at.y >= low.b - near && fixing.at.y <= high.b + near &&
         fixing.at.z >= z_low - near && fixing.at.z <= z_high + near;
}

/// Does the keep-out hold the fixing: a cross-member, a ledge?
bool holds_fixing(const survey::KeepOut& keep_out, const survey::Fixing& fixing) {
  if (keep_out.kind == survey::KeepOutKind::moving) return false;
  if (const auto* shape = std::get_if<survey::BoxShape>(&keep_out.shape))
    return near_box(fixing, {shape->low.x, shape->low.y}, {shape->high.x, shape->high.y}, shape->low.z, shape->high.z);
  return false;
}

/// Open space with nothing but one keep-out in it.
survey::Cavity only(const survey::KeepOut& keep_out) {
  survey::Cavity open;
  const Length far = Length::from_mm(9000);
  survey::Section section;
  section.outline = {{-far, -far}, {far, -far}, {far, far}, {-far, far}};
  section.station = -far;
  open.sections.at = {section, section};
  open.sections.at[1].station = far;
  open.keep_outs = {keep_out};
  return open;
}

bool is_free(const survey::Cavity& cavity, const BracketPiece& piece) {
  return region::free_plan(cavity, {0, 0, 0}, survey::Between::common, {piece.low.um(), piece.high.um()}).admits(loop_of(piece.outline));
}

}  // namespace

BracketFrame bracket_frame(const survey::Thread& thread, double slot_more_mm, bool slot_out) {
  BracketFrame out;
  out.hole_mm = thread.clearance_hole.mm();
  out.slot_mm = out.hole_mm + slot_more_mm;
  out.slot_out = slot_out;
  // Regular end distance: two holes. Source: EN 1999-1-1 Table 8.2, from memory.
  out.end_mm = std::ceil(2 * out.hole_mm + slot_more_mm / 2);
  out.head_mm = 3 * thread.major_diameter.mm();  // washer
  // Outside of a usual socket: once and a half the width across flats. Common practice, no source.
  out.socket_radius_mm = (1.5 * thread.head_width_mm + 2) / 2;
  return out;
}

double bracket_radius_mm(const survey::Rules& rules, double thickness_mm) {
  if (rules.bend_radius) return rules.bend_radius->mm();
  return std::ceil(rules.materials.wall.min_bend_radius_over_thickness.value_or(2) * thickness_mm);
}

double least_out_mm(const survey::Rules& rules, const BracketFrame& frame, double thickness_mm, double doubler_mm) {
  const double rim_mm = (frame.slot_out ? frame.slot_mm : frame.hole_mm) / 2;
  return doubler_mm + thickness_mm + bracket_radius_mm(rules, thickness_mm) + std::max(frame.head_mm / 2, rim_mm + thickness_mm);
}

double leg_middle_mm(const BracketPlace& place, double width_mm) {
  const double low = place.q_low_mm + width_mm / 2, high = place.q_high_mm - width_mm / 2;
  return low > high ? (low + high) / 2 : std::clamp(place.q_mm, low, high);
}

double overlap_mm(const BracketPlace& place, const BracketSize& size) { return std::max(size.leg_mm - place.beyond_mm, 0.0); }

double longest_leg_mm(const BracketPlace& place) {
  return place.side > 0 ? place.p_high_mm - place.p_mm : place.p_mm - place.p_low_mm;
}

std::vector<BracketPiece> bracket_pieces(const box::Box& box, const BracketPlace& place, const BracketFrame& frame, const BracketSize& size) {
  const double middle = leg_middle_mm(place, size.width_mm), half = size.width_mm / 2;
  const double q0 = std::min(middle - half, place.q_mm - frame.end_mm), q1 = std::max(middle + half, place.q_mm + frame.end_mm);
  const double t = size.thickness_mm, base = size.doubler_mm;
  std::vector<BracketPiece> out;
  out.push_back(piece(box, place, "foot", {0, place.d_mm + frame.end_mm, place.p_mm, place.p_mm + place.side * t, q0, q1}));
  out.push_back(piece(box, place, "leg", {0, base + t, place.p_mm, place.p_mm + place.side * size.leg_mm, middle - half, middle + half}));
  if (size.gussets) {
    const double up = place.side * std::min(place.beyond_mm + 60, size.leg_mm);
    for (const double from : {middle - half, middle + half - t})
      out.push_back(piece(box, place, "gusset", {0, (place.d_mm + frame.end_mm), place.p_mm, place.p_mm + up, from, from + t}));
  }
  return out;
}

std::string keep_out_met(const survey::Cavity& cavity, const survey::Rules& rules, const survey::Fixing& fixing, const std::vector<BracketPiece>& pieces) {
  for (const survey::KeepOut& keep_out : cavity.keep_outs) {
    survey::KeepOut one = keep_out;
    one.clearance = holds_fixing(keep_out, fixing) ? Length{} : keep_out.clearance.value_or(rules.body_clearance);
    const survey::Cavity open = only(one);
    for (const BracketPiece& piece : pieces)
      if (!is_free(open, piece)) return keep_out.name;
  }
  return {};
}

std::string reach_of(const box::Box& box, const survey::Cavity& cavity, const BracketPlace& place, const BracketFrame& frame, const BracketSize& size) {
  const double r = frame.socket_radius_mm, leg_mm = place.d_mm - size.thickness_mm - size.doubler_mm - r;
  const double beside_mm = size.gussets ? size.width_mm / 2 - size.thickness_mm - std::abs(place.q_mm - leg_middle_mm(place, size.width_mm)) - r : 0;
  const bool outside_gussets = std::abs(place.q_mm - leg_middle_mm(place, size.width_mm)) > size.width_mm / 2 + r;
  const double from = place.p_mm + place.side * size.thickness_mm, to = from + place.side * socket_height_mm;
  const BracketPiece cylinder = piece(box, place, "socket", {place.d_mm - r, place.d_mm + r, from, to, place.q_mm - r, place.q_mm + r});
  if (leg_mm < -1e-6) return fmt::format("no socket: the leg is {} mm too near; ring spanner", short_number(std::ceil(-leg_mm)));
  if (beside_mm < -1e-6 && !outside_gussets) return "no socket: a gusset is in the way; ring spanner";
  for (const survey::KeepOut& keep_out : cavity.keep_outs) {
    survey::KeepOut bare = keep_out;
    bare.clearance = Length{};
    if (!is_free(only(bare), cylinder)) return fmt::format("no socket: {} is in the way{}", keep_out.name, keep_out.kind == survey::KeepOutKind::removable ? ", bolt it before that goes back" : "; ring spanner");
  }
  if (cavity.sections.at.size() > 1 && !is_free(cavity, cylinder)) return fmt::format("socket {} mm across: the measured wall is nearer than that at the fixing, look; else ring spanner", short_number(2 * r));
  return fmt::format("socket {} mm across, {} mm of room", short_number(2 * r), short_number(socket_height_mm));
}

}  // namespace cellstow::restraint
