#include "ruled_slab.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "cellstow/geometry/exact.hpp"
#include "cellstow/geometry/segment.hpp"

namespace cellstow::region {
namespace {

using geometry::far_um;
using geometry::Int128;

/// Shares of what may be given away: by chords of bent walls, and where two walls cross between stations.
constexpr double chord_loss_um = 0.5 * ruled_loss_um;
constexpr double crossing_loss_um = 0.15 * ruled_loss_um;

/// A corner of a section at one station between two, times the distance of the two: y along the section plane, z up.
struct Scaled { Um y, z; };

struct Corner {
  PointUm from, to;
  /// At `station` of 0 to `depth`, times depth.
  Scaled at(Um station, Um depth) const {
    return {from.s * depth + (to.s - from.s) * station, from.t * depth + (to.t - from.t) * station};
  }
};

struct Edge { Corner a, b; };

SpanUm rounded_both_ways(Int128 numerator, Int128 denominator) {
  if (denominator < 0) numerator = -numerator, denominator = -denominator;
  const Um down = geometry::floor_div(numerator, denominator);
  return {down, Int128(down) * denominator == numerator ? down : down + 1};
}

SpanUm around(SpanUm a, SpanUm b) { return {std::min(a.low, b.low), std::max(a.high, b.high)}; }

BlockedRun around(const BlockedRun& a, const BlockedRun& b) { return {around(a.start, b.start), around(a.end, b.end)}; }

class RuledSlab {
 public:
  RuledSlab(const std::vector<Loop>& from, const std::vector<Loop>& to, Um low, Um high, Column column,
            std::vector<Slice>& slices)
      : low_(low), depth_(high - low), column_(column), slices_(slices) {
    for (std::size_t i = 0; i < from.size(); ++i) {
      for (std::size_t k = 0; k < from[i].size(); ++k) {
        const std::size_t n = (k + 1) % from[i].size();
        edges_.push_back({{from[i][k], to[i][k]}, {from[i][n], to[i][n]}});
      }
    }
  }

  void cut_up() {
    const std::vector<Um> stations = bends();
    for (std::size_t i = 0; i + 1 < stations.size(); ++i) cut(stations[i], stations[i + 1]);
  }

 private:
  // ---- where the plan of an edge changes its kind --------------------------------

  /// The whole um on either side of where a linear quantity changes its sign.
  void add_zero(Um at_low, Um at_high, std::vector<Um>& stations) const {
    if ((at_low >= 0 && at_high >= 0) || (at_low <= 0 && at_high <= 0)) return;
    const SpanUm zero = rounded_both_ways(Int128(depth_) * at_low, Int128(at_low) - at_high);
    stations.insert(stations.end(), {zero.low, zero.high});
  }

  /// Stations at which a corner comes into the column or leaves it, or an edge stands upright in its section.
  std::vector<Um> bends() const {
    std::vector<Um> stations{0, depth_};
    for (const Edge& e : edges_) {
      for (const Um level : {column_.low, column_.high}) add_zero(e.a.from.t - level, e.a.to.t - level, stations);
      add_zero(e.b.from.s - e.a.from.s, e.b.to.s - e.a.to.s, stations);
    }
    std::sort(stations.begin(), stations.end());
    stations.erase(std::unique(stations.begin(), stations.end()), stations.end());
    return stations;
  }

  // ---- one edge between two stations free of such changes ---------------------------

  /// -1 below the column, 1 above it, 0 in it, all the way between two stations.
  int height_of(const Corner& corner, Um start, Um end) const {
    const Int128 twice = Int128(corner.from.t) * 2 * depth_ + Int128(corner.to.t - corner.from.t) * (start + end);
    if (twice <= Int128(column_.low) * 2 * depth_) return -1;
    return twice >= Int128(column_.high) * 2 * depth_ ? 1 : 0;
  }

  BlockedRun corner_run(const Corner& corner, Um start, Um end) const {
    return {rounded_both_ways(corner.at(start, depth_).y, depth_), rounded_both_ways(corner.at(end, depth_).y, depth_)};
  }

  /// y of the line through two points at a height. @pre p.z != q.z
  SpanUm at_level(Scaled p, Scaled q, Um level) const {
    const Int128 rise = q.z - p.z;
    return rounded_both_ways(p.y * rise + Int128(q.y - p.y) * (Int128(level) * depth_ - p.z), rise * depth_);
  }

  /// Where the edge passes through a level. With the share s of the way from section to section, that is
  ///   y(s) = (A s^2 + B s + C) / u(s),   u(s) = d s + e, the rise of the edge;
  ///   y'' = 2 K / u^3,                   K = A e^2 - B d e + C d^2,
  /// a hyperbola (a parabola or a line when d = 0) that bends one way all along and leaves its chord by no more than
  /// K / u^3 (length of s)^2 / 4, u the smaller at the two ends. The chord is moved out by that much on the side on
  /// which it lies inside the bend. Nothing when that is too much.
  std::optional<BlockedRun> level_run(const Edge& edge, Um level, Um start, Um end) const {
    const Scaled a_start = edge.a.at(start, depth_), b_start = edge.b.at(start, depth_);
    const Scaled a_end = edge.a.at(end, depth_), b_end = edge.b.at(end, depth_);
    if (a_start.z == b_start.z || a_end.z == b_end.z) return std::nullopt;
    const double depth = static_cast<double>(depth_);
    const double rise = static_cast<double>(std::min(std::abs(b_start.z - a_start.z), std::abs(b_end.z - a_end.z))) / depth;
    const double share = static_cast<double>(end - start) / depth;
    const double bend = bend_of(edge, level) * (b_start.z + b_end.z > a_start.z + a_end.z ? 1 : -1);
    const double bow_um = std::abs(bend) / (rise * rise * rise) * share * share / 4;
    if (bow_um > chord_loss_um) return std::nullopt;
    BlockedRun run{at_level(a_start, b_start, level), at_level(a_end, b_end, level)};
    const Um out = bow_um == 0 ? 0 : static_cast<Um>(std::ceil(bow_um * (1 + 1e-9)));
    for (SpanUm* span : {&run.start, &run.end}) {
      if (bend > 0) span->low -= out;
      if (bend < 0) span->high += out;
    }
    return run;
  }

  /// K above, exactly; its sign is that of the bend where the edge rises from a to b.
  static double bend_of(const Edge& edge, Um level) {
    const Int128 y = edge.a.from.s, dy = edge.a.to.s - edge.a.from.s;
    const Int128 z = edge.a.from.t, dz = edge.a.to.t - edge.a.from.t;
    const Int128 across = edge.b.from.s - edge.a.from.s, d_across = edge.b.to.s - edge.a.to.s - across;
    const Int128 e = edge.b.from.t - edge.a.from.t, d = edge.b.to.t - edge.a.to.t - e;
    const Int128 a = dy * d - d_across * dz;
    const Int128 b = y * d + dy * e - across * dz + d_across * (level - z);
    const Int128 c = y * e + across * (level - z);
    return static_cast<double>(a * e * e - b * d * e + c * d * d);
  }

  enum class Answer { clear, blocked, too_bent };

  /// What the edge's part within the column blocks.
  Answer edge_run(const Edge& edge, Um start, Um end, BlockedRun& run) const {
    const int a = height_of(edge.a, start, end), b = height_of(edge.b, start, end);
    if (a == b && a != 0) return Answer::clear;
    std::array<std::optional<BlockedRun>, 2> ends;
    std::size_t k = 0;
    for (const auto& [corner, height] : {std::pair(&edge.a, a), std::pair(&edge.b, b)}) {
      ends[k++] = height == 0 ? corner_run(*corner, start, end)
                              : level_run(edge, height < 0 ? column_.low : column_.high, start, end);
    }
    if (!ends[0] || !ends[1]) return Answer::too_bent;
    run = around(*ends[0], *ends[1]);
    return Answer::blocked;
  }

  // ---- a slice ------------------------------------------------------------------

  void cut(Um start, Um end) {
    if (end - start == 1) return cut_thinnest(start);
    std::vector<BlockedRun> runs;
    for (const Edge& edge : edges_) {
      BlockedRun run;
      const Answer answer = edge_run(edge, start, end, run);
      if (answer == Answer::too_bent) return cut_at(start, start + (end - start) / 2, end);
      if (answer == Answer::blocked) runs.push_back(run);
    }
    std::sort(runs.begin(), runs.end(), [](const BlockedRun& a, const BlockedRun& b) {
      return a.start.low + a.end.low < b.start.low + b.end.low;
    });
    if (const auto share = merge(runs)) {
      const Um way = std::llround(*share * static_cast<double>(end - start));
      return cut_at(start, std::clamp(start + way, start + 1, end - 1), end);
    }
    finish(start, end, std::move(runs));
  }

  void cut_at(Um start, Um middle, Um end) {
    cut(start, middle);
    cut(middle, end);
  }

  /// A slice of one um is blocked wherever the hull of what an edge passes over meets the column.
  void cut_thinnest(Um start) {
    std::vector<BlockedRun> runs;
    for (const Edge& edge : edges_) {
      const std::array<Scaled, 4> corners{edge.a.at(start, depth_), edge.b.at(start, depth_),
                                          edge.a.at(start + 1, depth_), edge.b.at(start + 1, depth_)};
      std::optional<SpanUm> span;
      for (std::size_t i = 0; i < 4; ++i) {
        for (std::size_t k = i + 1; k < 4; ++k) add_between(corners[i], corners[k], span);
      }
      if (span) runs.push_back({*span, *span});
    }
    std::sort(runs.begin(), runs.end(), [](const BlockedRun& a, const BlockedRun& b) { return a.start < b.start; });
    merge(runs);
    finish(start, start + 1, std::move(runs));
  }

  /// Widens the span by the part of the line between two points that lies in the column.
  void add_between(Scaled p, Scaled q, std::optional<SpanUm>& span) const {
    const Um low = column_.low * depth_, high = column_.high * depth_;
    if (p.z > q.z) std::swap(p, q);
    if (q.z <= low || p.z >= high) return;
    for (const SpanUm end : {p.z < low ? at_level(p, q, column_.low) : rounded_both_ways(p.y, depth_),
                             q.z > high ? at_level(p, q, column_.high) : rounded_both_ways(q.y, depth_)}) {
      span = span ? around(*span, end) : end;
    }
  }

  // ---- runs of several edges ------------------------------------------------------

  /// Two straight lines change places on the way: how far their common chord leaves them, and where they meet.
  struct Meeting { double loss_um = 0, share = 0; };

  static Meeting meeting(Um apart_at_start, Um apart_at_end) {
    if (apart_at_start == 0 || apart_at_end == 0 || (apart_at_start < 0) == (apart_at_end < 0)) return {};
    const double a = std::abs(static_cast<double>(apart_at_start)), b = std::abs(static_cast<double>(apart_at_end));
    return {a * b / (a + b), a / (a + b)};
  }

  /// Where to cut because two runs overlap in part of the slice only, or the border of both together has a corner.
  static std::optional<double> crossing(const BlockedRun& a, const BlockedRun& b) {
    const Um gap_start = b.start.low - a.start.high, gap_end = b.end.low - a.end.high;
    const Meeting overlap = meeting(gap_start, gap_end);
    if (overlap.share > 0 && static_cast<double>(std::max(gap_start, gap_end)) > crossing_loss_um) return overlap.share;
    if (!joined(a, b)) return std::nullopt;
    for (const Meeting& corner : {meeting(b.start.low - a.start.low, b.end.low - a.end.low),
                                  meeting(b.start.high - a.start.high, b.end.high - a.end.high)}) {
      if (corner.loss_um > crossing_loss_um) return corner.share;
    }
    return std::nullopt;
  }

  /// They overlap, or all that is between them is a sliver of one um.
  static bool joined(const BlockedRun& a, const BlockedRun& b) {
    const Um gap_start = b.start.low - a.start.high, gap_end = b.end.low - a.end.high;
    return std::min(gap_start, gap_end) < 0 || std::max(gap_start, gap_end) <= 1;
  }

  /// Joins runs that overlap; or tells at what share of the slice to cut it first.
  static std::optional<double> merge(std::vector<BlockedRun>& runs) {
    std::vector<BlockedRun> merged;
    for (const BlockedRun& run : runs) {
      merged.push_back(run);
      while (merged.size() > 1) {
        const BlockedRun &a = merged[merged.size() - 2], &b = merged.back();
        if (const auto share = crossing(a, b)) return share;
        if (!joined(a, b)) break;
        merged[merged.size() - 2] = around(a, b);
        merged.pop_back();
      }
    }
    runs = std::move(merged);
    return std::nullopt;
  }

  /// No wall passes between two neighbouring runs: all between them is in the material or none of it.
  bool is_material(const BlockedRun& a, const BlockedRun& b, Um start, Um end) const {
    const bool at_start = b.start.low - a.start.high > b.end.low - a.end.high;
    const Um station = at_start ? start : end;
    const Um twice_y = at_start ? a.start.high + b.start.low : a.end.high + b.end.low;
    const PointUm middle{twice_y * depth_, (column_.low + column_.high) * depth_};
    bool inside = false;
    for (const Edge& edge : edges_) {
      const Scaled p = edge.a.at(station, depth_), q = edge.b.at(station, depth_);
      if ((2 * p.z <= middle.t) == (2 * q.z <= middle.t)) continue;
      if ((geometry::turn_sign({2 * p.y, 2 * p.z}, {2 * q.y, 2 * q.z}, middle) > 0) == (q.z > p.z)) inside = !inside;
    }
    return !inside;
  }

  void finish(Um start, Um end, std::vector<BlockedRun> runs) {
    const SpanUm below{-far_um, -far_um}, above{far_um, far_um};
    std::vector<BlockedRun> blocked{{below, below}};
    runs.push_back({above, above});
    for (const BlockedRun& run : runs) {
      if (joined(blocked.back(), run) || is_material(blocked.back(), run, start, end)) {
        blocked.back() = around(blocked.back(), run);
      } else {
        blocked.push_back(run);
      }
    }
    slices_.push_back({low_ + start, low_ + end, std::move(blocked)});
  }

  Um low_, depth_;
  Column column_;
  std::vector<Slice>& slices_;
  std::vector<Edge> edges_;
};

}  // namespace

void add_ruled_slices(const std::vector<Loop>& from, const std::vector<Loop>& to, Um low, Um high, Column column,
                      std::vector<Slice>& slices) {
  RuledSlab(from, to, low, high, column, slices).cut_up();
}

}  // namespace cellstow::region
