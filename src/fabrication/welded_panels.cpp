#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "construct.hpp"

namespace cellstow::fabrication {
namespace {

/// A notch is a little deeper than its tab is thick, so that the tab never holds the joint open.
constexpr double deeper_mm = 0.1;

struct Wall {
  std::size_t side = 0;
  double start = 0, length = 0;              ///< from the side's corner
  bool square_start = false, square_end = false;
};

bool square_corner(const Side& arriving, const Side& leaving) {
  return std::abs(arriving.along.a * leaving.along.a + arriving.along.b * leaving.along.b) < 1e-12;
}

std::vector<Wall> walls_of(const Shape& shape) {
  std::vector<Wall> walls;
  const std::size_t n = shape.sides.size();
  for (const box::WallRun& run : box::wall_runs(shape.body, shape.rules->wall)) {
    const Side& side = shape.sides[run.edge];
    const FlatPoint foot{run.footprint[0].a.mm(), run.footprint[0].b.mm()};
    const double start = (foot.a - side.from.a) * side.along.a + (foot.b - side.from.b) * side.along.b;
    walls.push_back({run.edge, start, run.length.mm(), square_corner(shape.sides[(run.edge + n - 1) % n], side),
                     square_corner(side, shape.sides[(run.edge + 1) % n])});
  }
  return walls;
}

std::vector<double> foot_tabs(const Shape& shape, const Wall& wall) { return tab_centres(wall.length, shape.wall + 10); }
std::vector<double> corner_tabs(const Shape& shape, double height) { return tab_centres(height, shape.floor + 15); }

std::vector<Step> tabs(const std::vector<double>& centres, double out) {
  std::vector<Step> steps;
  for (const double centre : centres) steps.push_back({centre, shop::tab_length_mm, out});
  return steps;
}

std::vector<Step> notches(const std::vector<double>& centres, double depth) {
  std::vector<Step> steps;
  for (const double centre : centres) steps.push_back({centre, shop::tab_length_mm + 2 * shop::tab_play_mm, -depth - deeper_mm});
  return steps;
}

/// For an edge that runs downwards: the same places, from its start.
std::vector<double> from_top(std::vector<double> centres, double height) {
  for (double& centre : centres) centre = height - centre;
  std::reverse(centres.begin(), centres.end());
  return centres;
}

Path wall_outline(const Shape& shape, const Wall& wall, double height) {
  const std::vector<double> up = corner_tabs(shape, height);
  Path path;
  add_edge(path, {0, 0}, {wall.length, 0}, tabs(foot_tabs(shape, wall), shape.floor));
  add_edge(path, {wall.length, 0}, {wall.length, height}, wall.square_end ? notches(up, shape.wall) : std::vector<Step>{});
  add_edge(path, {wall.length, height}, {0, height}, {});
  add_edge(path, {0, height}, {0, 0}, wall.square_start ? tabs(from_top(up, height), shape.wall) : std::vector<Step>{});
  return path;
}

SheetPart floor_part(const Shape& shape, const std::vector<Wall>& walls, const Openings& openings) {
  SheetPart floor = new_part(shape, "FLOOR", "floor", PartKind::floor, shape.floor);
  floor.arrow = Arrow::front;
  FlatPoint low = shape.sides.front().from;
  for (const Side& side : shape.sides) low = {std::min(low.a, side.from.a), std::min(low.b, side.from.b)};
  Path path;
  for (std::size_t i = 0; i < shape.sides.size(); ++i) {
    std::vector<double> centres;
    for (const Wall& wall : walls) {
      if (wall.side != i) continue;
      for (const double centre : foot_tabs(shape, wall)) centres.push_back(wall.start + centre);
    }
    const Side& side = shape.sides[i];
    add_edge(path, {side.from.a - low.a, side.from.b - low.b}, {side.to.a - low.a, side.to.b - low.b}, notches(centres, shape.wall));
  }
  std::vector<FlatHole> holes;
  if (openings.drain) holes.push_back(round_hole({openings.drain->a - low.a, openings.drain->b - low.b}, openings::drain_mm, "drain"));
  lay_flat(path, holes, lying(low, shape.floor_top), floor);
  floor.welds.push_back({"floor to the walls, from outside underneath, closed all round", shape.perimeter(), 1});
  return floor;
}

SheetPart wall_part(const Shape& shape, const Wall& wall, double height, const Openings& openings) {
  const Side& side = shape.sides[wall.side];
  SheetPart part = new_part(shape, side_mark(side), side_name(side), PartKind::wall, shape.wall);
  part.arrow = Arrow::up;
  const auto holes = holes_of_side(openings, wall.side, [&](double along, double z) {
    return FlatPoint{along - wall.start, z - shape.floor_top};
  });
  lay_flat(wall_outline(shape, wall, height), holes, standing(side, wall.start, shape.floor_top), part);
  part.welds.push_back({wall.square_end ? "corner seam at its right end, seen from outside, from outside"
                                        : "open corner at its right end, seen from outside, filled from outside",
                        height, 1});
  return part;
}

}  // namespace

void add_welded_panels(const Shape& shape, const Mouth& mouth, const Openings& openings, SheetWork& work) {
  const std::vector<Wall> walls = walls_of(shape);
  const double height = mouth.walls_top - shape.floor_top;
  work.parts.push_back(floor_part(shape, walls, openings));
  for (const Wall& wall : walls) work.parts.push_back(wall_part(shape, wall, height, openings));
  work.notes.push_back(
      "walls stand on the floor plate; at each square corner, going round counter-clockwise from above, the wall that arrives runs "
      "through and the next butts against it; tabs of one part sit in notches of the other and set it in its place; no allowance for "
      "weld shrinkage, so tack, try the cells, then weld in short runs");
  const bool short_wall = std::any_of(walls.begin(), walls.end(), [&](const Wall& wall) { return foot_tabs(shape, wall).empty(); });
  if (short_wall) work.notes.push_back("a wall too short for tabs has none: set it by its neighbours");
}

}  // namespace cellstow::fabrication
