#include <algorithm>

#include "cellstow/packing/pack.hpp"
#include "cellstow/region/free_plan.hpp"

namespace cellstow::packing {
namespace {

/// The cavity with one more section half way between neighbours i and i + 1, as the straight reading sees it.
survey::Cavity with_middle_section(const survey::Cavity& cavity, std::size_t i) {
  auto middle = [](const Point2& p, const Point2& q) {
    return Point2{Length::from_um((p.a + q.a).um() / 2), Length::from_um((p.b + q.b).um() / 2)};
  };
  const survey::Section &from = cavity.sections.at[i], &to = cavity.sections.at[i + 1];
  survey::Section between = from;
  between.station = Length::from_um((from.station + to.station).um() / 2);
  for (std::size_t k = 0; k < from.outline.size(); ++k) {
    between.outline[k] = middle(from.outline[k], to.outline[k]);
  }
  for (std::size_t h = 0; h < from.holes.size(); ++h) {
    for (std::size_t k = 0; k < from.holes[h].size(); ++k) {
      between.holes[h][k] = middle(from.holes[h][k], to.holes[h][k]);
    }
  }
  survey::Cavity more = cavity;
  more.sections.at.insert(more.sections.at.begin() + static_cast<std::ptrdiff_t>(i) + 1, between);
  return more;
}

/// Strip evaluations for turning the box: a reading is compared, not built.
constexpr long long heading_budget = 400'000;

struct Count {
  int cells = 0;
  bool proven = false;   ///< there are no more
};

/// Most cells under a reading, when more than `known`; else `known`.
Count most_beyond(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
                  survey::Between reading, int known) {
  PackOptions options;
  options.reading = reading;
  options.more_than = known;
  options.heading_budget = heading_budget;
  options.mixed_budget = 0;  // a comparison: rows are quick, and what they gain is real
  const CavityPacking packing = pack_cavity(cavity, cell, rules, options);
  const int cells = std::max(known, packing.cells);
  return {cells, packing.bound <= cells};
}

}  // namespace

ReadingComparison compare_readings(const survey::Cavity& cavity, const survey::Cell& cell,
                                   const survey::Rules& rules, int known_cells) {
  using survey::Between;
  ReadingComparison comparison;
  const bool straight_known = cavity.sections.between == Between::straight;
  comparison.common_cells = known_cells;
  if (straight_known) {
    const CavityPacking common = pack_cavity(cavity, cell, rules);
    // What stands in the common space stands between straight walls too: more were found by luck, if at all.
    comparison.common_cells = std::min(common.cells, known_cells);
    comparison.least = common.bound > comparison.common_cells;
  }
  if (!region::can_read_straight(cavity.sections)) {
    comparison.why_not = "the sections do not all have the same number of corners";
    return comparison;
  }
  comparison.straight_cells = known_cells;
  if (!straight_known) {
    const Count straight = most_beyond(cavity, cell, rules, Between::straight, known_cells);
    comparison.straight_cells = straight.cells;
    comparison.least = !straight.proven;
  }
  if (*comparison.straight_cells <= comparison.common_cells) return comparison;
  for (std::size_t i = 0; i + 1 < cavity.sections.at.size(); ++i) {
    const survey::Cavity more = with_middle_section(cavity, i);
    const int known = comparison.common_cells + comparison.decided_there;
    const int cells = most_beyond(more, cell, rules, Between::common, known).cells;
    if (cells <= known) continue;
    comparison.decided_there = cells - comparison.common_cells;
    comparison.measure_at = more.sections.at[i + 1].station;
  }
  return comparison;
}

}  // namespace cellstow::packing
