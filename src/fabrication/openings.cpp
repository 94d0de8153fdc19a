#include "openings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace cellstow::fabrication {
namespace {

constexpr double on_grid_mm = 0.002;

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

/// Rim to rim at least the larger hole's diameter.
bool clear_of(const std::vector<WallOpening>& others, std::size_t side, double along, double z) {
  return std::all_of(others.begin(), others.end(), [&](const WallOpening& other) {
    const double apart = std::hypot(other.along - along, other.z - z);
    return other.side != side || apart >= (other.diameter + openings::breather_mm) / 2 + std::max(other.diameter, openings::breather_mm);
  });
}

/// One diameter of sheet over it, so that its nut lies above the cells; nothing where the wall is too small.
std::optional<WallOpening> breather_place(const Shape& shape, std::size_t side, double top, const std::vector<WallOpening>& glands) {
  using namespace openings;
  constexpr double from_corner = (clear_diameters + 0.5) * breather_mm, step_mm = 5;
  const double z = top - 1.5 * breather_mm, length = shape.sides[side].length;
  if (z - from_corner < shape.floor_top) return std::nullopt;
  for (double along = from_corner; along <= length - from_corner; along += step_mm) {
    if (clear_of(glands, side, along, z)) return WallOpening{side, along, z, breather_mm, "breather"};
  }
  return std::nullopt;
}

void add_glands(const Shape& shape, double top, const std::vector<CableHole>& cables, Openings& found) {
  for (const CableHole& hole : cables) {
    const Side& side = shape.sides.at(hole.side);
    found.in_walls.push_back({hole.side, hole.along_mm, hole.z_mm, hole.diameter_mm, hole.what});
    const double over = top - (hole.z_mm + hole.diameter_mm / 2);
    found.checks.push_back(core::check_at_least("sheet over a gland's hole", shape.mark + ", " + side_name(side) + ", " + hole.what, over, shape.wall, "mm",
                                                "rim to the wall's upper edge or fold, one thickness; common practice, no source",
                                                fmt::format("{:.1f} mm more \"headroom_mm\"", 2 * (shape.wall - over))));
  }
  if (cables.empty()) found.notes.push_back("no holes drawn for cable glands: the links list says why, or where they come; never through the lid");
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

Openings find_openings(const Shape& shape, const packing::BoxLayout& layout, double top, const std::vector<CableHole>& cables) {
  Openings found;
  add_drain(shape, found);
  add_glands(shape, top, cables, found);
  std::size_t longest = 0;
  for (std::size_t i = 1; i < shape.sides.size(); ++i) {
    if (shape.sides[i].length > shape.sides[longest].length) longest = i;
  }
  if (const auto breather = breather_place(shape, longest, top, found.in_walls)) {
    found.in_walls.push_back(*breather);
  } else {
    found.notes.push_back("no hole drawn for the breather: the longest wall has no room for it");
  }
  note_room_behind(shape, layout, found);
  return found;
}

}  // namespace cellstow::fabrication
