#include "lid_tabs.hpp"

#include <algorithm>
#include <cmath>

#include "folding.hpp"

namespace cellstow::fabrication {
namespace {

/// An angle tab seen along its wall: how far it reaches in from the wall's inner face, and down.
struct Tab {
  double width = 30, reach = 0, drop = 25, screw_in = 0;
};

/// Metal outside the nut's hole. Common practice, no source.
constexpr double metal_beside_nut_mm = 6;
constexpr double step_mm = 5;
constexpr double least_pitch_mm = 100;

Tab tab_of(const Shape& shape) {
  Tab tab;
  const double bend = shape.bend.inside_radius_mm + shape.bend.thickness_mm;
  tab.screw_in = bend + hole_to_bend_mm(shape.bend) + shop::nut_hole_mm / 2;
  tab.reach = std::max(tab.screw_in + shop::nut_hole_mm / 2 + metal_beside_nut_mm, shortest_leg_mm(shape.bend, *shape.rules));
  tab.drop = std::max(tab.drop, shortest_leg_mm(shape.bend, *shape.rules));
  return tab;
}

/// Rectangle in plan; need not lie along the axes.
using Quad = std::array<FlatPoint, 4>;

FlatPoint inside_of(const Side& side, double along, double in) {
  return {side.from.a + along * side.along.a + in * side.inward.a, side.from.b + along * side.along.b + in * side.inward.b};
}

Quad quad(const Side& side, double from, double to, double low, double high) {
  return {inside_of(side, from, low), inside_of(side, to, low), inside_of(side, to, high), inside_of(side, from, high)};
}

/// Do they share room? Convex shapes do unless an edge of one has the other wholly outside.
bool overlap(const Quad& p, const Quad& q) {
  const auto apart = [](const Quad& one, const Quad& other) {
    for (std::size_t i = 0; i < 4; ++i) {
      const FlatPoint &from = one[i], &to = one[(i + 1) % 4];
      const bool outside = std::all_of(other.begin(), other.end(), [&](const FlatPoint& r) {
        return (to.a - from.a) * (r.b - from.b) - (to.b - from.b) * (r.a - from.a) <= 1e-9;
      });
      if (outside) return true;
    }
    return false;
  };
  return !apart(p, q) && !apart(q, p);
}

Quad around(const packing::Cuboid& body, double by) {
  const double u0 = body.low.x.mm() - by, v0 = body.low.y.mm() - by, u1 = body.high.x.mm() + by, v1 = body.high.y.mm() + by;
  return {FlatPoint{u0, v0}, FlatPoint{u1, v0}, FlatPoint{u1, v1}, FlatPoint{u0, v1}};
}

/// Contents, with the liner's thickness kept free round them, and the strip of metal along every other wall.
std::vector<Quad> taken_room(const Shape& shape, const packing::BoxLayout& layout) {
  std::vector<Quad> taken;
  for (const packing::Block& block : layout.blocks) taken.push_back(around(block.body, shape.liner));
  for (const packing::PlacedCell& cell : layout.cells) taken.push_back(around(cell.body, shape.liner));
  for (const packing::PlacedFitting& fitting : layout.fittings) {
    if (fitting.place != survey::FittingPlace::wall) taken.push_back(around(fitting.body, shape.liner));
  }
  for (const Side& side : shape.sides) taken.push_back(quad(side, 0, side.length, 0, shape.wall));
  return taken;
}

SheetPart tab_part(const Shape& shape, const Tab& tab) {
  SheetPart part = new_part(shape, "LID-TAB", "angle tab for the lid", PartKind::lid_tab, shape.wall);
  part.quantity = 0;
  part.welds.push_back({"tab to the wall's inner face, both ends of its upright leg, before the liner goes in", tab.drop, 2});
  part.notes.push_back("top face level with the walls' top edge");
  return part;
}

/// The tab lies with its drawn face up and is folded down along its wall.
void add_piece(const Shape& shape, const Side& side, double along, const Tab& tab, SheetPart& part) {
  const double bend = shape.bend.inside_radius_mm + shape.bend.thickness_mm;
  Face top{rectangle(tab.width, tab.reach - bend), {round_hole({tab.width / 2, tab.screw_in - bend}, shop::nut_hole_mm, "rivet nut M5")}, {}};
  top.folds.push_back({0, 90, false, "leg on the wall", {rectangle(tab.width, tab.drop - bend), {}, {}}});
  const Placement at{at_height(inside_of(side, along - tab.width / 2, shape.wall + bend), shape.mouth),
                     {side.along.a, side.along.b, 0}, {side.inward.a, side.inward.b, 0}, {0, 0, 1}};
  part.flat = {};
  fold_up(top, at, shape.bend, part);
  ++part.quantity;
}

}  // namespace

std::vector<FlatPoint> add_lid_tabs(const Shape& shape, const packing::BoxLayout& layout, SheetWork& work) {
  const Tab tab = tab_of(shape);
  SheetPart part = tab_part(shape, tab);
  std::vector<Quad> taken = taken_room(shape, layout);
  std::vector<FlatPoint> screws;
  const double from_corner = shape.wall + std::max(shape.rules->corner_relief.mm(), 5.0) + tab.width / 2;
  for (const Side& side : shape.sides) {
    double last = -least_pitch_mm;
    for (double along = from_corner; along <= side.length - from_corner; along += step_mm) {
      const Quad place = quad(side, along - tab.width / 2, along + tab.width / 2, shape.wall + 0.01, shape.wall + tab.reach);
      const bool free = std::none_of(taken.begin(), taken.end(), [&](const Quad& other) { return overlap(place, other); });
      if (!free || along - last < least_pitch_mm) continue;
      last = along;
      taken.push_back(place);
      screws.push_back(inside_of(side, along, shape.wall + tab.screw_in));
      add_piece(shape, side, along, tab, part);
    }
  }
  if (part.quantity > 0) work.parts.push_back(std::move(part));
  return screws;
}

}  // namespace cellstow::fabrication
