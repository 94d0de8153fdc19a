#include "heading.hpp"

#include <algorithm>
#include <queue>
#include <tuple>

#include "area_bound.hpp"

namespace cellstow::packing {
namespace {

using core::Heading;

/// Ranges of headings are not halved below this half width: 512 steps, 0.00275 degrees.
constexpr std::int64_t least_half_steps = 512;
/// Bounds over a range say nothing once contents lose more than this part of the least block's breadth.
constexpr Um breadths_eroded = 6;
constexpr Um most_eroded_to_try = 40;
/// Headings looked at besides those of the walls before ranges are bounded: every 5.6 degrees.
constexpr std::int64_t first_headings = 16;
/// Looking at those may take this part of the work; the rest of it is for bounds and for trying.
constexpr long long looks_a_budget = 3;
constexpr Um first_look_um = 8'000;
/// One heading not along a wall may cost this part of the work, and all of them two thirds: the rest is for bounds.
constexpr long long tries_a_budget = 8;
/// Blocks in both directions at once are looked for at no more headings than this besides those along walls.
constexpr int most_mixed_tries = 24;

/// A heading, and the most that a quick look leaves to hope for.
struct Look {
  Heading heading;
  bool wall = false;
  Worth most{};
};

/// Headings from middle - half to middle + half, in steps, and what is left to hope for in them.
struct Range {
  std::int64_t middle = 0, half = 0;
  Worth bound;
  std::vector<CavitySearch::Hope> hopes;
  /// Highest bound first, then the broadest, then nearest to square.
  auto key() const { return std::tuple(bound, half, -std::abs(middle), -middle); }
  bool operator<(const Range& other) const { return key() < other.key(); }
};

class HeadingSearch {
 public:
  HeadingSearch(const Setup& square, const CavitySearch& known, int square_bound, const PackOptions& options)
      : square_(square), options_(options), budget_(options.heading_budget), best_(known.worth()) {
    best_.cells = std::max(best_.cells, options.more_than.value_or(0));
    answer_.bound = std::max(best_.cells, square_bound);
    const Um clearance = square.clearances.body;
    radius_um_ = std::max(0.0, pivot_of(square.cavity.sections).reach_um - static_cast<double>(clearance));
    least_reach_ = clearance;
    for (const survey::KeepOut& keep_out : square.cavity.keep_outs) {
      if (keep_out.clearance) least_reach_ = std::min(least_reach_, keep_out.clearance->um());
    }
    if (square.any_outline) least_reach_ += square.shell;
    least_breadth_ = geometry::far_um;
    for (const Stance stance : square.cell.stances) {
      const BlockRule rule = block_rule(square.cell, stance, square.rules);
      least_breadth_ = std::min({least_breadth_, rule.breadth, rule.length(rule.min_cells)});
    }
  }

  HeadingAnswer run() {
    const std::vector<CavitySearch::Hope> all = CavitySearch(square_, options_).hopes();
    if (best_.cells < square_.enough) first_looks(all);
    open_.push({0, Heading::steps_per_quarter / 2, {static_cast<int>(square_.items.size()), square_.enough}, all});
    while (!open_.empty() && open_.top().bound > best_) {
      // Ranges that cannot lower the bound any more are still worth a look, for half of the work.
      const bool decides = open_.top().bound > Worth{best_.fittings, answer_.bound};
      if (stopped() || answer_.steps > (decides ? budget_ : budget_ / 2)) {
        answer_.settled = !decides;
        leave_open(open_.top().bound.cells);
        break;
      }
      Range range = open_.top();
      open_.pop();
      look_at(std::move(range));
    }
    answer_.bound = std::max(answer_.bound, best_.cells);
    return std::move(answer_);
  }

 private:
  /// Headings along walls, then some between while that costs little; those that promise most first.
  void first_looks(const std::vector<CavitySearch::Hope>& all) {
    std::vector<Look> looks;
    for (Look look : headings_to_look_at()) {
      if (stopped()) return;
      if (answer_.steps > (look.wall ? budget_ : budget_ / looks_a_budget)) continue;
      Setup setup = square_;
      setup.heading = look.heading;
      CavitySearch search(setup, more_than_best());
      look.most = search.beyond(all, square_.rules.arrangement, best_, first_look_um).most;
      answer_.steps += search.steps();
      looks.push_back(look);
    }
    std::stable_sort(looks.begin(), looks.end(), [](const Look& a, const Look& b) {
      return std::tuple(b.wall, b.most) < std::tuple(a.wall, a.most);
    });
    for (const Look& look : looks) {
      if (look.most > best_) try_at(look.heading, all, look.wall);
    }
  }

  std::vector<Look> headings_to_look_at() const {
    std::vector<Look> looks;
    for (const Heading heading : wall_headings(square_.cavity)) looks.push_back({heading, true});
    // By halves, so that those looked at are spread however many they are.
    for (std::int64_t apart = first_headings / 2; apart > 0; apart /= 2) {
      for (std::int64_t k = apart; k < first_headings; k += 2 * apart) {
        const std::int64_t steps = Heading::steps_per_quarter * k / first_headings;
        looks.push_back({Heading::from_steps(2 * steps > Heading::steps_per_quarter ? steps - Heading::steps_per_quarter : steps)});
      }
    }
    return looks;
  }

  void look_at(Range range) {
    if (const auto setup = setup_for(range)) {
      CavitySearch search(*setup, more_than_best());
      CavitySearch::Beyond beyond = search.beyond(range.hopes, square_.rules.arrangement, best_);
      answer_.steps += search.steps();
      range.hopes = std::move(beyond.hopes);
      range.bound = std::min(range.bound, beyond.most);
      if (range.hopes.empty()) return;
      // A broad range says little about its middle.
      if (setup->eroded <= square_.shell + least_breadth_ / most_eroded_to_try) {
        try_at(Heading::from_steps(range.middle), range.hopes, false);
      }
      if (range.bound <= best_) return;
    }
    halve(range);
  }

  /// The problem that bounds a whole range; none when it is too broad to say anything.
  std::optional<Setup> setup_for(const Range& range) const {
    const Um move = farthest_move(radius_um_, Heading::from_steps(range.half)) + region::FreePlan::corner_move_um;
    Setup setup = square_;
    setup.heading = Heading::from_steps(range.middle);
    setup.loosened = std::min(move, least_reach_);
    setup.eroded = move - setup.loosened;
    if (setup.eroded > least_breadth_ / breadths_eroded) return std::nullopt;
    return setup;
  }

  void halve(const Range& range) {
    const std::int64_t half = range.half / 2;
    if (half < least_half_steps) {
      leave_open(range.bound.cells);
      return;
    }
    const Um move = farthest_move(radius_um_, Heading::from_steps(half));
    std::vector<CavitySearch::Hope> hopes;
    for (const CavitySearch::Hope& hope : range.hopes) add_halved(hope, 2 * move, hopes);
    for (const std::int64_t middle : {range.middle - half, range.middle + half}) {
      open_.push({middle, half, range.bound, hopes});
    }
  }

  /// A range of floor heights that moves walls more than the headings do is halved as well.
  static void add_halved(const CavitySearch::Hope& hope, Um broad, std::vector<CavitySearch::Hope>& hopes) {
    const Um low = hope.attempt.floor, middle = low + (hope.highest - low) / 2;
    if (hope.highest - low <= std::max<Um>(broad, 1'000)) {
      hopes.push_back(hope);
      return;
    }
    hopes.push_back({hope.attempt, middle});
    hopes.push_back(hope);
    hopes.back().attempt.floor = middle;
  }

  PackOptions more_than_best() const {
    PackOptions options = options_;
    options.watch = {};
    options.step_budget = budget_ / tries_a_budget;
    // More fittings would be worth fewer cells.
    const bool all_placed = best_.fittings == static_cast<int>(square_.items.size());
    if (all_placed) options.more_than = best_.cells;
    return options;
  }

  /// One heading in full, when it can be worth more than the best. Along a wall as much work is done as for the square one.
  void try_at(Heading heading, const std::vector<CavitySearch::Hope>& hopes, bool wall) {
    if (heading.is_square() || stopped() || (!wall && answer_.steps > budget_ / 3 * 2)) return;
    Setup setup = square_;
    setup.heading = heading;
    const bool mixed = square_.rules.arrangement == survey::Arrangement::mixed;
    PackOptions options = more_than_best();
    if (wall) options.step_budget = options_.step_budget;
    // Blocks in both directions are looked for from the rows there are, however few.
    if (wall && mixed) options.more_than = options_.more_than;
    CavitySearch search(setup, options);
    const CavitySearch::Beyond any = search.beyond(hopes, square_.rules.arrangement, best_);
    const bool rows_may = mixed ? wall || !search.beyond(any.hopes, survey::Arrangement::rows, best_).hopes.empty() : !any.hopes.empty();
    if (rows_may && !any.hopes.empty()) search.run();
    if (mixed && !any.hopes.empty()) {
      if (options_.mixed_budget > 0 && (wall || mixed_tries_++ < most_mixed_tries)) search.run_mixed(options_.mixed_budget);
      // What no line rules out, or no outline could be drawn round, stays open at this heading whatever becomes of the others.
      leave_open(any.most.cells);
    }
    if (search.outline_cost()) leave_open(search.bound());
    take(heading, search);
    answer_.steps += search.steps();
  }

  void take(Heading heading, const CavitySearch& search) {
    if (!search.best() || search.worth() <= best_) return;
    best_ = search.worth();
    answer_.heading = heading;
    answer_.found = search.best();
    if (options_.watch) options_.watch({best_.cells, std::nullopt});
  }

  bool stopped() const { return square_.stop != nullptr && *square_.stop; }

  void leave_open(int cells) {
    answer_.bound = std::max(answer_.bound, std::min({cells, square_.enough, area_bound(square_)}));
  }

  const Setup& square_;
  const PackOptions& options_;
  long long budget_;
  Worth best_;
  HeadingAnswer answer_;
  std::priority_queue<Range> open_;
  double radius_um_ = 0;
  Um least_reach_ = 0, least_breadth_ = 0;
  int mixed_tries_ = 0;
};

}  // namespace

HeadingAnswer best_heading(const Setup& square, const CavitySearch& known, int square_bound, const PackOptions& options) {
  return HeadingSearch(square, known, square_bound, options).run();
}

}  // namespace cellstow::packing
