#include "upright_walls.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/geometry/segment.hpp"
#include "ruled_slab.hpp"

namespace cellstow::region {
namespace {

using geometry::far_um;
using geometry::Side;
using survey::Between;
using survey::Section;

/// A bend of a wall that stands out from its neighbours into free space by no more than this is filled up to.
constexpr double filled_um = 0.25 * ruled_loss_um;
/// Bends next to a free gap narrower than this stay as they are, so that no two borders cross.
constexpr Um roomy_um = 100;
/// So many bends in a row are looked at together.
constexpr std::size_t most_filled = 24;

std::vector<BlockedRun> blocked_columns(const std::vector<Wall>& walls, Column column) {
  std::vector<SpanUm> blocked, free, merged;
  for (const Wall& wall : walls) wall.add_blocked(column.low, column.high, blocked);
  geometry::complement(blocked, free);
  geometry::complement(free, merged);
  std::vector<BlockedRun> runs;
  for (const SpanUm& span : merged) runs.push_back({span, span});
  return runs;
}

std::vector<Slice> slices_of(const survey::Sections& sections, Between reading, Column column) {
  std::vector<Slice> slices;
  for (std::size_t i = 0; i + 1 < sections.at.size(); ++i) {
    const Um low = sections.at[i].station.um(), high = sections.at[i + 1].station.um();
    const std::vector<Loop> from = to_loops(sections.at[i]), to = to_loops(sections.at[i + 1]);
    if (reading == Between::straight && from != to) {
      add_ruled_slices(from, to, low, high, column, slices);
      continue;
    }
    const std::vector<Wall> both{Wall(from, Side::outside, 0, 0), Wall(to, Side::outside, 0, 0)};
    slices.push_back({low, high, blocked_columns(both, column)});
  }
  return slices;
}

/// Do the blocked runs of two neighbouring slices pair off, each touching its own partner?
bool pair_off(const Slice& a, const Slice& b) {
  return std::equal(a.blocked.begin(), a.blocked.end(), b.blocked.begin(), b.blocked.end(),
                    [](const BlockedRun& p, const BlockedRun& q) {
                      return p.end.low <= q.start.high && q.start.low <= p.end.high;
                    });
}

/// A bend of a border, and whether the free gap beside it is wide there.
struct Bend { PointUm at; bool roomy; };

/// May the border run straight from bend `first` to bend `last`? All between lies on the material's side of that line
/// and no farther than may be filled. @param side  1: material left of the way, -1: right
bool can_fill(const std::vector<Bend>& bends, std::size_t first, std::size_t last, int side) {
  const PointUm a = bends[first].at, b = bends[last].at;
  const double ds = static_cast<double>(b.s - a.s), dt = static_cast<double>(b.t - a.t);
  const double length = std::hypot(ds, dt);
  for (std::size_t k = first + 1; k < last; ++k) {
    const PointUm p = bends[k].at;
    const int turn = geometry::turn_sign(a, b, p) * side;
    if (turn == 0) continue;
    const double off = (ds * static_cast<double>(p.t - a.t) - dt * static_cast<double>(p.s - a.s)) / length;
    if (turn < 0 || std::abs(off) > filled_um || !bends[first].roomy || !bends[k].roomy || !bends[last].roomy) return false;
  }
  return true;
}

/// The border with as few bends as may be.
Loop filled(const std::vector<Bend>& bends, int side) {
  Loop border;
  for (std::size_t first = 0; first < bends.size();) {
    border.push_back(bends[first].at);
    std::size_t next = first + 1;
    for (std::size_t last = next + 1; last < bends.size() && last - first <= most_filled; ++last) {
      if (can_fill(bends, first, last, side)) next = last;
    }
    first = next;
  }
  return border;
}

void add_bend(std::vector<Bend>& bends, PointUm at, bool roomy) {
  if (!bends.empty() && bends.back().at == at) {
    bends.back().roomy &= roomy;
  } else {
    bends.push_back({at, roomy});
  }
}

/// One loop along the k-th blocked run of slices [first, last), which pair off.
Loop along_run(const std::vector<Slice>& slices, std::size_t first, std::size_t last, std::size_t k) {
  std::vector<Bend> low, high;
  for (std::size_t i = first; i < last; ++i) {
    const Slice& slice = slices[i];
    const BlockedRun& run = slice.blocked[k];
    const BlockedRun* before = k > 0 ? &slice.blocked[k - 1] : nullptr;
    const BlockedRun* after = k + 1 < slice.blocked.size() ? &slice.blocked[k + 1] : nullptr;
    add_bend(low, {slice.low, run.start.low}, before == nullptr || run.start.low - before->start.high > roomy_um);
    add_bend(low, {slice.high, run.end.low}, before == nullptr || run.end.low - before->end.high > roomy_um);
    add_bend(high, {slice.low, run.start.high}, after == nullptr || after->start.low - run.start.high > roomy_um);
    add_bend(high, {slice.high, run.end.high}, after == nullptr || after->end.low - run.end.high > roomy_um);
  }
  Loop loop = filled(low, 1);
  const Loop back = filled(high, -1);
  loop.insert(loop.end(), back.rbegin(), back.rend());
  return loop;
}

}  // namespace

std::vector<Wall> upright_section_walls(const survey::Sections& sections, Between reading, Column column, Um reach) {
  const std::vector<Slice> slices = slices_of(sections, reading, column);
  const Um first = slices.front().low, last = slices.back().high;
  std::vector<Loop> loops{{{-far_um, -far_um}, {first, -far_um}, {first, far_um}, {-far_um, far_um}},
                          {{last, -far_um}, {far_um, -far_um}, {far_um, far_um}, {last, far_um}}};
  for (std::size_t begin = 0, end; begin < slices.size(); begin = end) {
    end = begin + 1;
    const std::size_t runs = slices[begin].blocked.size();
    while (end < slices.size() && pair_off(slices[end - 1], slices[end])) ++end;
    for (std::size_t k = 0; k < runs; ++k) loops.push_back(along_run(slices, begin, end, k));
  }
  // The loops hold (station, along the plane): x, y for sections across x, y, x for those across y.
  const Wall wall(std::move(loops), Side::inside, reach, 0);
  return {sections.across == survey::Axis::x ? wall : wall.transposed()};
}

}  // namespace cellstow::region
