#include "lid_tabs.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "folding.hpp"

namespace cellstow::fabrication {
namespace {

/// An angle tab seen along its wall: how far it reaches in from the wall's inner face, and down.
struct Tab {
  double width = 30, reach = 0, drop = 16, screw_in = 0;
};

/// Metal outside the nut's hole. Common practice, no source.
constexpr double metal_beside_nut_mm = 6;
constexpr double step_mm = 5;
constexpr double least_pitch_mm = 80;

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

/// For a strap over a case, what it is padded up by, and its rise. Common practice, no source.
constexpr double over_case_mm = 9;
/// From a post's centre to the rim of links and nuts on it. Common practice, no source.
constexpr double half_link_mm = 12.5;

/// What stands in a tab's way in plan.
class Taken {
 public:
  Taken(const Shape& shape, const packing::BoxLayout& layout, const survey::Cell* cell, double tab_foot)
      : shape_(shape), tab_foot_(tab_foot) {
    for (const packing::Block& block : layout.blocks) add_case(block.body, cell && block.stance == survey::Stance::upright);
    for (const packing::PlacedCell& placed : layout.cells) {
      add_case(placed.body, cell && placed.stance == survey::Stance::upright);
      if (cell) add_live(placed, layout, *cell);
    }
    for (const packing::PlacedFitting& fitting : layout.fittings) {
      if (fitting.place != survey::FittingPlace::wall) rooms_.push_back(around(fitting.body, shape.rules->headroom.mm()));
    }
    for (const Side& side : shape.sides) rooms_.push_back(quad(side, 0, side.length, 0, shape.wall));
  }

  bool is_free(const Quad& place) const {
    return std::none_of(rooms_.begin(), rooms_.end(), [&](const Quad& other) { return overlap(place, other); });
  }
  void take(const Quad& place) { rooms_.push_back(place); }

 private:
  void add_case(const packing::Cuboid& body, bool may_stand_over) {
    if (may_stand_over && body.high.z.mm() + over_case_mm <= tab_foot_) return;
    rooms_.push_back(around(body, shape_.liner));
  }

  /// Posts and the links between the cells of a block: a strip along the block at either post, or across all of it.
  void add_live(const packing::PlacedCell& placed, const packing::BoxLayout& layout, const survey::Cell& cell) {
    const double away = half_link_mm + shape_.rules->headroom.mm();
    if (placed.stance != survey::Stance::upright) return rooms_.push_back(around(placed.body, shape_.rules->headroom.mm()));
    const bool along_u = runs_along_u(placed, layout);
    const double u = (placed.body.low.x + placed.body.high.x).mm() / 2, v = (placed.body.low.y + placed.body.high.y).mm() / 2;
    const double half_pitch = cell.thickness.mm() / 2;
    for (const double side : {-1.0, 1.0}) {
      const double off = cell.terminal_offset ? side * cell.terminal_offset->mm() : 0;
      const double across = cell.terminal_offset ? away : cell.width.mm() / 2 + away;
      // Links reach half a cell to either side of a post; at a block's end they need not.
      const double along = std::max(away, is_inner(placed, layout) ? half_pitch : away);
      const double pu = along_u ? u : u + off, pv = along_u ? v + off : v, du = along_u ? along : across, dv = along_u ? across : along;
      rooms_.push_back({FlatPoint{pu - du, pv - dv}, FlatPoint{pu + du, pv - dv}, FlatPoint{pu + du, pv + dv}, FlatPoint{pu - du, pv + dv}});
    }
  }

  static const packing::Block* block_of(const packing::PlacedCell& placed, const packing::BoxLayout& layout) {
    const auto found = std::find_if(layout.blocks.begin(), layout.blocks.end(), [&](const packing::Block& b) { return b.id == placed.block; });
    return found == layout.blocks.end() ? nullptr : &*found;
  }
  static bool runs_along_u(const packing::PlacedCell& placed, const packing::BoxLayout& layout) {
    const packing::Block* block = block_of(placed, layout);
    return !block || block->runs == packing::Run::u;
  }
  static bool is_inner(const packing::PlacedCell& placed, const packing::BoxLayout& layout) {
    const packing::Block* block = block_of(placed, layout);
    return block && placed.place > 1 && placed.place < block->cells;
  }

  const Shape& shape_;
  double tab_foot_ = 0;
  std::vector<Quad> rooms_;
};

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

std::vector<FlatPoint> add_lid_tabs(const Shape& shape, const packing::BoxLayout& layout, const survey::Cell* cell, SheetWork& work) {
  const Tab tab = tab_of(shape);
  SheetPart part = tab_part(shape, tab);
  Taken taken(shape, layout, cell, shape.mouth - tab.drop);
  std::vector<FlatPoint> screws;
  const double from_corner = shape.wall + std::max(shape.rules->corner_relief.mm(), 5.0) + tab.width / 2;
  for (const Side& side : shape.sides) {
    double last = -least_pitch_mm;
    for (double along = from_corner; along <= side.length - from_corner; along += step_mm) {
      const Quad place = quad(side, along - tab.width / 2, along + tab.width / 2, shape.wall + 0.01, shape.wall + tab.reach);
      if (along - last < least_pitch_mm || !taken.is_free(place)) continue;
      last = along;
      taken.take(place);
      screws.push_back(inside_of(side, along, shape.wall + tab.screw_in));
      add_piece(shape, side, along, tab, part);
    }
  }
  if (part.quantity > 0) work.parts.push_back(std::move(part));
  if (!screws.empty() && cell) {
    work.notes.push_back("angle tabs may stand over the ends of cell blocks: cover them with insulation, and keep cables and lugs from under them");
  }
  return screws;
}

}  // namespace cellstow::fabrication
