#include "mixed.hpp"

#include <algorithm>
#include <numeric>
#include <optional>

#include "rows.hpp"

namespace cellstow::packing {
namespace {

/// Positions of strips in a window are settled to this: finer gains next to nothing and costs much.
constexpr Um resolution_um = 500;
/// Rounds between two pushes to one side.
constexpr int rounds_a_push = 6;

SpanUm span_x(const RectUm& r) { return {r.x_low, r.x_high}; }
SpanUm span_y(const RectUm& r) { return {r.y_low, r.y_high}; }

bool meet(const RectUm& a, const RectUm& b) {
  return a.x_low < b.x_high && b.x_low < a.x_high && a.y_low < b.y_high && b.y_low < a.y_high;
}

RectUm widened(const RectUm& r, Um by) { return {r.x_low - by, r.x_high + by, r.y_low - by, r.y_high + by}; }

RectUm around(const RectUm& a, const RectUm& b) {
  return {std::min(a.x_low, b.x_low), std::max(a.x_high, b.x_high), std::min(a.y_low, b.y_low),
          std::max(a.y_high, b.y_high)};
}

/// Room between two rectangles, the larger of both axes.
Um distance(const RectUm& a, const RectUm& b) {
  const Um x = std::max({Um{0}, a.x_low - b.x_high, b.x_low - a.x_high});
  const Um y = std::max({Um{0}, a.y_low - b.y_high, b.y_low - a.y_high});
  return std::max(x, y);
}

Overlay overlay_of(Strips strips, const RectUm& window, const std::vector<RectUm>& taken, Um gap) {
  const bool on_x = strips == Strips::along_x;
  Overlay overlay{on_x ? span_x(window) : span_y(window), on_x ? span_y(window) : span_x(window), {}};
  for (const RectUm& body : taken) {
    const RectUm wide = widened(body, gap);
    if (!meet(wide, window)) continue;
    overlay.taken.push_back({on_x ? span_x(wide) : span_y(wide), on_x ? span_y(wide) : span_x(wide)});
  }
  return overlay;
}

/// Blocks along and across the strips, both at once.
std::vector<StripKind> kinds_of(const Setup& setup, const Tier& tier, Strips strips, Um broadest) {
  std::vector<StripKind> kinds = strip_kinds(setup, tier, {strips, false}, broadest);
  for (StripKind& kind : strip_kinds(setup, tier, {strips, true}, broadest)) {
    if (kind.laying == Laying::across) kinds.push_back(kind);
  }
  return kinds;
}

}  // namespace

Filling filling_of(const Contents& contents) {
  Filling filling;
  for (const BlockInPlan& block : contents.blocks) filling = filling + Filling{block.cells, 1};
  return filling;
}

bool better_contents(const Contents& a, const Contents& b) {
  if (a.fittings.size() != b.fittings.size()) return a.fittings.size() > b.fittings.size();
  return filling_of(a).better_than(filling_of(b));
}

MixedSearch::MixedSearch(const Setup& setup, const MixedPlace& place, const Tier& tier,
                         std::size_t tier_index, std::uint64_t seed)
    : setup_(setup), place_(place), tier_(tier), tier_index_(tier_index), state_(seed) {
  const BlockRule rule = block_rule(setup.cell, tier.stances.front(), setup.rules);
  splitting_is_free_ = rule.min_cells == 1 && rule.ends + setup.gap <= rule.between_cells;
}

/// splitmix64 (Steele, Lea, Flood 2014, from memory): small, and the same everywhere.
std::uint64_t MixedSearch::draw(std::uint64_t below) {
  std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  return (z ^ (z >> 31)) % below;
}

/// A block and its nearest neighbours, and a window a little wider than they are.
std::vector<std::size_t> MixedSearch::choose(const Contents& contents, RectUm& window) {
  const std::size_t count = contents.blocks.size();
  const BlockRule rule = block_rule(setup_.cell, tier_.stances.front(), setup_.rules);
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  const RectUm anchor = contents.blocks[draw(count)].plan;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return distance(anchor, contents.blocks[a].plan) < distance(anchor, contents.blocks[b].plan);
  });
  const std::size_t most = splitting_is_free_ ? 16 : 5;
  const std::size_t lifted = 1 + draw(std::min(count, most));
  window = anchor;
  for (std::size_t i = 0; i < lifted; ++i) window = around(window, contents.blocks[order[i]].plan);
  const auto margin = [&] { return static_cast<Um>(draw(3)) * rule.breadth / 2; };
  window = {window.x_low - margin(), window.x_high + margin(), window.y_low - margin(), window.y_high + margin()};
  if (draw(2) == 0) {
    // Everything within the window goes.
    std::vector<std::size_t> within;
    for (std::size_t i = 0; i < count; ++i) {
      const RectUm& body = contents.blocks[i].plan;
      if (window.x_low <= body.x_low && body.x_high <= window.x_high && window.y_low <= body.y_low &&
          body.y_high <= window.y_high) {
        within.push_back(i);
      }
    }
    return within;
  }
  order.resize(lifted);
  std::sort(order.begin(), order.end());
  return order;
}

Contents MixedSearch::refill(Contents contents, const RectUm& window, const std::vector<std::size_t>& lifted,
                             long long& steps) {
  for (auto i = lifted.rbegin(); i != lifted.rend(); ++i) {
    contents.blocks.erase(contents.blocks.begin() + static_cast<std::ptrdiff_t>(*i));
  }
  // A fitting within the window goes too; it has to find its place again.
  std::vector<std::size_t> fittings;
  std::erase_if(contents.fittings, [&](const FittingInPlan& fitting) {
    if (!meet(fitting.plan, window)) return false;
    fittings.push_back(fitting.index);
    return true;
  });
  const Contents filled = fill_either(&window, contents.all(), fittings, steps);
  contents.blocks.insert(contents.blocks.end(), filled.blocks.begin(), filled.blocks.end());
  contents.fittings.insert(contents.fittings.end(), filled.fittings.begin(), filled.fittings.end());
  return contents;
}

Contents MixedSearch::begin(long long& steps) {
  std::vector<std::size_t> fittings(items_in(setup_, tier_).size());
  std::iota(fittings.begin(), fittings.end(), std::size_t{0});
  return fill_either(nullptr, {}, fittings, steps);
}

/// The better of both directions of strips.
Contents MixedSearch::fill_either(const RectUm* window, const std::vector<RectUm>& taken,
                                  const std::vector<std::size_t>& fittings, long long& steps) {
  std::vector<FittingItem> items;
  for (const std::size_t index : fittings) items.push_back(setup_.items[index]);
  std::optional<Contents> best;
  for (const Strips strips : {Strips::along_x, Strips::along_y}) {
    const Overlay overlay = window != nullptr ? overlay_of(strips, *window, taken, setup_.gap) : Overlay{};
    Contents filled = fill(strips, window != nullptr ? &overlay : nullptr, items, steps);
    for (FittingInPlan& fitting : filled.fittings) fitting.index = fittings[fitting.index];
    const bool equal = best && filled.fittings.size() == best->fittings.size() &&
                       filling_of(filled) == filling_of(*best);
    if (!best || better_contents(filled, *best) || (equal && draw(2) == 0)) best = std::move(filled);
  }
  return *best;
}

/// Best strips of one direction, blocks along and across.
Contents MixedSearch::fill(Strips strips, const Overlay* overlay, const std::vector<FittingItem>& items,
                           long long& steps) {
  const bool on_x = strips == Strips::along_x;
  const StripView view(place_.plan, strips, on_x ? place_.shell_x : place_.shell_y,
                       on_x ? place_.shell_y : place_.shell_x, setup_.gap, items, place_.filter, overlay);
  const auto kinds = kinds_of(setup_, tier_, strips, view.extent().length());
  const auto tables = fill_tables(kinds, setup_.gap, view.longest_possible_run());
  const RowsAnswer rows = best_rows(view, kinds, tables, 1'000'000, resolution_um, Rounding::sure);
  Contents filled = place_contents(view, kinds, tables, rows, tier_index_);
  steps += view.steps();
  return filled;
}

/// Free spans for contents in a strip.
void MixedSearch::free_spans(Strips strips, SpanUm across, std::vector<SpanUm>& runs) const {
  const bool on_x = strips == Strips::along_x;
  const Um along = on_x ? place_.shell_x : place_.shell_y, wide = on_x ? place_.shell_y : place_.shell_x;
  place_.plan.free_spans(strips, across.low - wide, across.high + wide, runs);
  for (SpanUm& run : runs) run = {run.low + along, run.high - along};
}

/// Everything slides one way until it meets a wall or a neighbour. 0, 1: to low and high x; 2, 3: to low and high y.
void MixedSearch::push(Contents& contents, int direction, long long& steps) const {
  const Strips strips = direction < 2 ? Strips::along_x : Strips::along_y;
  const bool to_low = direction % 2 == 0, on_x = direction < 2;
  std::vector<RectUm*> bodies;
  for (BlockInPlan& block : contents.blocks) bodies.push_back(&block.plan);
  for (FittingInPlan& fitting : contents.fittings) bodies.push_back(&fitting.plan);
  std::stable_sort(bodies.begin(), bodies.end(), [&](const RectUm* a, const RectUm* b) {
    if (on_x) return to_low ? a->x_low < b->x_low : a->x_high > b->x_high;
    return to_low ? a->y_low < b->y_low : a->y_high > b->y_high;
  });
  std::vector<SpanUm> runs;
  for (RectUm* body : bodies) {
    const SpanUm s = on_x ? span_x(*body) : span_y(*body), t = on_x ? span_y(*body) : span_x(*body);
    steps += place_.plan.weight();
    free_spans(strips, t, runs);
    const auto here = std::find_if(runs.begin(), runs.end(), [&](const SpanUm& run) {
      return run.low <= s.low && s.high <= run.high;
    });
    if (here == runs.end()) continue;
    SpanUm room = *here;
    for (const RectUm* other : bodies) {
      if (other == body) continue;
      const SpanUm os = on_x ? span_x(*other) : span_y(*other), ot = on_x ? span_y(*other) : span_x(*other);
      if (ot.high + setup_.gap <= t.low || t.high + setup_.gap <= ot.low) continue;
      if (os.high <= s.low) room.low = std::max(room.low, os.high + setup_.gap);
      if (os.low >= s.high) room.high = std::min(room.high, os.low - setup_.gap);
    }
    const Um shift = to_low ? room.low - s.low : room.high - s.high;
    (on_x ? body->x_low : body->y_low) += shift;
    (on_x ? body->x_high : body->y_high) += shift;
  }
}

/// Where a block's end costs no length, every cell moves by itself.
void MixedSearch::split_blocks(Contents& contents) const {
  if (!splitting_is_free_) return;
  std::vector<BlockInPlan> single;
  for (const BlockInPlan& block : contents.blocks) {
    const BlockRule rule = block_rule(setup_.cell, block.stance, setup_.rules);
    for (int k = 0; k < block.cells; ++k) {
      BlockInPlan cell = block;
      cell.cells = 1;
      const Um from = k * (rule.cell_along + rule.between_cells);
      if (block.runs == Run::u) {
        cell.plan.x_low = block.plan.x_low + from;
        cell.plan.x_high = cell.plan.x_low + rule.length(1);
      } else {
        cell.plan.y_low = block.plan.y_low + from;
        cell.plan.y_high = cell.plan.y_low + rule.length(1);
      }
      single.push_back(cell);
    }
  }
  contents.blocks = std::move(single);
}

void MixedSearch::join_blocks(Contents& contents) const {
  for (bool joined = true; joined;) {
    joined = false;
    for (std::size_t i = 0; i < contents.blocks.size() && !joined; ++i) {
      for (std::size_t j = 0; j < contents.blocks.size() && !joined; ++j) {
        BlockInPlan &a = contents.blocks[i], &b = contents.blocks[j];
        if (i == j || a.runs != b.runs || a.stance != b.stance) continue;
        const BlockRule rule = block_rule(setup_.cell, a.stance, setup_.rules);
        const bool on_x = a.runs == Run::u;
        const SpanUm sa = on_x ? span_x(a.plan) : span_y(a.plan), sb = on_x ? span_x(b.plan) : span_y(b.plan);
        const SpanUm ta = on_x ? span_y(a.plan) : span_x(a.plan), tb = on_x ? span_y(b.plan) : span_x(b.plan);
        if (ta.low != tb.low || ta.high != tb.high || sb.low < sa.high) continue;
        if (a.cells + b.cells > rule.max_cells || rule.length(a.cells + b.cells) > sb.high - sa.low) continue;
        RectUm between = around(a.plan, b.plan);
        (on_x ? between.x_low : between.y_low) = sa.high;
        (on_x ? between.x_high : between.y_high) = sb.low;
        const std::vector<RectUm> all = contents.all();
        const bool taken = std::any_of(all.begin(), all.end(), [&](const RectUm& other) {
          return other != a.plan && other != b.plan && meet(widened(other, setup_.gap), between);
        });
        const RectUm whole = around(a.plan, b.plan);
        if (taken || !place_.plan.covers(whole.x_low - place_.shell_x, whole.x_high + place_.shell_x,
                                         whole.y_low - place_.shell_y, whole.y_high + place_.shell_y)) {
          continue;
        }
        a.cells += b.cells;
        (on_x ? a.plan.x_high : a.plan.y_high) = sa.low + rule.length(a.cells);
        contents.blocks.erase(contents.blocks.begin() + static_cast<std::ptrdiff_t>(j));
        joined = true;
      }
    }
  }
}

Contents MixedSearch::improve(const Contents& start, int wanted, long long budget, long long& steps) {
  Contents best = start, now = start;
  split_blocks(now);
  const long long until = steps + budget;
  for (int round = 0; steps < until && filling_of(best).cells < wanted && !now.blocks.empty(); ++round) {
    if (setup_.stop != nullptr && *setup_.stop) break;
    if (round % rounds_a_push == rounds_a_push - 1) {
      push(now, static_cast<int>(draw(4)), steps);
      continue;
    }
    RectUm window;
    const std::vector<std::size_t> lifted = choose(now, window);
    Contents next = refill(now, window, lifted, steps);
    if (next.fittings.size() < now.fittings.size()) continue;
    split_blocks(next);
    const int lost = filling_of(now).cells - filling_of(next).cells;
    if (lost > 1 || (lost == 1 && draw(24) != 0)) continue;
    now = std::move(next);
    if (filling_of(now).cells > filling_of(best).cells) best = now;
  }
  join_blocks(best);
  return better_contents(start, best) ? start : best;
}

}  // namespace cellstow::packing
