#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "construct.hpp"
#include "rectangle_pan.hpp"

namespace cellstow::fabrication {
namespace {

constexpr double deeper_mm = 0.1;

/// From the floor's outside to where the walls' last bend or edge is.
double wall_leg(const Shape& shape, const Mouth& mouth) {
  const double height = mouth.walls_top - shape.z_bottom;
  return mouth.folded_flange ? height - shape.bend.setback_mm() : height;
}

std::vector<double> measured_back(std::vector<double> from_corner, double length) {
  for (double& along : from_corner) along = length - along;
  std::reverse(from_corner.begin(), from_corner.end());
  return from_corner;
}

std::vector<FlatHole> floor_holes(const Openings& openings, FlatPoint from) {
  if (!openings.drain) return {};
  return {round_hole({openings.drain->a - from.a, openings.drain->b - from.b}, openings::drain_mm, "drain")};
}

void weld_mitres(const Shape& shape, const Mouth& mouth, SheetPart& part) {
  if (!mouth.folded_flange) return;
  part.welds.push_back({"mitres of the mouth flange and the gaps at its corners, closed from above and dressed flat",
                        shape.flange * std::numbers::sqrt2, 4});
}

}  // namespace

void add_pan(const Shape& shape, const Mouth& mouth, const Openings& openings, SheetWork& work) {
  SheetPart part = new_part(shape, "PAN", "floor and walls, folded pan", PartKind::pan, shape.wall);
  part.arrow = Arrow::front;
  const double set_in = shape.bend.setback_mm();
  const FlatPoint corner = shape.sides[0].from, middle{corner.a + set_in, corner.b + set_in};
  RectanglePan pan;
  pan.width = shape.sides[0].length;
  pan.depth = shape.sides[1].length;
  pan.leg = wall_leg(shape, mouth);
  pan.holes = floor_holes(openings, middle);
  for (const Side& side : shape.sides) pan.names.push_back(side_name(side));
  pan.edge_holes = [&](std::size_t side, const RectanglePan::At& at) {
    return holes_of_side(openings, side, [&](double along, double z) { return at(along, z - shape.z_bottom - set_in); });
  };
  if (mouth.folded_flange) {
    pan.crown = [&](std::size_t side, double length, double set_back) -> std::optional<Face> {
      const double whole = shape.sides[side].length;
      std::vector<double> screws = measured_back(flange_screws(shape, side, mouth), whole - set_back);
      return flange_face(shape, mouth, length, set_back, screws);
    };
  }
  fold_up(pan_face(pan, shape.bend), lying(middle, shape.floor_top), shape.bend, part);
  part.welds.push_back({"corner seam with the small opening at its foot, from outside", pan.leg, 4});
  weld_mitres(shape, mouth, part);
  work.parts.push_back(std::move(part));
}

namespace {

/// The wrap's middle lies along its longer sides: side 0 or side 1 of the rectangle.
struct WrapSides {
  std::size_t first_wall = 0;                ///< the other wall is two on
  double length = 0, breadth = 0;
};

WrapSides wrap_sides(const Shape& shape) {
  const std::size_t first = shape.sides[0].length >= shape.sides[1].length ? 0 : 1;
  return {first, shape.sides[first].length, shape.sides[first + 1].length};
}

std::vector<Step> steps(const std::vector<double>& centres, double length, double out) {
  std::vector<Step> made;
  for (const double centre : centres) made.push_back({centre, length, out});
  return made;
}

std::vector<Step> notches(const Shape& shape, const std::vector<double>& centres) {
  return steps(centres, shop::tab_length_mm + 2 * shop::tab_play_mm, -shape.wall - deeper_mm);
}

/// Where the ends' tabs sit: heights above the floor's top, and distances across from the middle face's edge.
std::vector<double> heights(const Shape& shape, const Mouth& mouth) {
  const double high = wall_leg(shape, mouth) - shape.bend.setback_mm();
  std::vector<double> up = tab_centres(high, shape.wall + 10);
  for (double& z : up) z += shape.bend.inside_radius_mm;
  return up;
}

std::vector<double> across(const Shape& shape, double breadth) { return tab_centres(breadth - 2 * shape.bend.setback_mm(), 10); }

/// A long wall: notched at both ends for the ends' tabs.
Fold long_wall(const Shape& shape, const Mouth& mouth, const Openings& openings, std::size_t index, double length) {
  const double set_in = shape.bend.setback_mm(), high = wall_leg(shape, mouth) - set_in;
  std::vector<double> up = heights(shape, mouth);
  for (double& z : up) z -= shape.bend.inside_radius_mm;
  Fold fold;
  fold.what = side_name(shape.sides[index]);
  Path& path = fold.face.outline;
  add_edge(path, {0, 0}, {length, 0}, {});
  add_edge(path, {length, 0}, {length, high}, notches(shape, up));
  const std::size_t top = path.size();
  add_edge(path, {length, high}, {0, high}, {});
  add_edge(path, {0, high}, {0, 0}, notches(shape, measured_back(up, high)));
  fold.face.holes = holes_of_side(openings, index, [&](double along, double z) {
    return FlatPoint{length - along, z - shape.z_bottom - set_in};
  });
  if (mouth.folded_flange) {
    const auto screws = measured_back(flange_screws(shape, index, mouth), length);
    fold.face.folds.push_back({top, 90, false, "mouth flange", flange_face(shape, mouth, length, 0, screws)});
  }
  return fold;
}

SheetPart wrap_part(const Shape& shape, const Mouth& mouth, const Openings& openings, const WrapSides& sides) {
  SheetPart part = new_part(shape, "WRAP", "floor and long walls, folded wrap", PartKind::wrap, shape.wall);
  part.arrow = Arrow::front;
  const double set_in = shape.bend.setback_mm(), flat = sides.breadth - 2 * set_in;
  const Side& wall = shape.sides[sides.first_wall];
  const std::vector<double> feet = across(shape, sides.breadth);
  Face face;
  add_edge(face.outline, {0, 0}, {sides.length, 0}, {});
  add_edge(face.outline, {sides.length, 0}, {sides.length, flat}, notches(shape, feet));
  const std::size_t back = face.outline.size();
  add_edge(face.outline, {sides.length, flat}, {0, flat}, {});
  add_edge(face.outline, {0, flat}, {0, 0}, notches(shape, measured_back(feet, flat)));
  face.folds.push_back(long_wall(shape, mouth, openings, sides.first_wall, sides.length));
  face.folds.push_back(long_wall(shape, mouth, openings, sides.first_wall + 2, sides.length));
  face.folds[1].edge = back;
  const Placement at{{wall.from.a + set_in * wall.inward.a, wall.from.b + set_in * wall.inward.b, shape.floor_top},
                     {wall.along.a, wall.along.b, 0}, {wall.inward.a, wall.inward.b, 0}, {0, 0, 1}};
  if (openings.drain) {
    const double u = openings.drain->a - at.origin[0], v = openings.drain->b - at.origin[1];
    face.holes.push_back(round_hole({u * wall.along.a + v * wall.along.b, u * wall.inward.a + v * wall.inward.b}, openings::drain_mm, "drain"));
  }
  fold_up(face, at, shape.bend, part);
  weld_mitres(shape, mouth, part);
  return part;
}

/// An end stands between the long walls, its outer face level with their ends; its lower corners follow the bends.
SheetPart end_part(const Shape& shape, const Mouth& mouth, const Openings& openings, std::size_t index, double breadth) {
  const Side& side = shape.sides[index];
  const double set_back = shape.wall + shop::weld_gap_mm, width = breadth - 2 * set_back;
  const double round = shape.bend.inside_radius_mm - shop::weld_gap_mm, quarter = std::tan(std::numbers::pi / 8);
  const double high = wall_leg(shape, mouth) - shape.wall;
  const std::vector<double> feet = across(shape, breadth), up = heights(shape, mouth);
  Face face;
  add_edge(face.outline, {round, 0}, {width - round, 0}, steps(feet, shop::tab_length_mm, shape.wall));
  face.outline.push_back({width - round, 0, quarter});
  std::vector<double> above = up;
  for (double& z : above) z -= round;
  add_edge(face.outline, {width, round}, {width, high}, steps(above, shop::tab_length_mm, shape.wall + shop::weld_gap_mm));
  const std::size_t top = face.outline.size();
  add_edge(face.outline, {width, high}, {0, high}, {});
  add_edge(face.outline, {0, high}, {0, round}, steps(measured_back(up, high), shop::tab_length_mm, shape.wall + shop::weld_gap_mm));
  face.outline.push_back({0, round, quarter});
  face.holes = holes_of_side(openings, index, [&](double along, double z) { return FlatPoint{along - set_back, z - shape.floor_top}; });
  if (mouth.folded_flange) {
    std::vector<double> screws;
    for (const double along : flange_screws(shape, index, mouth)) screws.push_back(along - set_back);
    face.folds.push_back({top, 90, true, "mouth flange", flange_face(shape, mouth, width, set_back, screws)});
  }
  SheetPart part = new_part(shape, side_mark(side), side_name(side) + ", end", PartKind::end, shape.wall);
  part.arrow = Arrow::up;
  fold_up(face, standing(side, set_back, shape.floor_top), shape.bend, part);
  part.welds.push_back({"end to floor and long walls, three sides, from outside", breadth + 2 * high, 1});
  return part;
}

}  // namespace

void add_wrap(const Shape& shape, const Mouth& mouth, const Openings& openings, SheetWork& work) {
  const WrapSides sides = wrap_sides(shape);
  work.parts.push_back(wrap_part(shape, mouth, openings, sides));
  for (const std::size_t end : {sides.first_wall + 1, (sides.first_wall + 3) % 4}) {
    work.parts.push_back(end_part(shape, mouth, openings, end, sides.breadth));
  }
  work.notes.push_back("the ends' tabs sit in notches of the wrap and set them level with its edges; weld from outside");
}

}  // namespace cellstow::fabrication
