#include "cellstow/fabrication/bracket_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cellstow/fabrication/bend.hpp"
#include "etch.hpp"
#include "folding.hpp"

namespace cellstow::fabrication {
namespace {

/// Corners of gussets cut off, for the weld and the finger. Common practice, no source.
constexpr double toe_mm = 5;
/// A doubler stands out beyond the leg by this on every side but the mouth's. As in the strength sums.
constexpr double doubler_side_mm = 40, doubler_end_mm = 20;

Space sum(const Space& p, double k, const Space& q) { return {p[0] + k * q[0], p[1] + k * q[1], p[2] + k * q[2]}; }

/// The bracket's own axes in the frame of the box: d out from the wall's face, p along the bolt, q along the fold.
struct Axes {
  Space origin{};            ///< on the wall's face, at p = 0, q = 0
  Space d{}, p{}, q{};
  double foot_at = 0;        ///< p of the foot's outer face
  double side = 1;           ///< the leg runs this way along p
  double q_low = 0, q_high = 0;
  bool level_fold = true;
};

core::InPlan in_box(core::Heading heading, const core::Point2& at) { return core::to_box(heading, core::InPlan{at.a.mm(), at.b.mm()}); }

const restraint::BracketPiece* piece_of(const restraint::Bracket& bracket, const char* name) {
  for (const restraint::BracketPiece& piece : bracket.pieces)
    if (piece.name == name) return &piece;
  return nullptr;
}

/// Read back from the leg as it stands in the car: its corners run from the wall outward, then along the wall.
Axes axes_of(const restraint::Bracket& bracket, core::Heading heading) {
  const restraint::BracketPiece &leg = *piece_of(bracket, "leg"), &foot = *piece_of(bracket, "foot");
  const core::InPlan o = in_box(heading, leg.outline[0]), out = in_box(heading, leg.outline[1]), on = in_box(heading, leg.outline[3]);
  const double deep = std::hypot(out.a - o.a, out.b - o.b), wide = std::hypot(on.a - o.a, on.b - o.b);
  Axes axes;
  axes.level_fold = bracket.fold == "level";
  axes.d = {(out.a - o.a) / deep, (out.b - o.b) / deep, 0};
  const Space along{(on.a - o.a) / wide, (on.b - o.b) / wide, 0}, up{0, 0, 1};
  axes.origin = {o.a, o.b, 0};
  axes.p = axes.level_fold ? up : along;
  axes.q = axes.level_fold ? along : up;
  const core::InPlan f = in_box(heading, foot.outline[0]), g = in_box(heading, foot.outline[3]);
  const auto s = [&](const core::InPlan& at) { return (at.a - o.a) * along[0] + (at.b - o.b) * along[1]; };
  const double leg_p[2] = {axes.level_fold ? leg.low.mm() : 0, axes.level_fold ? leg.high.mm() : wide};
  const double foot_p[2] = {axes.level_fold ? foot.low.mm() : s(f), axes.level_fold ? foot.high.mm() : s(g)};
  axes.side = foot_p[0] + foot_p[1] < leg_p[0] + leg_p[1] ? 1 : -1;
  axes.foot_at = axes.side > 0 ? leg_p[0] : leg_p[1];
  axes.q_low = axes.level_fold ? 0 : leg.low.mm();
  axes.q_high = axes.level_fold ? wide : leg.high.mm();
  return axes;
}

Space place(const Axes& axes, double d, double p, double q) { return sum(sum(sum(axes.origin, d, axes.d), p, axes.p), q, axes.q); }

SheetPart new_part(const restraint::Bracket& bracket, const std::string& end, const std::string& name, double thickness, const std::string& revision) {
  SheetPart part;
  part.mark = bracket.mark + end;
  part.revision = revision;
  part.name = name;
  part.kind = PartKind::plate;
  part.material = bracket.material;
  part.thickness = thickness;
  return part;
}

void weigh(SheetPart& part, const survey::Rules& rules) {
  double mm3 = 0;
  if (!part.folded.empty()) mm3 = volume_mm3(part.folded.front());
  part.mass = core::Kg::of(mm3 * 1e-9 * rules.materials.wall.density_kg_per_m3);
}

FlatHole bolt_hole(const restraint::Bracket& bracket, FlatPoint at) {
  FlatHole hole = round_hole(at, bracket.hole.mm(), "bolt to " + bracket.fixing);
  if (bracket.slot == bracket.hole) return hole;
  hole.kind = HoleKind::slot;
  hole.length = bracket.slot.mm();
  hole.angle_deg = bracket.slot_out ? 90 : 0;
  return hole;
}

/// Foot as seen from the leg's drawn face: (0, 0) to (w, 0) is the bend; wider on one side from clear of the bend on.
Face foot_face(const restraint::Bracket& bracket, const BendRule& bend, bool wider_at_low_a, FlatPoint hole) {
  const double w = bracket.width.mm(), depth = bracket.foot.mm() - bend.thickness_mm - bend.inside_radius_mm, more = bracket.foot_beyond.mm(), clear = bend.thickness_mm;
  Face face;
  if (more <= 0 || depth <= clear) {
    face.outline = rectangle(w, depth);
  } else if (wider_at_low_a) {
    face.outline = {{0, 0, 0}, {w, 0, 0}, {w, depth, 0}, {-more, depth, 0}, {-more, clear, 0}, {0, clear, 0}};
  } else {
    face.outline = {{0, 0, 0}, {w, 0, 0}, {w, clear, 0}, {w + more, clear, 0}, {w + more, depth, 0}, {0, depth, 0}};
  }
  face.holes = {bolt_hole(bracket, hole)};
  return face;
}

SheetPart folded_plate(const restraint::Bracket& bracket, const Axes& axes, const survey::Rules& rules, const std::string& revision) {
  const double t = bracket.thickness.mm(), w = bracket.width.mm();
  const BendRule bend = bend_rule(rules.materials.wall, t, rules);
  const double tangent = t + bend.inside_radius_mm;
  SheetPart part = new_part(bracket, "", "bracket to " + bracket.fixing, t, revision);
  // The leg's b runs away from the foot, its normal out from the wall; a = b x normal runs along q, or against it.
  const double sign = axes.level_fold ? axes.side : -axes.side;
  Placement at;
  at.a_axis = sum({0, 0, 0}, sign, axes.q);
  at.b_axis = sum({0, 0, 0}, axes.side, axes.p);
  at.normal = axes.d;
  at.origin = place(axes, bracket.doubler.mm() + t, axes.foot_at + axes.side * tangent, sign > 0 ? axes.q_low : axes.q_high);
  const double beside = (bracket.beyond_is_right ? 1 : -1) * sign * bracket.hole_beside.mm();   // along the leg's a, from its middle
  const FlatPoint hole{w - (w / 2 + beside), bracket.hole_out.mm() - tangent};
  Face leg{rectangle(w, std::max(bracket.leg.mm() - tangent, 1.0)), {}, {}};
  leg.folds.push_back({0, 90, true, "foot", foot_face(bracket, bend, beside > 0, hole)});
  fold_up(leg, at, bend, part);
  weigh(part, rules);
  part.welds = {{"leg to the wall, both long sides" + std::string(bracket.doubler > core::Length{} ? ", through the doubler" : ""), bracket.leg.mm(), 2}};
  part.notes = {fmt::format("outside lengths: foot {:.1f}, leg {:.1f} mm; to wall {}", bracket.foot.mm(), bracket.leg.mm(), bracket.wall)};
  etch(part);
  return part;
}

SheetPart gussets(const restraint::Bracket& bracket, const Axes& axes, const survey::Rules& rules, const std::string& revision) {
  const double t = bracket.thickness.mm(), out = bracket.gusset_out.mm(), up = bracket.gusset_up.mm();
  const double clear = bend_rule(rules.materials.wall, t, rules).inside_radius_mm + 2;
  const Path outline = {{clear, 0, 0}, {out, 0, 0}, {out, toe_mm, 0}, {toe_mm, up, 0}, {0, up, 0}, {0, clear, 0}};
  SheetPart part = new_part(bracket, "-G", "gusset, bracket to " + bracket.fixing, t, revision);
  const Space b_axis = sum({0, 0, 0}, axes.side, axes.p);
  const Space normal{axes.d[1] * b_axis[2] - axes.d[2] * b_axis[1], axes.d[2] * b_axis[0] - axes.d[0] * b_axis[2], axes.d[0] * b_axis[1] - axes.d[1] * b_axis[0]};
  const bool along_q = normal[0] * axes.q[0] + normal[1] * axes.q[1] + normal[2] * axes.q[2] > 0;
  for (const double low : {axes.q_low, axes.q_high - t}) {
    const Placement at{place(axes, bracket.doubler.mm() + t, axes.foot_at + axes.side * t, along_q ? low + t : low), axes.d, b_axis, normal};
    if (part.folded.empty()) {
      fold_up({outline, {}, {}}, at, {0, t, 0, ""}, part);
    } else {
      part.folded.push_back({{PlateSolid{at, outline, {}, t}}, {}});
    }
  }
  part.quantity = 2;
  part.welds = {{"to foot and leg, both sides", out + up, 2}};
  weigh(part, rules);
  etch(part);
  return part;
}

SheetPart doubler(const restraint::Bracket& bracket, const Axes& axes, const survey::Rules& rules, const std::string& revision) {
  const double t = bracket.doubler.mm(), w = bracket.width.mm() + 2 * doubler_side_mm, h = bracket.leg.mm() + doubler_end_mm;
  SheetPart part = new_part(bracket, "-D", "doubler, bracket to " + bracket.fixing, t, revision);
  const double sign = axes.level_fold ? axes.side : -axes.side;
  const Placement at{place(axes, t, axes.foot_at, sign > 0 ? axes.q_low - doubler_side_mm : axes.q_high + doubler_side_mm), sum({0, 0, 0}, sign, axes.q),
                     sum({0, 0, 0}, axes.side, axes.p), axes.d};
  fold_up({rectangle(w, h), {}, {}}, at, {0, t, 0, ""}, part);
  part.welds = {{"to the wall, all round", 2 * (w + h), 1}};
  part.notes = {"trim to the wall: no doubler stands out beyond it"};
  weigh(part, rules);
  etch(part);
  return part;
}

}  // namespace

std::vector<SheetPart> bracket_parts(const restraint::Mounting& mounting, core::Heading heading, const survey::Rules& rules, const std::string& revision) {
  std::vector<SheetPart> out;
  for (const restraint::Bracket& bracket : mounting.brackets) {
    if (piece_of(bracket, "leg") == nullptr || piece_of(bracket, "foot") == nullptr) continue;
    const Axes axes = axes_of(bracket, heading);
    out.push_back(folded_plate(bracket, axes, rules, revision));
    if (bracket.gussets) out.push_back(gussets(bracket, axes, rules, revision));
    if (bracket.doubler > core::Length{}) out.push_back(doubler(bracket, axes, rules, revision));
  }
  return out;
}

}  // namespace cellstow::fabrication
