#include "cellstow/geometry/wall.hpp"

#include <algorithm>
#include <cassert>
#include <tuple>
#include <utility>

#include "cellstow/geometry/exact.hpp"

namespace cellstow::geometry {
namespace {

/// a * sqrt(m) >= b, exactly. @pre m >= 0
bool scaled_root_at_least(Int128 a, Int128 m, Int128 b) {
  if (a >= 0) return b <= 0 || a * a * m >= b * b;
  return b <= 0 && a * a * m <= b * b;
}

/// s, rounded up, of the segment itself at level t. @pre p.t != q.t, t between them
Um segment_at(PointUm p, PointUm q, Um t) {
  if (q.t < p.t) std::swap(p, q);
  return p.s + ceil_div(Int128(q.s - p.s) * (t - p.t), q.t - p.t);
}

/// s, rounded up, of the disc about `centre` at level t. @pre |t - centre.t| <= reach
Um disc_at(PointUm centre, Um reach, Um t) {
  const Um dt = t - centre.t;
  return centre.s + ceil_sqrt(Int128(reach) * reach - Int128(dt) * dt);
}

/// s, rounded up, of the line through low and high moved by reach towards +s, at level t.
///   s = s_line(t) + reach * length / dt
/// @param reach_by_length  reach * length, rounded up
Um offset_line_at(PointUm low, PointUm high, Um reach_by_length, Um t) {
  const Int128 ds = high.s - low.s, dt = high.t - low.t;
  return low.s + ceil_div(ds * (t - low.t) + reach_by_length, dt);
}

Um reach_by_length_of(PointUm p, PointUm q, Um reach) {
  const Int128 ds = q.s - p.s, dt = q.t - p.t;
  return ceil_sqrt(Int128(reach) * reach * (ds * ds + dt * dt));
}

/// s, rounded up, of the right side of the segment widened by reach, at level t. That point is nearest to one
/// point of the segment, its foot: at t - reach * n, n the t-part of the unit normal (dt, -ds) / length that looks
/// towards +s. A foot beyond an end means that end's disc.
/// @pre p.t - reach <= t <= q.t + reach for the lower p, the upper q
Um widened_segment_at(PointUm p, PointUm q, Um reach, Um reach_by_length, Um t) {
  if (p.t == q.t) return disc_at(p.s > q.s ? p : q, reach, t);
  const auto [low, high] = std::minmax(p, q, [](auto a, auto b) { return a.t < b.t; });
  const Int128 ds = high.s - low.s, dt = high.t - low.t;
  const Int128 length2 = ds * ds + dt * dt;
  if (!scaled_root_at_least(t - low.t, length2, -ds * reach)) return disc_at(low, reach, t);
  if (!scaled_root_at_least(high.t - t, length2, ds * reach)) return disc_at(high, reach, t);
  return offset_line_at(low, high, reach_by_length, t);
}

Um highest_s_of(PointUm p, PointUm q, Um reach, Um reach_by_length, Um t_low, Um t_high) {
  // The outline's right side is concave in t: the best level is the one nearest to its peak.
  Um peak_low = p.t, peak_high = p.t;
  if (q.s > p.s) peak_low = peak_high = q.t;
  if (q.s == p.s) std::tie(peak_low, peak_high) = std::minmax(p.t, q.t);
  const auto [seg_low, seg_high] = std::minmax(p.t, q.t);
  const Um from = std::max(t_low, seg_low - reach), to = std::min(t_high, seg_high + reach);
  assert(from <= to);
  const Um t = peak_low > to ? to : (peak_high < from ? from : std::clamp(peak_low, from, to));
  if (t >= peak_low && t <= peak_high) return std::max(p.s, q.s) + reach;
  return reach == 0 ? segment_at(p, q, t) : widened_segment_at(p, q, reach, reach_by_length, t);
}

}  // namespace

Um highest_s(PointUm p, PointUm q, Um reach, Um t_low, Um t_high) {
  return highest_s_of(p, q, reach, reach_by_length_of(p, q, reach), t_low, t_high);
}

Wall::Chain Wall::edge_bounds(const Loop& loop, std::size_t first) {
  const PointUm p = loop[first], q = loop[first + 1 < loop.size() ? first + 1 : 0];
  return {std::min(p.s, q.s), std::max(p.s, q.s), std::min(p.t, q.t), std::max(p.t, q.t)};
}

Wall::Wall(std::vector<Loop> loops, Side material, Um reach, int source)
    : loops_(std::move(loops)), material_(material), reach_(reach), source_(source) {
  extent_s_ = extent_t_ = {far_um, -far_um};
  trees_.resize(loops_.size());
  for (std::size_t i = 0; i < loops_.size(); ++i) {
    const Loop& loop = loops_[i];
    assert(!loop.empty());
    std::vector<Um>& roots = reach_by_length_.emplace_back();
    for (std::size_t k = 0; k < loop.size(); ++k) {
      roots.push_back(reach_ == 0 ? 0 : reach_by_length_of(loop[k], loop[(k + 1) % loop.size()], reach_));
    }
    // Node k covers edges [first, first + count); children 2k+1 and 2k+2 halve it. Single edges are not stored.
    std::size_t capacity = 1;
    while (capacity < loop.size()) capacity *= 2;
    trees_[i].resize(capacity);
    auto build = [&](auto&& self, std::size_t node, std::size_t first, std::size_t count) -> Chain {
      if (count == 1) return edge_bounds(loop, first);
      const Chain a = self(self, 2 * node + 1, first, count / 2);
      const Chain b = self(self, 2 * node + 2, first + count / 2, count - count / 2);
      return trees_[i][node] = {std::min(a.s_low, b.s_low), std::max(a.s_high, b.s_high),
                                std::min(a.t_low, b.t_low), std::max(a.t_high, b.t_high)};
    };
    const Chain whole = build(build, 0, 0, loop.size());
    extent_s_ = {std::min(extent_s_.low, whole.s_low), std::max(extent_s_.high, whole.s_high)};
    extent_t_ = {std::min(extent_t_.low, whole.t_low), std::max(extent_t_.high, whole.t_high)};
  }
}

void Wall::collect(std::size_t loop, std::size_t node, std::size_t first, std::size_t count,
                   Um t_low, Um t_high, std::vector<Piece>& pieces) const {
  const Chain chain = count == 1 ? edge_bounds(loops_[loop], first) : trees_[loop][node];
  if (chain.t_high + reach_ <= t_low || chain.t_low - reach_ >= t_high) return;
  const bool within = chain.t_low > t_low && chain.t_high < t_high;
  if (count > 1 && !within) {
    collect(loop, 2 * node + 1, first, count / 2, t_low, t_high, pieces);
    collect(loop, 2 * node + 2, first + count / 2, count - count / 2, t_low, t_high, pieces);
    return;
  }
  const std::vector<PointUm>& points = loops_[loop];
  const std::size_t past = first + count;
  const PointUm p = points[first], q = points[past < points.size() ? past : past - points.size()];
  const Um middle = t_low + (t_high - t_low) / 2;
  const bool crosses = (p.t <= middle) != (q.t <= middle);
  if (within) {
    pieces.push_back({chain.s_low - reach_, chain.s_high + reach_, crosses});
    return;
  }
  const Um reach_by_length = reach_by_length_[loop][first];
  const Um high = highest_s_of(p, q, reach_, reach_by_length, t_low, t_high);
  const Um low = -highest_s_of({-p.s, p.t}, {-q.s, q.t}, reach_, reach_by_length, t_low, t_high);
  pieces.push_back({low, high, crosses});
}

void Wall::add_blocked(Um t_low, Um t_high, std::vector<SpanUm>& blocked) const {
  thread_local std::vector<Piece> pieces;
  pieces.clear();
  for (std::size_t i = 0; i < loops_.size(); ++i) {
    collect(i, 0, 0, loops_[i].size(), t_low, t_high, pieces);
  }
  std::sort(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) {
    return std::pair(a.low, a.high) < std::pair(b.low, b.high);
  });
  bool in_loops = false;                       // even-odd state right of everything seen so far
  const bool blocked_inside = material_ == Side::inside;
  SpanUm run{-far_um, -far_um};                // blocked span being grown; starts empty
  auto flush = [&] { if (run.high > run.low) blocked.push_back(run); };
  auto step_over_gap = [&](Um next) {          // nothing of the boundary between run.high and next
    if (in_loops == blocked_inside) {
      run.high = next;
    } else {
      flush();
      run = {next, next};
    }
  };
  for (const Piece& piece : pieces) {
    if (piece.low > run.high) step_over_gap(piece.low);
    run.high = std::max(run.high, piece.high);
    in_loops ^= piece.crosses;
  }
  if (run.high < far_um) step_over_gap(far_um);
  flush();
}

Wall Wall::transposed() const {
  std::vector<Loop> swapped = loops_;
  for (Loop& loop : swapped) {
    for (PointUm& point : loop) std::swap(point.s, point.t);
  }
  return Wall(std::move(swapped), material_, reach_, source_);
}

void complement(std::vector<SpanUm>& blocked, std::vector<SpanUm>& free) {
  free.clear();
  std::sort(blocked.begin(), blocked.end());
  Um reached = -far_um;
  for (const SpanUm& span : blocked) {
    if (span.low > reached) free.push_back({reached, span.low});
    reached = std::max(reached, span.high);
  }
  if (reached < far_um) free.push_back({reached, far_um});
}

}  // namespace cellstow::geometry
