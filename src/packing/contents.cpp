#include "contents.hpp"

#include <algorithm>

namespace cellstow::packing {
namespace {

struct FilledStrip {
  const PlacedStrip* strip;
  std::vector<RunFill> fills;
};

Um fittings_length(const RunFill& fill, Um gap) {
  Um length = 0;
  for (const TurnedFitting& fitting : fill.fittings) length += fitting.along + gap;
  return length;
}

/// Lines up the low ends of neighbouring strips that hold one run each: a group goes on while some start
/// suits all its strips.
void line_up(std::vector<FilledStrip>& strips) {
  for (std::size_t begin = 0, end; begin < strips.size(); begin = end) {
    end = begin + 1;
    if (strips[begin].fills.size() != 1) continue;
    Um low = strips[begin].fills[0].start, high = strips[begin].fills[0].latest_start;
    while (end < strips.size() && strips[end].fills.size() == 1) {
      const RunFill& next = strips[end].fills[0];
      if (std::max(low, next.start) > std::min(high, next.latest_start)) break;
      low = std::max(low, next.start);
      high = std::min(high, next.latest_start);
      ++end;
    }
    for (std::size_t i = begin; i < end; ++i) strips[i].fills[0].start = low;
  }
}

RectUm in_plan(Strips strips, Um s_low, Um s_high, Um t_low, Um t_high) {
  if (strips == Strips::along_x) return {s_low, s_high, t_low, t_high};
  return {t_low, t_high, s_low, s_high};
}

void place_run(const StripView& view, const StripKind& kind, const FillTable& table, Um t,
               const RunFill& fill, std::size_t tier, Contents& contents) {
  const bool along = kind.laying == Laying::along;
  const bool strips_on_x = view.strips() == Strips::along_x;
  const Run runs = along == strips_on_x ? Run::u : Run::v;
  Um s = fill.start;
  for (const int cells : table.split(fill.filling)) {
    const Um length = along ? kind.rule.length(cells) : kind.rule.breadth;
    contents.blocks.push_back(
        {in_plan(view.strips(), s, s + length, t, t + kind.breadth), cells, runs, kind.stance,
         tier});
    s += length + view.gap();
  }
  for (const TurnedFitting& fitting : fill.fittings) {
    contents.fittings.push_back(
        {in_plan(view.strips(), s, s + fitting.along, t, t + fitting.across), fitting.index, tier});
    s += fitting.along + view.gap();
  }
}

}  // namespace

std::vector<RectUm> Contents::all() const {
  std::vector<RectUm> rects;
  for (const BlockInPlan& block : blocks) rects.push_back(block.plan);
  for (const FittingInPlan& fitting : fittings) rects.push_back(fitting.plan);
  return rects;
}

Contents place_contents(const StripView& view, const std::vector<StripKind>& kinds,
                        const std::vector<FillTable>& tables, const RowsAnswer& answer,
                        std::size_t tier) {
  std::vector<FilledStrip> strips;
  for (const PlacedStrip& strip : answer.strips) {
    FilledStrip filled{&strip,
                       view.fill(kinds[strip.kind], tables[strip.kind], strip.t, strip.fittings)};
    std::erase_if(filled.fills, [](const RunFill& fill) {
      return fill.filling.cells == 0 && fill.fittings.empty();
    });
    for (RunFill& fill : filled.fills) {
      if (fill.latest_start == fill.start) continue;
      const Um taken = tables[strip.kind].needed(fill.filling) + fittings_length(fill, view.gap());
      fill.latest_start = std::max(fill.start, fill.run.high - taken);
    }
    strips.push_back(std::move(filled));
  }
  line_up(strips);
  Contents contents;
  for (const FilledStrip& strip : strips) {
    for (const RunFill& fill : strip.fills) {
      place_run(view, kinds[strip.strip->kind], tables[strip.strip->kind], strip.strip->t, fill,
                tier, contents);
    }
  }
  return contents;
}

}  // namespace cellstow::packing
