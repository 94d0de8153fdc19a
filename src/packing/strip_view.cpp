#include "strip_view.hpp"

#include <algorithm>
#include <iterator>

namespace cellstow::packing {
namespace {

/// More corners than this are not worth stopping at one by one.
constexpr std::size_t most_levels = 600;

}  // namespace

StripView::StripView(const region::FreePlan& plan, Strips strips, Um shell_along, Um shell_across,
                     Um gap, std::vector<FittingItem> fittings, const RunFilter* filter,
                       const Overlay* overlay)
    : plan_(plan),
      strips_(strips),
      shell_along_(shell_along),
      shell_across_(shell_across),
      gap_(gap),
      fittings_(std::move(fittings)),
      extent_(plan.extent(strips)),
      longest_possible_run_(plan.extent(other(strips)).length() + 2 * std::max<Um>(0, -shell_along)),
      levels_(plan.levels(strips, most_levels)),
      filter_(filter),
      overlay_(overlay) {
  if (overlay_ == nullptr) return;
  extent_.low = std::max(extent_.low, overlay_->window_t.low - shell_across_);
  extent_.high = std::min(extent_.high, overlay_->window_t.high + shell_across_);
  longest_possible_run_ = std::min(longest_possible_run_, overlay_->window_s.length());
}

std::vector<std::pair<Um, Um>> StripView::turns(const FittingItem& item, Strips strips) {
  std::pair<Um, Um> straight{item.size_x, item.size_y};
  if (strips == Strips::along_y) std::swap(straight.first, straight.second);
  if (straight.first == straight.second) return {straight};
  return {straight, {straight.second, straight.first}};
}

void StripView::runs_between(Um low, Um high, std::vector<SpanUm>& runs) const {
  steps_ += plan_.weight();
  plan_.free_spans(strips_, low, high, runs);
  if (filter_ != nullptr) {
    std::erase_if(runs, [&](const SpanUm& run) { return !filter_->keeps(run, low, high); });
  }
  for (SpanUm& run : runs) run = {run.low + shell_along_, run.high - shell_along_};
  if (overlay_ != nullptr) subtract_overlay(low + shell_across_, high - shell_across_, runs);
  std::erase_if(runs, [](const SpanUm& run) { return run.high <= run.low; });
}

/// Contents from low to high. For the strip common to a range of positions low may lie above high: then only what
/// is in the way at every position counts, which is the same condition.
void StripView::subtract_overlay(Um low, Um high, std::vector<SpanUm>& runs) const {
  for (SpanUm& run : runs) {
    run = {std::max(run.low, overlay_->window_s.low), std::min(run.high, overlay_->window_s.high)};
  }
  for (const Overlay::Taken& taken : overlay_->taken) {
    if (taken.t.low >= high || taken.t.high <= low) continue;
    const std::size_t count = runs.size();
    for (std::size_t i = 0; i < count; ++i) {
      SpanUm& run = runs[i];
      if (taken.s.low >= run.high || taken.s.high <= run.low) continue;
      const SpanUm behind{taken.s.high, run.high};
      run.high = taken.s.low;
      if (behind.low < behind.high) runs.push_back(behind);
    }
  }
  std::sort(runs.begin(), runs.end(), [](const SpanUm& a, const SpanUm& b) { return a.low < b.low; });
}

std::vector<SpanUm> StripView::runs(Um t, Um breadth) const {
  std::vector<SpanUm> runs;
  runs_between(t - shell_across_, t + breadth + shell_across_, runs);
  return runs;
}

/// Runs far enough apart are filled one by one. Where a thin obstacle leaves two runs closer than
/// the gap between blocks, all ways of sharing that gap are weighed.
Filling StripView::fill_runs(const FillTable& table, const std::vector<SpanUm>& runs,
                             std::vector<RunFill>* fills) const {
  struct Partial {
    Filling filling;
    Um end;
    std::vector<RunFill> fills;
  };
  // Ends later and holds no more: nothing that follows can make up for it.
  const auto drop_dominated = [](std::vector<Partial>& all) {
    std::stable_sort(all.begin(), all.end(), [](const Partial& a, const Partial& b) {
      return a.end != b.end ? a.end < b.end : a.filling.better_than(b.filling);
    });
    std::vector<Partial> kept;
    for (Partial& partial : all) {
      if (kept.empty() || partial.filling.better_than(kept.back().filling)) kept.push_back(std::move(partial));
    }
    all = std::move(kept);
  };
  std::vector<Partial> partials{{{}, -geometry::far_um, {}}};
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const bool close_to_next = i + 1 < runs.size() && runs[i + 1].low - runs[i].high < gap_;
    std::vector<Partial> next;
    auto take = [&](const Partial& from, Um start, const Filling& filling, Um end) {
      Partial partial{from.filling + filling, end, {}};
      if (fills != nullptr) {
        partial.fills = from.fills;
        // Contents that share a gap with a neighbouring run stay where they are.
        const Um spare = close_to_next || start > runs[i].low
                             ? 0
                             : runs[i].length() - table.needed(filling);
        partial.fills.push_back({runs[i], start, start + spare, filling, {}});
      }
      next.push_back(std::move(partial));
    };
    for (const Partial& partial : partials) {
      const Um start = std::max(runs[i].low, partial.end + gap_);
      const Um room = runs[i].high - start;
      const Filling most = table.best(room);
      take(partial, start, most, start + table.needed(most));
      if (!close_to_next) continue;
      take(partial, start, {}, partial.end);
      for (const FillTable::Entry& entry : table.entries()) {
        if (entry.needed > room) break;
        take(partial, start, entry.filling, start + entry.needed);
      }
    }
    if (close_to_next && fills == nullptr) drop_dominated(next);
    if (!close_to_next) {
      auto best = std::max_element(next.begin(), next.end(), [](const auto& a, const auto& b) {
        return b.filling.better_than(a.filling);
      });
      Partial chosen = std::move(*best);
      chosen.end = -geometry::far_um;
      next.clear();
      next.push_back(std::move(chosen));
    }
    partials = std::move(next);
  }
  if (fills != nullptr) *fills = partials.front().fills;
  return partials.front().filling;
}

/// Best filling when every fitting of the subset stands in one of the runs, at its end.
Filling StripView::with_fittings(const StripKind& kind, const FillTable& table,
                                 const std::vector<SpanUm>& runs, unsigned subset,
                                 std::vector<RunFill>* fills) const {
  if (subset == 0) return fill_runs(table, runs, fills);
  std::size_t first = 0;
  while (!(subset >> first & 1U)) ++first;
  Filling best = impossible;
  for (const auto& [along, across] : turns(fittings_[first], strips_)) {
    if (across > kind.breadth) continue;
    for (std::size_t i = 0; i < runs.size(); ++i) {
      if (runs[i].length() < along) continue;
      std::vector<SpanUm> rest = runs;
      rest[i].high -= along + gap_;   // may turn the run inside out: then nothing else fits in it
      std::vector<RunFill> inner;
      const Filling filling = with_fittings(kind, table, rest, subset & ~(1U << first),
                                            fills == nullptr ? nullptr : &inner);
      if (!filling.better_than(best)) continue;
      best = filling;
      if (fills == nullptr) continue;
      *fills = std::move(inner);
      RunFill& fill = (*fills)[i];
      fill.fittings.insert(fill.fittings.begin(), {first, along, across});
    }
  }
  return best;
}

StripValue StripView::value_between(const StripKind& kind, const FillTable& table, Um low,
                                    Um high) const {
  thread_local std::vector<SpanUm> runs;
  runs_between(low, high, runs);
  const unsigned subsets = 1U << fittings_.size();
  StripValue value(subsets, impossible);
  value[0] = runs.empty() ? Filling{} : fill_runs(table, runs, nullptr);
  for (unsigned subset = 1; subset < subsets && !runs.empty(); ++subset) {
    value[subset] = with_fittings(kind, table, runs, subset, nullptr);
  }
  return value;
}

std::vector<RunFill> StripView::fill(const StripKind& kind, const FillTable& table, Um t,
                                     unsigned subset) const {
  std::vector<RunFill> fills;
  const std::vector<SpanUm> all = runs(t, kind.breadth);
  if (!all.empty()) with_fittings(kind, table, all, subset, &fills);
  for (RunFill& fill : fills) {
    // The run as it was before fittings took their share, so that contents may slide along it.
    for (const TurnedFitting& fitting : fill.fittings) fill.run.high += fitting.along + gap_;
  }
  return fills;
}

void StripView::append(Um from, Um to, StripValue value, std::vector<Piece>& pieces) {
  if (!pieces.empty() && pieces.back().value == value && pieces.back().to + 1 == from) {
    pieces.back().to = to;
  } else {
    pieces.push_back({from, to, std::move(value)});
  }
}

namespace {

/// Neither cells nor fittings.
bool is_nothing(const StripValue& value) {
  return value[0].cells == 0 &&
         std::all_of(value.begin() + 1, value.end(), [](const Filling& f) { return f == impossible; });
}

}  // namespace

/// Appends a range whose strips are all worth the same; false when that is not sure.
bool StripView::settled(const StripKind& kind, const FillTable& table, Um from, Um to,
                        std::vector<Piece>& pieces) const {
  const Um common_low = to - shell_across_, common_high = from + kind.breadth + shell_across_;
  if (common_low >= common_high) return false;
  StripValue most = value_between(kind, table, common_low, common_high);
  if (!is_nothing(most) &&
      most != value_between(kind, table, from - shell_across_, to + kind.breadth + shell_across_)) {
    return false;
  }
  append(from, to, std::move(most), pieces);
  return true;
}

void StripView::settle(const StripKind& kind, const FillTable& table, Um from, Um to,
                       Um resolution, Rounding rounding, std::vector<Piece>& pieces) const {
  const Um low = from - shell_across_, high = to + kind.breadth + shell_across_;
  if (from == to) return append(from, to, value_between(kind, table, low, high), pieces);
  const Um common_low = to - shell_across_, common_high = from + kind.breadth + shell_across_;
  if (common_low < common_high) {
    StripValue most = value_between(kind, table, common_low, common_high);
    if (is_nothing(most)) return append(from, to, std::move(most), pieces);
    const bool round = to - from < resolution;
    if (round && rounding == Rounding::bound) return append(from, to, std::move(most), pieces);
    StripValue least = value_between(kind, table, low, high);
    if (round || most == least) return append(from, to, std::move(least), pieces);
  }
  const Um middle = from + (to - from) / 2;
  settle(kind, table, from, middle, resolution, rounding, pieces);
  settle(kind, table, middle + 1, to, resolution, rounding, pieces);
}

std::vector<Um> StripView::ends(Um breadth) const {
  const Um first = extent_.low + shell_across_;
  const Um last = extent_.high - breadth - shell_across_;
  if (last < first) return {};
  if (last == first) return {first};
  return {first, last};
}

std::vector<Um> StripView::stops(Um breadth) const {
  std::vector<Um> stops = ends(breadth);
  if (stops.empty()) return stops;
  const Um first = stops.front(), last = stops.back();
  for (const Um level : levels_) {
    stops.push_back(level + shell_across_);
    stops.push_back(level - breadth - shell_across_);
  }
  if (overlay_ != nullptr) {
    for (const Overlay::Taken& taken : overlay_->taken) {
      stops.push_back(taken.t.high);
      stops.push_back(taken.t.low - breadth);
    }
  }
  std::erase_if(stops, [&](Um stop) { return stop < first || stop > last; });
  std::sort(stops.begin(), stops.end());
  stops.erase(std::unique(stops.begin(), stops.end()), stops.end());
  return stops;
}

/// The stops, and the ranges of positions between two of them, in order.
std::vector<StripView::Range> StripView::stops_and_between(const std::vector<Um>& stops) {
  std::vector<Range> ranges;
  for (std::size_t i = 0; i < stops.size(); ++i) {
    ranges.push_back({stops[i], stops[i], false});
    if (i + 1 < stops.size() && stops[i] + 1 < stops[i + 1]) ranges.push_back({stops[i] + 1, stops[i + 1] - 1, true});
  }
  return ranges;
}

std::vector<Piece> StripView::pieces(const StripKind& kind, const FillTable& table, Um resolution,
                                     Rounding rounding) const {
  std::vector<Piece> pieces;
  // A bound needs no stop at every corner: the best case of a short range covers them.
  const bool coarse = resolution > 1 && rounding == Rounding::bound;
  const std::vector<Um> at = coarse ? ends(kind.breadth) : stops(kind.breadth);
  const std::vector<Range> ranges = stops_and_between(at);
  const auto visit = [&](auto&& self, std::size_t first, std::size_t last) -> void {
    const Um from = ranges[first].low, to = ranges[last].high;
    if (first == last) return settle(kind, table, from, to, resolution, rounding, pieces);
    if (!coarse && settled(kind, table, from, to, pieces)) return;
    const std::size_t middle = first + (last - first) / 2;
    self(self, first, middle);
    self(self, middle + 1, last);
  };
  if (!ranges.empty()) visit(visit, 0, ranges.size() - 1);
  return pieces;
}

StripView::Longest StripView::longest_run(Um breadth, const std::vector<Um>& thresholds, Um already,
                                          Um resolution) const {
  Longest best;
  auto matters_more = [&](Um length) {
    const auto next = std::upper_bound(thresholds.begin(), thresholds.end(), std::max(best.length, already));
    return next != thresholds.end() && length >= *next;
  };
  std::vector<SpanUm> runs;
  auto longest = [&](Um low, Um high) {
    runs_between(low, high, runs);
    SpanUm longest{0, 0};
    for (const SpanUm& run : runs) {
      if (run.length() > longest.length()) longest = run;
    }
    return longest;
  };
  auto search = [&](auto&& self, Um from, Um to) -> void {
    const Um common_low = to - shell_across_, common_high = from + breadth + shell_across_;
    if (from != to && common_low < common_high) {
      const SpanUm run = longest(common_low, common_high);
      if (!matters_more(run.length())) return;
      if (to - from < resolution) {
        best = {run.length(), from, run.low};
        return;
      }
    }
    if (from == to) {
      const SpanUm run = longest(from - shell_across_, from + breadth + shell_across_);
      if (matters_more(run.length())) best = {run.length(), from, run.low};
      return;
    }
    const Um middle = from + (to - from) / 2;
    self(self, from, middle);
    self(self, middle + 1, to);
  };
  // Stops before what is between them; many that cannot matter are passed over by what all their strips have in common.
  const auto visit = [&](auto&& self, const std::vector<Range>& ranges, std::size_t first, std::size_t last) -> void {
    const Um from = ranges[first].low, to = ranges[last].high;
    if (first == last) return search(search, from, to);
    const Um common_low = to - shell_across_, common_high = from + breadth + shell_across_;
    if (common_low < common_high && !matters_more(longest(common_low, common_high).length())) return;
    const std::size_t middle = first + (last - first) / 2;
    self(self, ranges, first, middle);
    self(self, ranges, middle + 1, last);
  };
  const std::vector<Range> all = stops_and_between(resolution > 1 ? ends(breadth) : stops(breadth));
  for (const bool between : {false, true}) {
    std::vector<Range> ranges;
    std::copy_if(all.begin(), all.end(), std::back_inserter(ranges), [&](const Range& r) { return r.is_between == between; });
    if (!ranges.empty()) visit(visit, ranges, 0, ranges.size() - 1);
  }
  return best;
}

}  // namespace cellstow::packing
