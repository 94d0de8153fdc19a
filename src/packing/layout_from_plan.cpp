#include "layout_from_plan.hpp"

#include <algorithm>
#include <tuple>

namespace cellstow::packing {
namespace {

Cuboid cuboid(const RectUm& plan, Um z_low, Um z_high) {
  auto length = [](Um um) { return Length::from_um(um); };
  return {{length(plan.x_low), length(plan.y_low), length(z_low)},
          {length(plan.x_high), length(plan.y_high), length(z_high)}};
}

/// First corner the lowest in x, then y; counter-clockwise as it came.
std::vector<Point2> to_points(std::vector<PointUm> outline) {
  std::rotate(outline.begin(), std::min_element(outline.begin(), outline.end()), outline.end());
  std::vector<Point2> points;
  for (const PointUm& p : outline) points.push_back({Length::from_um(p.s), Length::from_um(p.t)});
  return points;
}

void add_cells(const Setup& setup, const BlockInPlan& block, int id, Um base, BoxLayout& layout) {
  const BlockRule rule = block_rule(setup.cell, block.stance, setup.rules);
  for (int k = 0; k < block.cells; ++k) {
    const Um from = rule.ends / 2 + k * (rule.cell_along + rule.between_cells);
    RectUm plan = block.plan;
    if (block.runs == Run::u) {
      plan.x_low = block.plan.x_low + from;
      plan.x_high = plan.x_low + rule.cell_along;
    } else {
      plan.y_low = block.plan.y_low + from;
      plan.y_high = plan.y_low + rule.cell_along;
    }
    layout.cells.push_back({cuboid(plan, base, base + case_height(setup.cell, block.stance)),
                            block.stance, id, k + 1});
  }
}

BoxLayout layout(const Setup& setup, const Attempt& attempt, BoxInPlan box) {
  BoxLayout layout;
  layout.heading = setup.heading;
  const Stack& stack = setup.stacks[attempt.stack];
  const Um lowest = attempt.floor + setup.floor + setup.liner;
  layout.outline = to_points(box.outline);
  std::sort(box.contents.blocks.begin(), box.contents.blocks.end(),
            [](const BlockInPlan& a, const BlockInPlan& b) {
              return std::tie(a.tier, a.plan.y_low, a.plan.x_low) < std::tie(b.tier, b.plan.y_low, b.plan.x_low);
            });
  Um contents_top = lowest;
  for (const BlockInPlan& block : box.contents.blocks) {
    const int id = static_cast<int>(layout.blocks.size()) + 1;
    const Um base = lowest + stack.tiers[block.tier].rise;
    const Um top = base + case_height(setup.cell, block.stance);
    contents_top = std::max(contents_top, base + live_height(setup.cell, block.stance));
    layout.blocks.push_back({id, block.cells, block.runs, block.stance, cuboid(block.plan, base, top)});
    add_cells(setup, block, id, base, layout);
  }
  for (const FittingInPlan& item : box.contents.fittings) {
    const survey::Fitting& fitting = setup.cavity.fittings[setup.item_fitting[item.index]];
    const Um base = lowest + stack.tiers[item.tier].rise;
    layout.fittings.push_back(
        {fitting.name, fitting.place, cuboid(item.plan, base, base + fitting.size[2].um())});
    contents_top = std::max(contents_top, base + fitting.size[2].um());
  }
  const Um lid_top = attempt.floor + stack.box_height;
  layout.z_bottom = Length::from_um(setup.loose ? lowest : attempt.floor);
  layout.lid_top = Length::from_um(setup.loose ? contents_top : lid_top);
  return layout;
}

bool overlap(const Cuboid& a, const Cuboid& b) {
  return a.low.x < b.high.x && b.low.x < a.high.x && a.low.y < b.high.y && b.low.y < a.high.y &&
         a.low.z < b.high.z && b.low.z < a.high.z;
}

/// A place on top of the blocks: within the footprint of one box's contents row, clear of what lies there already.
bool place_above(const Setup& setup, const survey::Fitting& fitting, BoxLayout& box) {
  const Um lid = box.lid_top.um() - setup.lid;
  for (const Block& under : box.blocks) {
    for (const bool turned : {false, true}) {
      const Um along = fitting.size[turned ? 1 : 0].um(), across = fitting.size[turned ? 0 : 1].um();
      const Um x = under.body.low.x.um(), y = under.body.low.y.um();
      if (x + along > under.body.high.x.um() || y + across > under.body.high.y.um()) continue;
      const Um high = lid, low = lid - fitting.size[2].um();
      for (Um shift = 0; x + shift + along <= under.body.high.x.um(); shift += along + setup.gap) {
        const Cuboid body = cuboid({x + shift, x + shift + along, y, y + across}, low, high);
        const bool taken = std::any_of(box.fittings.begin(), box.fittings.end(),
                                       [&](const PlacedFitting& f) { return overlap(f.body, body); });
        if (taken) continue;
        box.fittings.push_back({fitting.name, fitting.place, body});
        return true;
      }
    }
  }
  return false;
}

}  // namespace

std::vector<BoxLayout> layouts(const Setup& setup, const Attempt& attempt, const Solved& solved) {
  std::vector<BoxLayout> boxes;
  for (const BoxInPlan& box : solved.boxes) boxes.push_back(layout(setup, attempt, box));
  return boxes;
}

void add_missing_above(const Setup& setup, CavityPacking& packing) {
  for (const survey::Fitting& fitting : setup.cavity.fittings) {
    if (fitting.place != survey::FittingPlace::above) continue;
    for (int k = 0; k < fitting.count; ++k) {
      const bool placed = std::any_of(packing.boxes.begin(), packing.boxes.end(), [&](BoxLayout& box) {
        return place_above(setup, fitting, box);
      });
      if (!placed) packing.fittings_without_place.push_back(fitting.name);
    }
  }
}

}  // namespace cellstow::packing
