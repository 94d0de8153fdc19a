#include "shape.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "folding.hpp"

namespace cellstow::fabrication {
namespace {

using core::Point2;

box::Face face_of(FlatPoint along) {
  const double out_u = along.b, out_v = -along.a;
  if (std::abs(out_u) >= std::abs(out_v)) return out_u < 0 ? box::Face::front : box::Face::rear;
  return out_v < 0 ? box::Face::left : box::Face::right;
}

std::vector<Side> sides_of(const std::vector<Point2>& body) {
  std::vector<Side> sides;
  std::map<box::Face, int> count;
  for (std::size_t i = 0; i < body.size(); ++i) {
    const Point2 &p = body[i], &q = body[(i + 1) % body.size()];
    Side side;
    side.from = {p.a.mm(), p.b.mm()};
    side.to = {q.a.mm(), q.b.mm()};
    side.length = std::hypot(side.to.a - side.from.a, side.to.b - side.from.b);
    side.along = {(side.to.a - side.from.a) / side.length, (side.to.b - side.from.b) / side.length};
    side.inward = {-side.along.b, side.along.a};
    side.face = face_of(side.along);
    side.number = ++count[side.face];
    sides.push_back(side);
  }
  return sides;
}

bool square_with_axes(const std::vector<Side>& sides) {
  return sides.size() == 4 && std::all_of(sides.begin(), sides.end(), [](const Side& side) {
           return side.from.a == side.to.a || side.from.b == side.to.b;
         });
}

}  // namespace

double Shape::perimeter() const {
  double sum = 0;
  for (const Side& side : sides) sum += side.length;
  return sum;
}

Shape shape_of(const box::Box& box, const survey::Rules& rules, const std::string& revision) {
  Shape shape;
  shape.mark = box.mark;
  shape.revision = revision;
  shape.rules = &rules;
  shape.outline = box.layout.outline;
  shape.body = box::inset(box.layout.outline, rules.flange);
  shape.sides = sides_of(shape.body);
  shape.is_rectangle = square_with_axes(shape.sides);
  shape.wall = rules.wall.mm();
  shape.floor = rules.floor.mm();
  shape.lid = rules.lid.mm();
  shape.flange = rules.flange.mm();
  shape.liner = rules.liner.mm();
  shape.z_bottom = box.layout.z_bottom.mm();
  shape.floor_top = (box.layout.z_bottom + rules.floor).mm();
  shape.lid_top = box.layout.lid_top.mm();
  shape.lid_under = (box.layout.lid_top - rules.lid).mm();
  shape.mouth = shape.lid_under - shop::gasket_mm;
  shape.bend = bend_rule(rules.materials.wall, shape.wall, rules);
  shape.lid_bend = bend_rule(rules.materials.wall, shape.lid, rules);
  return shape;
}

double distance_to(FlatPoint p, const Side& side) {
  const double pa = p.a - side.from.a, pb = p.b - side.from.b;
  const double t = std::clamp(pa * side.along.a + pb * side.along.b, 0.0, side.length);
  return std::hypot(pa - t * side.along.a, pb - t * side.along.b);
}

Space at_height(FlatPoint plan, double z) { return {plan.a, plan.b, z}; }

SheetPart new_part(const Shape& shape, const std::string& mark, std::string name, PartKind kind, double thickness) {
  SheetPart part;
  part.mark = shape.mark + "-" + mark;
  part.revision = shape.revision;
  part.name = std::move(name);
  part.kind = kind;
  part.material = shape.rules->materials.wall.name;
  part.thickness = thickness;
  return part;
}

Placement lying(FlatPoint origin, double z_top) { return {at_height(origin, z_top), {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}; }

Placement standing(const Side& side, double from_corner, double z_foot) {
  const FlatPoint at{side.from.a + from_corner * side.along.a, side.from.b + from_corner * side.along.b};
  return {at_height(at, z_foot), {side.along.a, side.along.b, 0}, {0, 0, 1}, {-side.inward.a, -side.inward.b, 0}};
}

void lay_flat(const Path& outline, const std::vector<FlatHole>& holes, const Placement& at, SheetPart& part) {
  fold_up({outline, holes, {}}, at, {0, part.thickness, 0, ""}, part);
}

std::string side_mark(const Side& side) {
  std::string face = box::to_text(side.face);
  for (char& c : face) c = static_cast<char>(c - 'a' + 'A');
  return fmt::format("WALL-{}-{}", face, side.number);
}

std::string side_name(const Side& side) { return fmt::format("wall, {} {}", box::to_text(side.face), side.number); }

void add_edge(Path& path, FlatPoint from, FlatPoint to, const std::vector<Step>& steps) {
  const double length = std::hypot(to.a - from.a, to.b - from.b);
  const FlatPoint d{(to.a - from.a) / length, (to.b - from.b) / length}, out{d.b, -d.a};
  const auto at = [&](double along, double by) {
    path.push_back({from.a + along * d.a + by * out.a, from.b + along * d.b + by * out.b, 0});
  };
  at(0, 0);
  for (const Step& step : steps) {
    at(step.centre - step.length / 2, 0);
    at(step.centre - step.length / 2, step.out);
    at(step.centre + step.length / 2, step.out);
    at(step.centre + step.length / 2, 0);
  }
}

std::vector<double> tab_centres(double length, double margin) {
  constexpr double per_tab_mm = 200;
  const double room = length - 2 * margin - shop::tab_length_mm;
  if (room < 0) return {};
  const int count = length < 120 ? 1 : std::max(2, static_cast<int>(length / per_tab_mm));
  std::vector<double> centres;
  for (int i = 0; i < count; ++i) {
    const double share = count == 1 ? 0.5 : (i + 0.5) / count;
    centres.push_back(margin + shop::tab_length_mm / 2 + room * share);
  }
  return centres;
}

}  // namespace cellstow::fabrication
