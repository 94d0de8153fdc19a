#include "cellstow/packing/pack.hpp"

#include <algorithm>

#include "area_bound.hpp"
#include "cavity_search.hpp"
#include "heading.hpp"
#include "layout_from_plan.hpp"
#include "several.hpp"
#include "shortfall.hpp"

namespace cellstow::packing {
namespace {

/// The least of the bounds that hold for all the rules allow.
int bound_of(const Setup& setup, CavitySearch& search, bool only_rows_tried) {
  const survey::Rules& rules = setup.rules;
  const bool mixed = rules.arrangement == survey::Arrangement::mixed;
  const bool tiers_apart = setup.loose && rules.tiers > 1;   // each tier by itself: see Setup::loose
  if (!mixed && rules.boxes_per_cavity == 1 && !tiers_apart) return search.bound();
  // Where only rows were looked at, a sharper bound on mixed arrangements would prove nothing.
  if (mixed && only_rows_tried) return std::max(area_bound(setup), search.cells_found());
  int bound = std::min(area_bound(setup), search.bound_of_mixed() * rules.boxes_per_cavity);
  if (rules.boxes_per_cavity > 1 && bound > search.cells_found()) bound = std::min(bound, search.bound_of_several());
  if (tiers_apart) bound = area_bound(setup);
  if (!mixed && !setup.loose) bound = std::min(bound, search.bound_of_many());
  return std::max(bound, search.cells_found());
}

/// The answer of all headings; `known` is what the square one gave, `bound` what bounds that.
HeadingAnswer turn(const Setup& square, const CavitySearch& known, int bound, const PackOptions& options,
                   std::vector<std::string>& notes) {
  HeadingAnswer answer{{}, std::nullopt, area_bound(square), 0, false};
  if (options.heading_budget > 0) answer = best_heading(square, known, bound, options);
  // Each box may have a heading of its own, each tier of blocks without a box its own floor: the search is for one.
  const bool one_box = square.rules.boxes_per_cavity == 1 && !(square.loose && square.rules.tiers > 1);
  if (!one_box) answer.bound = std::max(answer.bound, area_bound(square));
  if (!answer.settled) notes.push_back("not every heading was settled within the work allowed");
  return answer;
}

/// One box; with more allowed, a box in each of the best parts that do not hang together.
CavityPacking pack_one(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
                       const PackOptions& options) {
  Setup setup = make_setup(cavity, cell, rules, options);
  CavitySearch search(setup, options);
  search.run();
  const bool mixed = rules.arrangement == survey::Arrangement::mixed && options.mixed_budget > 0;
  if (mixed) search.run_mixed(options.mixed_budget);
  CavityPacking packing;
  packing.steps = search.steps();
  packing.bound = bound_of(setup, search, options.mixed_budget == 0);
  if (search.out_of_budget() && !search.stopped()) {
    packing.notes.push_back("not every floor height was settled within the work allowed");
  }
  if (search.outline_cost()) {
    packing.notes.push_back("rows alone would hold more, but the outline drawn round them, of the kind asked for, did not take them all in");
  }
  std::optional<Found> best = search.best();
  if (rules.heading == survey::Heading::free) {
    HeadingAnswer turned = turn(setup, search, packing.bound, options, packing.notes);
    packing.steps += turned.steps;
    packing.bound = turned.bound;
    if (turned.found) best = std::move(turned.found);
    setup.heading = turned.heading;
  }
  if (search.stopped()) packing.notes.push_back("stopped by hand: this is the best found until then");
  unsigned placed = 0;
  if (best) {
    placed = best->solved.fittings;
    packing.boxes = layouts(setup, best->attempt, best->solved);
    packing.cells = best->solved.filling.cells;
    const region::FreePlan plan = region::free_plan(
        cavity, setup.clearances, setup.reading,
        {best->attempt.floor, best->attempt.floor + setup.stacks[best->attempt.stack].box_height}).turned(setup.heading);
    packing.shortfalls = shortfalls(setup, plan, best->attempt, best->solved);
  }
  packing.bound = std::max(packing.bound, packing.cells);
  packing.proven = packing.bound == packing.cells;
  for (std::size_t i = 0; i < setup.items.size(); ++i) {
    if (!(placed >> i & 1U)) {
      packing.fittings_without_place.push_back(cavity.fittings[setup.item_fitting[i]].name);
    }
  }
  add_missing_above(setup, packing);
  return packing;
}

CavityPacking pack_one_or_more(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
                               const PackOptions& options) {
  CavityPacking packing = pack_one(cavity, cell, rules, options);
  const bool more_boxes = rules.boxes_per_cavity > 1 && rules.box_outline != survey::BoxOutline::loose;
  const int wanted = std::min(packing.bound, options.enough.value_or(packing.bound));
  if (!more_boxes || packing.cells >= wanted) return packing;
  CavityPacking several = pack_several(cavity, cell, rules, options, packing, pack_one_or_more);
  packing.steps += several.steps;
  if (several.cells <= std::max(packing.cells, options.more_than.value_or(0))) return packing;
  packing.boxes = std::move(several.boxes);
  packing.cells = several.cells;
  packing.bound = std::max(packing.bound, packing.cells);
  packing.proven = packing.bound == packing.cells;
  packing.shortfalls = std::move(several.shortfalls);
  packing.fittings_without_place = std::move(several.fittings_without_place);
  return packing;
}

}  // namespace

CavityPacking pack_cavity(const survey::Cavity& cavity, const survey::Cell& cell,
                          const survey::Rules& rules, const PackOptions& options) {
  return pack_one_or_more(cavity, cell, rules, options);
}

}  // namespace cellstow::packing
