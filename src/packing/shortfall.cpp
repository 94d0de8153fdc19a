#include "shortfall.hpp"

#include <algorithm>

namespace cellstow::packing {
namespace {

/// Name of the wall that ends a free run on its high or its low side; empty when none does.
std::string wall_at(const region::FreePlan& plan, Strips strips, Um t_low, Um t_high, Um s,
                    bool high_end) {
  for (const geometry::Wall& wall : plan.walls(strips)) {
    std::vector<geometry::SpanUm> blocked;
    wall.add_blocked(t_low, t_high, blocked);
    for (const auto& span : blocked) {
      if ((high_end ? span.low : span.high) != s) continue;
      if (wall.source() > 0) return plan.names()[static_cast<std::size_t>(wall.source())];
      if (strips == Strips::along_x) return high_end ? "rear wall" : "front wall";
      return high_end ? "right wall" : "left wall";
    }
  }
  return {};
}

struct Context {
  const Setup& setup;
  const region::FreePlan& plan;
  const StripView& view;
  Strips strips;
};

std::string ends_of(const Context& context, Um t, Um breadth, const SpanUm& run) {
  const Um low = t - context.setup.shell, high = t + breadth + context.setup.shell;
  const std::string start = wall_at(context.plan, context.strips, low, high,
                                    run.low - context.setup.shell, false);
  const std::string end = wall_at(context.plan, context.strips, low, high,
                                  run.high + context.setup.shell, true);
  if (start.empty() || end.empty() || start == end) return start.empty() ? end : start;
  return start + " and " + end;
}

void add_row(const Context& context, const StripKind& kind, const FillTable& table,
             const PlacedStrip& strip, std::vector<RowShortfall>& out) {
  const std::vector<SpanUm> runs = context.view.runs(strip.t, kind.breadth);
  const auto longest = std::max_element(runs.begin(), runs.end(), [](auto& a, auto& b) {
    return a.length() < b.length();
  });
  if (longest == runs.end()) return;
  const Filling now = table.best(longest->length());
  const Um needed = table.needed_for_more(now.cells);
  if (needed < 0 || now.cells == 0) return;
  RowShortfall row;
  row.at = Length::from_um(strip.t + kind.breadth / 2);
  row.along = context.strips == Strips::along_x ? Run::u : Run::v;
  row.cells = now.cells;
  row.heading = context.setup.heading;
  row.middle = Length::from_um((longest->low + longest->high) / 2);
  row.needed = Length::from_um(needed);
  row.available = Length::from_um(longest->length());
  row.limited_by = ends_of(context, strip.t, kind.breadth, *longest);
  out.push_back(row);
}

/// Room left across the rows, were they pushed together: from the first strip's low edge to the last position any strip can have.
void add_whole_row(const Context& context, const StripKind& kind, const FillTable& table,
                   const RowsAnswer& rows, std::vector<RowShortfall>& out) {
  const std::vector<Piece> pieces = context.view.pieces(kind, table, 1'000);
  const auto holds = [](const Piece& piece) { return piece.value[0].cells > 0; };
  const auto first = std::find_if(pieces.begin(), pieces.end(), holds);
  const auto last = std::find_if(pieces.rbegin(), pieces.rend(), holds);
  if (first == pieces.end()) return;
  Um taken = 0;
  for (const PlacedStrip& strip : rows.strips) taken += kind.breadth * (strip.filling.cells > 0);
  const auto count = static_cast<Um>(
      std::count_if(rows.strips.begin(), rows.strips.end(),
                    [](const PlacedStrip& s) { return s.filling.cells > 0; }));
  RowShortfall row;
  row.whole_row = true;
  row.heading = context.setup.heading;
  row.along = context.strips == Strips::along_x ? Run::u : Run::v;
  row.needed = Length::from_um(taken + kind.breadth + count * context.setup.gap);
  row.available = Length::from_um(last->to + kind.breadth - first->from);
  if (row.available >= row.needed) return;  // it is not breadth that lacks
  row.cells = last->value[0].cells;
  row.at = Length::from_um((first->from + last->to + kind.breadth) / 2);
  const SpanUm along = context.plan.extent(other(context.strips));
  row.middle = Length::from_um((along.low + along.high) / 2);
  out.push_back(row);
}

}  // namespace

std::vector<RowShortfall> shortfalls(const Setup& setup, const region::FreePlan& plan,
                                     const Attempt& attempt, const Solved& solved) {
  if (solved.rows.strips.empty()) return {};
  const Way way = attempt.ways[0];
  const StripView view(plan, way.strips, setup.shell, setup.shell, setup.gap, {});
  const auto kinds = strip_kinds(setup, setup.stacks[attempt.stack].tiers[0], way, view.extent().length());
  // Tables reach past the longest run there is: one more cell, were there room.
  Um beyond = setup.gap;
  for (const StripKind& kind : kinds) beyond = std::max(beyond, kind.rule.length(2) + kind.rule.breadth);
  const auto tables = fill_tables(kinds, setup.gap, view.longest_possible_run() + beyond + setup.gap);
  const Context context{setup, plan, view, way.strips};
  std::vector<RowShortfall> rows;
  const StripKind* common = nullptr;
  std::size_t common_index = 0;
  for (const PlacedStrip& strip : solved.rows.strips) {
    const StripKind& kind = kinds[strip.kind];
    if (kind.laying == Laying::fittings_only) continue;
    add_row(context, kind, tables[strip.kind], strip, rows);
    common = &kind;
    common_index = strip.kind;
  }
  if (common != nullptr) add_whole_row(context, *common, tables[common_index], solved.rows, rows);
  std::stable_sort(rows.begin(), rows.end(), [](const RowShortfall& a, const RowShortfall& b) {
    return a.needed - a.available < b.needed - b.available;
  });
  return rows;
}

}  // namespace cellstow::packing
