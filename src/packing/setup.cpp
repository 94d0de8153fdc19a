#include "setup.hpp"

#include <algorithm>
#include <set>

namespace cellstow::packing {
namespace {

/// More fittings than this are not weighed against each other; the rest get no place and the report says so.
constexpr std::size_t most_items = 5;

void add_fittings(Setup& setup) {
  for (std::size_t i = 0; i < setup.cavity.fittings.size(); ++i) {
    const survey::Fitting& fitting = setup.cavity.fittings[i];
    if (fitting.place == survey::FittingPlace::above) {
      setup.above = std::max(setup.above, fitting.size[2].um());
      continue;
    }
    for (int k = 0; k < fitting.count && setup.items.size() < most_items; ++k) {
      setup.items.push_back({fitting.size[0].um(), fitting.size[1].um()});
      setup.item_fitting.push_back(i);
    }
  }
}

void add_heights(Setup& setup) {
  Um fitting_height = 0;
  for (const std::size_t i : setup.item_fitting) {
    fitting_height = std::max(fitting_height, setup.cavity.fittings[i].size[2].um());
  }
  std::vector<Stance> stances = setup.cell.stances;
  std::sort(stances.begin(), stances.end(), [&](Stance a, Stance b) {
    return std::pair(live_height(setup.cell, a), a) < std::pair(live_height(setup.cell, b), b);
  });
  HeightClass height;
  for (std::size_t i = 0; i < stances.size(); ++i) {
    height.stances.push_back(stances[i]);
    height.live_top = live_height(setup.cell, stances[i]);
    if (i + 1 < stances.size() && live_height(setup.cell, stances[i + 1]) == height.live_top) continue;
    height.box_height = setup.floor + setup.liner +
                        std::max(height.live_top + setup.headroom + setup.above, fitting_height) +
                        setup.lid;
    setup.heights.push_back(height);
  }
}

}  // namespace

Um case_height(const survey::Cell& cell, Stance stance) {
  switch (stance) {
    case Stance::upright: return cell.height.um();
    case Stance::on_edge: return cell.width.um();
    case Stance::flat: return cell.thickness.um();
  }
  return 0;
}

Um live_height(const survey::Cell& cell, Stance stance) {
  return stance == Stance::upright ? std::max(cell.terminal_top, cell.height).um()
                                   : case_height(cell, stance);
}

Setup make_setup(const survey::Cavity& cavity, const survey::Cell& cell,
                 const survey::Rules& rules, const PackOptions& options) {
  Setup setup{cavity, cell, rules};
  setup.reading = options.reading;
  setup.enough = options.enough.value_or(1'000'000);
  setup.loose = rules.box_outline == survey::BoxOutline::loose;
  setup.any_outline = rules.box_outline == survey::BoxOutline::any;
  if (setup.any_outline) setup.most_corners = 8;
  setup.clearances = {rules.body_clearance.um(), rules.lid_clearance.um(), 0};
  setup.gap = rules.between_blocks.um();
  setup.headroom = rules.headroom.um();
  if (!setup.loose) {
    setup.shell = rules.wall.um() + rules.liner.um();
    setup.floor = rules.floor.um();
    setup.liner = rules.liner.um();
    setup.lid = rules.lid.um();
    setup.relief_excess = std::max<Um>(0, rules.corner_relief.um() - rules.liner.um());
  }
  add_fittings(setup);
  add_heights(setup);
  return setup;
}

std::vector<StripKind> strip_kinds(const Setup& setup, const HeightClass& height, bool across,
                                   Strips strips, Um broadest) {
  std::vector<StripKind> kinds;
  for (const Stance stance : height.stances) {
    const BlockRule rule = block_rule(setup.cell, stance, setup.rules);
    if (!across) {
      kinds.push_back({Laying::along, stance, rule, 0, rule.breadth});
      continue;
    }
    // Where splitting a block costs no length, single cells across make up every longer block.
    const bool single_suffices =
        rule.min_cells == 1 && rule.ends + setup.gap <= rule.between_cells;
    for (int cells = rule.min_cells; cells <= (single_suffices ? 1 : rule.max_cells); ++cells) {
      if (rule.length(cells) > broadest) break;
      kinds.push_back({Laying::across, stance, rule, cells, rule.length(cells)});
    }
  }
  std::set<Um> breadths;
  for (const FittingItem& item : setup.items) {
    for (const auto& turned : StripView::turns(item, strips)) breadths.insert(turned.second);
  }
  for (const Um breadth : breadths) kinds.push_back({Laying::fittings_only, {}, {}, 0, breadth});
  return kinds;
}

std::vector<FillTable> fill_tables(const std::vector<StripKind>& kinds, Um gap, Um longest) {
  std::vector<FillTable> tables;
  for (const StripKind& kind : kinds) tables.emplace_back(kind, gap, longest);
  return tables;
}

}  // namespace cellstow::packing
