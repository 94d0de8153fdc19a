#include "attempt.hpp"

#include <algorithm>
#include <bit>
#include <set>

#include "cellstow/geometry/segment.hpp"
#include "parts.hpp"

namespace cellstow::packing {
namespace {

using geometry::doubled_area;
using geometry::Loop;
using geometry::Side;
using geometry::Wall;

/// Inside width that joins two parts of one box; narrower necks do not.
constexpr Um least_neck_um = 10'000;
/// Ways of opening a ring are tried this deep.
constexpr int most_cuts = 2;

/// Everything one search over strips needs, kept together while it runs.
struct Workbench {
  StripView view;
  std::vector<StripKind> kinds;
  std::vector<FillTable> tables;

  Workbench(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
            Um more_along, Um more_across, const RunFilter* filter)
      : view(plan, attempt.strips, (setup.any_outline ? 0 : setup.shell) + more_along,
             (setup.any_outline ? 0 : setup.shell) + more_across, setup.gap, setup.items, filter),
        kinds(strip_kinds(setup, setup.heights[attempt.height], attempt.across, attempt.strips,
                          view.extent().length())),
        tables(fill_tables(kinds, setup.gap, view.longest_possible_run())) {}
};

/// Takes surplus cells away: whole blocks first, smallest that fit the surplus, then ends of blocks.
void trim(Contents& contents, int surplus, const Setup& setup) {
  while (surplus > 0) {
    auto whole = contents.blocks.end();
    for (auto block = contents.blocks.begin(); block != contents.blocks.end(); ++block) {
      if (block->cells > surplus) continue;
      if (whole == contents.blocks.end() || block->cells >= whole->cells) whole = block;
    }
    if (whole != contents.blocks.end()) {
      surplus -= whole->cells;
      contents.blocks.erase(whole);
      continue;
    }
    auto shorter = std::find_if(
        contents.blocks.rbegin(), contents.blocks.rend(), [&](const BlockInPlan& block) {
          return block.cells - surplus >= setup.rules.block_cells.min;
        });
    if (shorter == contents.blocks.rend()) return;  // no block can lose that many: keep the surplus
    const BlockRule rule = block_rule(setup.cell, shorter->stance, setup.rules);
    shorter->cells -= surplus;
    const Um length = rule.length(shorter->cells);
    if (shorter->runs == Run::u) {
      shorter->plan.x_high = shorter->plan.x_low + length;
    } else {
      shorter->plan.y_high = shorter->plan.y_low + length;
    }
    surplus = 0;
  }
}

BoxInPlan make_box(const Setup& setup, const Workbench& bench, const RowsAnswer& answer) {
  BoxInPlan box{place_contents(bench.view, bench.kinds, bench.tables, answer), {}, {}, answer.fittings};
  if (answer.filling.cells > setup.enough) {
    trim(box.contents, answer.filling.cells - setup.enough, setup);
  }
  for (const BlockInPlan& block : box.contents.blocks) {
    box.filling = box.filling + Filling{block.cells, 1};
  }
  return box;
}

/// Draws the outline; false when there is none or it does not keep its corner reliefs.
bool finish_outline(const Setup& setup, const region::FreePlan& plan, Um more_x, Um more_y,
                    BoxInPlan& box, OutlineAnswer& answer) {
  const std::vector<RectUm> all = box.contents.all();
  if (setup.any_outline) {
    if (auto hull = convex_outline(plan, all, setup.shell, setup.most_corners)) {
      box.outline = *hull;
      return true;
    }
  }
  answer = right_angled_outline(plan, all, setup.shell + more_x, setup.shell + more_y);
  if (answer.fault != OutlineFault::none) return false;
  if (answer.outline.size() > setup.most_corners) return false;
  box.outline = answer.outline;
  return relief_kept(box.outline, all, setup.rules.wall.um(), setup.rules.corner_relief.um());
}

/// The same plan with a slit from `at` to the edge of the plan in one of four directions, to open a ring.
region::FreePlan with_slit(const region::FreePlan& plan, PointUm at, int direction) {
  const geometry::SpanUm x = plan.extent(Strips::along_y), y = plan.extent(Strips::along_x);
  const PointUm ends[] = {{x.low, at.t}, {x.high, at.t}, {at.s, y.low}, {at.s, y.high}};
  std::vector<Wall> walls = plan.walls(Strips::along_x);
  walls.emplace_back(std::vector<Loop>{{at, ends[direction]}}, Side::inside, 1, 0);
  return region::FreePlan(std::move(walls), plan.names());
}

bool better_box(const BoxInPlan& a, const BoxInPlan& b) {
  if (std::popcount(a.fittings) != std::popcount(b.fittings)) {
    return std::popcount(a.fittings) > std::popcount(b.fittings);
  }
  if (a.filling != b.filling) return a.filling.better_than(b.filling);
  if (a.outline.size() != b.outline.size()) return a.outline.size() < b.outline.size();
  return doubled_area(a.outline) < doubled_area(b.outline);
}

void keep_better(std::optional<BoxInPlan>& best, std::optional<BoxInPlan> box) {
  if (box && (!best || better_box(*box, *best))) best = std::move(box);
}

class BoxBuilder {
 public:
  BoxBuilder(const Setup& setup, const Attempt& attempt, long long& steps)
      : setup_(setup), attempt_(attempt), steps_(steps) {}

  /// Best box in the plan or in one part of it, rings slit open where need be.
  std::optional<BoxInPlan> build(const region::FreePlan& plan, const region::FreePlan& outside,
                                 const RunFilter* filter, int cuts) {
    std::optional<BoxInPlan> best;
    OutlineAnswer fault;
    keep_better(best, variant(plan, outside, filter, 0, 0, fault));
    const bool fell_short = !best;
    if (fell_short && fault.fault == OutlineFault::none && setup_.relief_excess > 0) {
      OutlineAnswer ignored;
      keep_better(best, variant(plan, outside, filter, setup_.relief_excess, 0, ignored));
      keep_better(best, variant(plan, outside, filter, 0, setup_.relief_excess, ignored));
    }
    if (fault.fault == OutlineFault::ring && cuts < most_cuts) {
      for (int direction = 0; direction < 4; ++direction) {
        keep_better(best, build(with_slit(plan, fault.fault_at, direction),
                                with_slit(outside, fault.fault_at, direction), filter, cuts + 1));
      }
    }
    apart_ |= fault.fault == OutlineFault::apart;
    return best;
  }

  bool was_apart() const { return apart_; }
  const RowsAnswer& rows() const { return rows_; }
  /// Best of the first search, before any outline, slit or part narrowed it.
  const Filling& rows_bound() const { return rows_bound_; }

 private:
  std::optional<BoxInPlan> variant(const region::FreePlan& plan, const region::FreePlan& outside,
                                   const RunFilter* filter, Um more_along, Um more_across,
                                   OutlineAnswer& fault) {
    const Workbench bench(setup_, plan, attempt_, more_along, more_across, filter);
    const RowsAnswer answer = best_rows(bench.view, bench.kinds, bench.tables, setup_.enough, 1);
    steps_ += bench.view.steps();
    if (!searched_) rows_bound_ = answer.filling;
    searched_ = true;
    if (answer.filling.cells == 0) return std::nullopt;
    rows_ = answer;
    BoxInPlan box = make_box(setup_, bench, answer);
    if (setup_.loose) return box;
    const bool on_x = attempt_.strips == Strips::along_x;
    if (!finish_outline(setup_, outside, on_x ? more_along : more_across,
                        on_x ? more_across : more_along, box, fault)) {
      return std::nullopt;
    }
    return box;
  }

  const Setup& setup_;
  const Attempt& attempt_;
  long long& steps_;
  RowsAnswer rows_;
  Filling rows_bound_;
  bool searched_ = false, apart_ = false;
};

Solved gather(std::vector<BoxInPlan> boxes, const RowsAnswer& rows) {
  Solved solved{std::move(boxes), rows, {}, 0, 0, 0};
  for (const BoxInPlan& box : solved.boxes) {
    solved.filling = solved.filling + box.filling;
    solved.fittings |= box.fittings;
    solved.corners += box.outline.size();
    solved.doubled_area += doubled_area(box.outline);
  }
  return solved;
}

/// Breadths that sums of strips can have, gaps included, up to the widest.
std::vector<Um> strip_sums(const std::vector<StripKind>& kinds, Um gap, Um widest) {
  constexpr std::size_t most_sums = 4'000;
  std::set<Um> sums, frontier{-gap};
  while (!frontier.empty() && sums.size() < most_sums) {
    std::set<Um> next;
    for (const Um sum : frontier) {
      for (const StripKind& kind : kinds) {
        const Um wider = sum + gap + kind.breadth;
        if (wider <= widest && sums.insert(wider).second) next.insert(wider);
      }
    }
    frontier = std::move(next);
  }
  return {sums.begin(), sums.end()};
}

/// Run lengths at which a row of a rectangular box can hold something more: blocks, fittings beside them, and the
/// reliefs at both ends.
std::vector<Um> length_thresholds(const Setup& setup, const Workbench& bench) {
  std::set<Um> beside{0};
  for (const FittingItem& item : setup.items) {
    std::set<Um> more = beside;
    for (const Um so_far : beside) {
      for (const auto& turned : StripView::turns(item, bench.view.strips())) {
        more.insert(so_far + turned.first + setup.gap);
      }
    }
    beside = std::move(more);
  }
  std::set<Um> lengths;
  for (const Um fittings : beside) {
    for (const Um reliefs : {Um{0}, setup.relief_excess, 2 * setup.relief_excess}) {
      if (fittings > 0) lengths.insert(fittings - setup.gap + reliefs);
      for (const FillTable& table : bench.tables) {
        for (const FillTable::Entry& entry : table.entries()) lengths.insert(entry.needed + fittings + reliefs);
      }
    }
  }
  return {lengths.begin(), lengths.end()};
}

Um ceil_area_cells(const Setup& setup, const HeightClass& height, Um length, Um breadth) {
  Um cells = 0;
  for (const Stance stance : height.stances) {
    const BlockRule rule = block_rule(setup.cell, stance, setup.rules);
    cells = std::max(cells, (length / rule.cell_along + 1) * (breadth / rule.breadth + 1));
  }
  return cells;
}

/// The plan inside one rectangular box, with its corner reliefs as obstacles.
region::FreePlan rectangle_plan(const Setup& setup, const RectUm& r) {
  const Loop frame{{r.x_low, r.y_low}, {r.x_high, r.y_low}, {r.x_high, r.y_high}, {r.x_low, r.y_high}};
  std::vector<Wall> walls{Wall({frame}, Side::outside, 0, 0)};
  if (const Um e = setup.relief_excess; e > 0) {
    std::vector<Loop> squares;
    for (const auto& [x, y] : {std::pair{r.x_low, r.y_low}, std::pair{r.x_high - e, r.y_low},
                               std::pair{r.x_high - e, r.y_high - e}, std::pair{r.x_low, r.y_high - e}}) {
      squares.push_back({{x, y}, {x + e, y}, {x + e, y + e}, {x, y + e}});
    }
    walls.emplace_back(std::move(squares), Side::inside, 0, 0);
  }
  return region::FreePlan(std::move(walls), {"box wall"});
}

/// Best rectangular box: for every breadth that strips can add up to, the longest rectangle of that
/// breadth the plan admits, filled exactly.
Outcome solve_rectangle(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                        long long& steps) {
  const Workbench bench(setup, plan, attempt, 0, 0, nullptr);
  std::vector<Um> breadths;
  for (const Um sum : strip_sums(bench.kinds, setup.gap, bench.view.extent().length())) {
    for (int ends = 0; ends <= (setup.relief_excess > 0 ? 2 : 0); ++ends) {
      breadths.push_back(sum + ends * setup.relief_excess);
    }
  }
  std::sort(breadths.rbegin(), breadths.rend());
  const std::vector<Um> thresholds = length_thresholds(setup, bench);
  std::optional<BoxInPlan> best;
  RowsAnswer rows;
  for (const Um breadth : breadths) {
    const StripView::Longest longest = bench.view.longest_run(breadth, thresholds);
    if (longest.length == 0) continue;
    if (best && ceil_area_cells(setup, setup.heights[attempt.height], longest.length, breadth) <
                    best->filling.cells) {
      continue;
    }
    const Um s_low = longest.s - setup.shell, s_high = longest.s + longest.length + setup.shell;
    const Um t_low = longest.t - setup.shell, t_high = longest.t + breadth + setup.shell;
    const RectUm outer = attempt.strips == Strips::along_x ? RectUm{s_low, s_high, t_low, t_high}
                                                           : RectUm{t_low, t_high, s_low, s_high};
    const region::FreePlan inner = rectangle_plan(setup, outer);
    const Workbench inner_bench(setup, inner, attempt, 0, 0, nullptr);
    const RowsAnswer answer =
        best_rows(inner_bench.view, inner_bench.kinds, inner_bench.tables, setup.enough, 1);
    steps += inner_bench.view.steps();
    if (answer.filling.cells == 0) continue;
    BoxInPlan box = make_box(setup, inner_bench, answer);
    OutlineAnswer fault;
    // The smallest rectangle around the contents; with reliefs the full one may be needed.
    const bool tight = finish_outline(setup, inner, 0, 0, box, fault) && box.outline.size() == 4;
    if (!tight) {
      box.outline = {{outer.x_low, outer.y_low}, {outer.x_high, outer.y_low},
                     {outer.x_high, outer.y_high}, {outer.x_low, outer.y_high}};
    }
    if (!best || better_box(box, *best)) {
      best = std::move(box);
      rows = answer;
    }
  }
  steps += bench.view.steps();
  if (!best) return {};
  const Filling filling = best->filling;
  return {gather({std::move(*best)}, rows), filling};
}

/// Boxes in parts of the plan that do not hang together: the best of them, as many as the rules allow. One
/// of them keeps the fittings, the one that loses least by it.
std::vector<BoxInPlan> boxes_apart(const Setup& setup, const region::FreePlan& plan,
                                   const region::FreePlan& outside, const Attempt& attempt,
                                   BoxBuilder& builder, long long& steps) {
  const Parts parts(plan, attempt.strips, 2 * setup.shell + least_neck_um);
  Setup bare = setup;
  bare.items.clear();
  bare.item_fitting.clear();
  std::vector<BoxInPlan> boxes;
  std::optional<BoxInPlan> keeper;
  std::size_t keeper_at = 0;
  int least_loss = 0;
  for (int part = 0; part < parts.count(); ++part) {
    const Parts::Only only(parts, part);
    BoxBuilder plain(bare, attempt, steps);
    auto box = plain.build(plan, outside, &only, 0);
    if (!box) continue;
    if (!setup.items.empty()) {
      auto with = builder.build(plan, outside, &only, 0);
      const int loss = with ? box->filling.cells - with->filling.cells : 0;
      if (with && (!keeper || std::popcount(with->fittings) > std::popcount(keeper->fittings) ||
                   (with->fittings == keeper->fittings && loss < least_loss))) {
        keeper = std::move(with);
        keeper_at = boxes.size();
        least_loss = loss;
      }
    }
    boxes.push_back(std::move(*box));
  }
  if (keeper) boxes[keeper_at] = std::move(*keeper);
  std::stable_sort(boxes.begin(), boxes.end(), better_box);
  if (static_cast<int>(boxes.size()) > setup.rules.boxes_per_cavity) {
    boxes.resize(static_cast<std::size_t>(setup.rules.boxes_per_cavity));
  }
  return boxes;
}

}  // namespace

RowsAnswer bound_of(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                    Um resolution, long long& steps) {
  const Workbench bench(setup, plan, attempt, 0, 0, nullptr);
  RowsAnswer answer = best_rows(bench.view, bench.kinds, bench.tables, setup.enough, resolution);
  steps += bench.view.steps();
  return answer;
}

Filling bound_by_parts(const Setup& setup, const region::FreePlan& plan, const Attempt& attempt,
                       Um resolution, long long& steps) {
  const Parts parts(plan, attempt.strips, 2 * setup.shell + least_neck_um);
  Filling best;
  for (int part = 0; part < parts.count(); ++part) {
    const Parts::Only only(parts, part);
    const Workbench bench(setup, plan, attempt, 0, 0, &only);
    const RowsAnswer rows = best_rows(bench.view, bench.kinds, bench.tables, setup.enough, resolution);
    steps += bench.view.steps();
    if (rows.filling.better_than(best)) best = rows.filling;
  }
  const int boxes = setup.rules.boxes_per_cavity;
  return {best.cells * boxes, boxes > 1 ? 1 : best.blocks};
}

Outcome solve(const Setup& setup, const region::FreePlan& plan, const region::FreePlan& outside,
              const Attempt& attempt, long long& steps) {
  if (setup.rules.box_outline == survey::BoxOutline::rectangle) {
    return solve_rectangle(setup, plan, attempt, steps);
  }
  BoxBuilder builder(setup, attempt, steps);
  std::vector<BoxInPlan> boxes;
  if (auto box = builder.build(plan, outside, nullptr, 0)) {
    boxes.push_back(std::move(*box));
  } else if (builder.was_apart()) {
    boxes = boxes_apart(setup, plan, outside, attempt, builder, steps);
  }
  Filling bound = builder.rows_bound();
  if (builder.was_apart()) {
    const Filling parts = bound_by_parts(setup, plan, attempt, 1, steps);
    if (bound.better_than(parts)) bound = parts;
  }
  if (boxes.empty() && setup.any_outline) {
    // No slanting box goes round them: a right-angled one with few corners, else a rectangle, always may.
    Setup square = setup;
    square.any_outline = false;
    Outcome outcome = solve(square, outside, outside, attempt, steps);
    if (!outcome.solved) outcome = solve_rectangle(square, outside, attempt, steps);
    return {std::move(outcome.solved), bound};
  }
  if (boxes.empty()) return {std::nullopt, bound};
  return {gather(std::move(boxes), builder.rows()), bound};
}

}  // namespace cellstow::packing
