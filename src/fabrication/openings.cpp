#include "openings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace cellstow::fabrication {
namespace {

constexpr double on_grid_mm = 0.002;

double distance_to(FlatPoint p, const Side& side) {
  const double pa = p.a - side.from.a, pb = p.b - side.from.b;
  const double t = std::clamp(pa * side.along.a + pb * side.along.b, 0.0, side.length);
  return std::hypot(pa - t * side.along.a, pb - t * side.along.b);
}

/// Near the body's first corner, which is the lowest and so an outside one.
std::optional<FlatPoint> drain_place(const Shape& shape) {
  const Side &first = shape.sides.front(), &last = shape.sides.back();
  // Away from the corner along both sides.
  const FlatPoint p = first.along, q{-last.along.a, -last.along.b};
  const double sine = p.a * q.b - p.b * q.a;
  const double from_edges = shape.wall + (openings::clear_diameters + 0.5) * openings::drain_mm;
  const double k = from_edges / sine;
  const FlatPoint place{first.from.a + k * (p.a + q.a), first.from.b + k * (p.b + q.b)};
  for (const Side& side : shape.sides) {
    if (distance_to(place, side) < from_edges - on_grid_mm) return std::nullopt;
  }
  return place;
}

void add_drain(const Shape& shape, Openings& found) {
  found.drain = drain_place(shape);
  found.notes.push_back(found.drain
                            ? "drain hole: cut the liner there too, and move the hole to the lowest point of the box as it sits in "
                              "the parked car"
                            : "no drain hole drawn: the floor is too narrow at its front left corner");
}

/// Centres of glands and breather along a wall of the given size; empty when it is too small.
std::vector<WallOpening> high_holes(std::size_t side, double length, double foot, double top) {
  using namespace openings;
  constexpr double gland_edge = (clear_diameters + 0.5) * gland_mm;
  constexpr double breather_edge = (clear_diameters + 0.5) * breather_mm;
  constexpr double second = gland_edge + (clear_diameters + 1) * gland_mm;
  constexpr double third = second + (clear_diameters + 0.5) * gland_mm + breather_mm / 2;
  if (length < third + breather_edge || top - foot < 2 * gland_edge) return {};
  return {{side, gland_edge, top - gland_edge, gland_mm, "cable gland 1"},
          {side, second, top - gland_edge, gland_mm, "cable gland 2"},
          {side, third, top - breather_edge, breather_mm, "breather"}};
}

/// Distance from the wall's inner face to the body across the hole, or nothing when the hole does not look at it.
/// For sides along u or v only.
std::optional<double> depth_to(const packing::Cuboid& body, const Side& side, const WallOpening& hole, double wall) {
  const double r = hole.diameter / 2;
  const FlatPoint low{body.low.x.mm(), body.low.y.mm()}, high{body.high.x.mm(), body.high.y.mm()};
  const auto along = [&](FlatPoint p) { return (p.a - side.from.a) * side.along.a + (p.b - side.from.b) * side.along.b; };
  const auto in = [&](FlatPoint p) { return (p.a - side.from.a) * side.inward.a + (p.b - side.from.b) * side.inward.b - wall; };
  const auto [first, last] = std::minmax({along(low), along(high)});
  if (hole.along + r <= first || hole.along - r >= last) return std::nullopt;
  if (hole.z + r <= body.low.z.mm() || hole.z - r >= body.high.z.mm()) return std::nullopt;
  const double depth = std::min(in(low), in(high));
  return depth < 0 ? std::nullopt : std::optional(depth);
}

void note_room_behind(const Shape& shape, const packing::BoxLayout& layout, Openings& found) {
  for (const WallOpening& hole : found.in_walls) {
    const Side& side = shape.sides[hole.side];
    if (side.from.a != side.to.a && side.from.b != side.to.b) continue;
    double room = openings::room_inside_mm;
    const auto look_at = [&](const packing::Cuboid& body) {
      room = std::min(room, depth_to(body, side, hole, shape.wall).value_or(room));
    };
    for (const packing::Block& block : layout.blocks) look_at(block.body);
    for (const packing::PlacedFitting& fitting : layout.fittings) look_at(fitting.body);
    if (room >= openings::room_inside_mm) continue;
    found.notes.push_back(fmt::format("{}, {}: {:.1f} mm free behind it, {:.0f} wanted for its nut and the cable", side_name(side),
                                      hole.what, room, openings::room_inside_mm));
  }
}

}  // namespace

Openings find_openings(const Shape& shape, const packing::BoxLayout& layout, double top) {
  Openings found;
  add_drain(shape, found);
  std::size_t longest = 0;
  for (std::size_t i = 1; i < shape.sides.size(); ++i) {
    if (shape.sides[i].length > shape.sides[longest].length) longest = i;
  }
  found.in_walls = high_holes(longest, shape.sides[longest].length, shape.floor_top, top);
  if (found.in_walls.empty()) found.notes.push_back("no holes drawn for cable glands and breather: no wall is long and high enough");
  note_room_behind(shape, layout, found);
  found.notes.push_back("holes may be moved before cutting; glands and breather never through the lid");
  return found;
}

}  // namespace cellstow::fabrication
