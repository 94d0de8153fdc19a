#include "joins.hpp"

#include <algorithm>
#include <cmath>

namespace cellstow::wiring {
namespace {

using packing::BoxLayout;
using packing::Cuboid;
using packing::PlacedCell;
using packing::Run;

constexpr double same_plane_mm = 1.0;  ///< step that a flexible link takes up (our choice)

/// The plane of a face with posts: two axes in it, one square to it.
struct Face {
  Facing facing = Facing::up;
  Run runs = Run::u;
};

struct Flat { double a = 0, b = 0, off = 0; };

Flat flat(const Face& face, const Spot& at) {
  if (face.facing == Facing::up) return {at.u, at.v, at.z};
  if (face.runs == Run::u) return {at.u, at.z, at.v};
  return {at.v, at.z, at.u};
}

bool same_face(const SetCell& from, const SetCell& to, const Spot& a, const Spot& b) {
  if (from.setting.facing != to.setting.facing) return false;
  if (from.setting.facing != Facing::up && from.runs != to.runs) return false;
  const Face face{from.setting.facing, from.runs};
  return std::abs(flat(face, a).off - flat(face, b).off) <= same_plane_mm;
}

/// Whether the segment meets the inside of a rectangle (clipping by slabs).
bool crosses(const Flat& from, const Flat& to, const Flat& low, const Flat& high) {
  double enter = 0, leave = 1;
  const auto clip = [&](double start, double step, double least, double most) {
    if (step == 0) return start > least && start < most;
    double in = (least - start) / step, out = (most - start) / step;
    if (in > out) std::swap(in, out);
    enter = std::max(enter, in);
    leave = std::min(leave, out);
    return enter < leave;
  };
  return clip(from.a, to.a - from.a, low.a, high.a) && clip(from.b, to.b - from.b, low.b, high.b);
}

bool over_third_cell(const BoxLayout& layout, const Face& face, const SetCell& from, const SetCell& to, const Spot& a, const Spot& b) {
  const Flat start = flat(face, a), end = flat(face, b);
  for (std::size_t i = 0; i < layout.cells.size(); ++i) {
    if (static_cast<int>(i) == from.cell || static_cast<int>(i) == to.cell) continue;
    const Cuboid& body = layout.cells[i].body;
    const Flat low = flat(face, {body.low.x.mm(), body.low.y.mm(), body.low.z.mm()});
    const Flat high = flat(face, {body.high.x.mm(), body.high.y.mm(), body.high.z.mm()});
    if (high.off < start.off - same_plane_mm || low.off > start.off + same_plane_mm) continue;  // another tier, another row
    if (crosses(start, end, low, high)) return true;
  }
  return false;
}

}  // namespace

Joint joint_between(const BoxLayout& layout, core::Length offset, const SetCell& from, Pole from_pole, const SetCell& to, Pole to_pole) {
  const Spot a = post_of(layout.cells[static_cast<std::size_t>(from.cell)], from.runs, from.setting, from_pole, offset);
  const Spot b = post_of(layout.cells[static_cast<std::size_t>(to.cell)], to.runs, to.setting, to_pole, offset);
  Joint joint{Join::jumper, distance_um(a, b)};
  const bool near = joint.length_um <= std::llround(longest_link_mm * 1000);
  if (near && same_face(from, to, a, b) && !over_third_cell(layout, {from.setting.facing, from.runs}, from, to, a, b)) {
    joint.join = Join::link;
    const auto passes = [&](const SetCell& cell, Pole pole) {
      const Pole other = pole == Pole::plus ? Pole::minus : Pole::plus;
      return distance_from_line(a, b, post_of(layout.cells[static_cast<std::size_t>(cell.cell)], cell.runs, cell.setting, other, offset)) <
             beside_post_mm;
    };
    joint.passes = (passes(from, from_pole) ? 1 : 0) + (passes(to, to_pole) ? 1 : 0);
  }
  return joint;
}

double distance_from_line(const Spot& from, const Spot& to, const Spot& p) {
  const double du = to.u - from.u, dv = to.v - from.v, dz = to.z - from.z;
  const double square = du * du + dv * dv + dz * dz;
  double along = square > 0 ? ((p.u - from.u) * du + (p.v - from.v) * dv + (p.z - from.z) * dz) / square : 0;
  along = std::clamp(along, 0.0, 1.0);
  const double u = p.u - from.u - along * du, v = p.v - from.v - along * dv, z = p.z - from.z - along * dz;
  return std::sqrt(u * u + v * v + z * z);
}

}  // namespace cellstow::wiring
