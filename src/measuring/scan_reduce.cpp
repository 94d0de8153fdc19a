#include "scan_reduce.hpp"

#include <cmath>
#include <optional>
#include <queue>
#include <tuple>

#include "cellstow/geometry/segment.hpp"
#include "scan_exact.hpp"

namespace cellstow::measuring::scan {
namespace {

enum class Way { cut_corner, drop_edge };

/// One corner fewer: before-first-second-after becomes before-corner-after; when a corner is cut, before-first-second
/// becomes before-second, and `after` is not used.
struct Step {
  double lost = 0;                             ///< twice the area, um2
  std::size_t before = 0, first = 0, second = 0, after = 0;
  Way way = Way::cut_corner;
  PointUm at_before, at_first, at_second, at_after, corner;

  bool operator>(const Step& other) const { return std::tie(lost, first, way) > std::tie(other.lost, other.first, other.way); }
};

/// The whole point near the crossing of two lines that is on the free side of both and costs least.
template <class Allowed, class Cost>
std::optional<PointUm> whole_point_near(double s, double t, Allowed allowed, Cost cost) {
  constexpr double farthest = 2.0 * 100e6;     // twice as far as a scan may reach
  if (!(std::abs(s) < farthest && std::abs(t) < farthest)) return {};
  const PointUm middle{std::llround(s), std::llround(t)};
  std::optional<PointUm> best;
  for (Um ds = -2; ds <= 2; ++ds)
    for (Um dt = -2; dt <= 2; ++dt) {
      const PointUm point{middle.s + ds, middle.t + dt};
      if (allowed(point) && (!best || cost(point) < cost(*best))) best = point;
    }
  return best;
}

class Reducer {
 public:
  Reducer(const Loop& loop, const std::vector<WallPiece>& others) : at_(loop), others_(others), count_(loop.size()) {
    const std::size_t n = loop.size();
    for (std::size_t i = 0; i < n; ++i) {
      next_.push_back((i + 1) % n);
      before_.push_back((i + n - 1) % n);
    }
    alive_.assign(n, true);
  }

  Loop run(std::size_t corners) {
    std::size_t count_before = 0;              // of the last pass; a pass that takes nothing is the last
    do {
      count_before = count_;
      for (std::size_t i = 0; i < at_.size(); ++i)
        if (alive_[i]) propose(i);
      while (count_ > 3 && !steps_.empty()) {
        const Step step = steps_.top();
        if (count_ <= corners && step.lost > 0) break;  // what costs nothing goes in any case
        steps_.pop();
        if (is_current(step) && is_allowed(step)) take(step);
      }
    } while (count_ > corners && count_ != count_before);
    return loop();
  }

 private:
  Loop loop() const {
    Loop left;
    for (std::size_t i = 0; i < at_.size(); ++i)
      if (alive_[i]) left.push_back(at_[i]);
    return left;
  }

  void propose(std::size_t first) {
    propose_cut(first);
    if (count_ > 3) propose_drop(first);
  }

  Step step_at(std::size_t first, Way way) const {
    const std::size_t before = before_[first], second = next_[first], after = next_[second];
    return {0, before, first, second, after, way, at_[before], at_[first], at_[second], at_[after], {}};
  }

  void propose_cut(std::size_t first) {
    Step step = step_at(first, Way::cut_corner);
    step.lost = static_cast<double>(cross(step.at_before, step.at_first, step.at_second));
    if (step.lost >= 0) steps_.push(step);
  }

  void propose_drop(std::size_t first) {
    Step step = step_at(first, Way::drop_edge);
    const PointUm u = step.at_before, v = step.at_first, w = step.at_second, x = step.at_after;
    const Um turn_v = cross(u, v, w), turn_w = cross(v, w, x);
    if (turn_v >= 0 && turn_w >= 0) return;    // nothing to run on: corners are cut instead
    const double us = static_cast<double>(v.s - u.s), ut = static_cast<double>(v.t - u.t);
    const double xs = static_cast<double>(x.s - w.s), xt = static_cast<double>(x.t - w.t);
    const double slope = us * xt - ut * xs;
    if (slope == 0) return;
    const double ws = static_cast<double>(w.s - u.s), wt = static_cast<double>(w.t - u.t);
    const double along = (ws * xt - wt * xs) / slope;         // of u-v, from u
    const double back = -(us * wt - ut * ws) / slope;        // of w-x, from w
    const bool u_side = turn_v < 0 ? along >= 1 : along > 0 && along <= 1;
    const bool x_side = turn_w < 0 ? back <= 0 : back >= 0 && back < 1;
    if (!u_side || !x_side) return;
    const auto lost = [&](PointUm c) { return signed_area2(Loop{u, v, w, x, c}); };
    const auto corner = whole_point_near(
        static_cast<double>(u.s) + along * us, static_cast<double>(u.t) + along * ut,
        [&](PointUm c) { return c != u && c != x && cross(u, v, c) >= 0 && cross(w, x, c) >= 0 && lost(c) >= 0; }, lost);
    if (!corner) return;
    step.corner = *corner;
    step.lost = lost(*corner);
    steps_.push(step);
  }

  bool is_current(const Step& step) const {
    if (!alive_[step.first] || !alive_[step.before] || next_[step.before] != step.first || next_[step.first] != step.second)
      return false;
    if (at_[step.before] != step.at_before || at_[step.first] != step.at_first || at_[step.second] != step.at_second)
      return false;
    return step.way == Way::cut_corner ||
           (count_ > 3 && next_[step.second] == step.after && at_[step.after] == step.at_after);
  }

  /// New edges meet nothing but their neighbours.
  bool is_allowed(const Step& step) const {
    if (step.way == Way::cut_corner)
      return edge_is_free(step.at_before, step.at_second, step) && joins(before_[step.before], step.at_before, step.at_second) &&
             joins_after(step.at_before, step.second);
    return edge_is_free(step.at_before, step.corner, step) && edge_is_free(step.corner, step.at_after, step) &&
           joins(before_[step.before], step.at_before, step.corner) && joins_after(step.corner, step.after) &&
           !doubles_back(step.at_before, step.corner, step.at_after);
  }

  bool joins(std::size_t from, PointUm corner, PointUm to) const { return !doubles_back(at_[from], corner, to); }
  bool joins_after(PointUm from, std::size_t corner) const { return !doubles_back(from, at_[corner], at_[next_[corner]]); }

  bool edge_is_free(PointUm from, PointUm to, const Step& step) const {
    const std::size_t last = step.way == Way::cut_corner ? step.second : step.after;
    for (std::size_t i = next_[last]; i != before_[step.before]; i = next_[i]) {
      if (i == step.before) break;             // few corners left: all edges are neighbours
      if (boxes_meet(from, to, at_[i], at_[next_[i]]) && share_a_point(from, to, at_[i], at_[next_[i]])) return false;
    }
    // its neighbours' neighbours, unless only three edges are left
    const PointUm u = step.at_before, l = at_[last];
    if (next_[last] != step.before) {
      if (from != u && share_a_point(from, to, at_[before_[step.before]], u)) return false;
      if (to != l && share_a_point(from, to, l, at_[next_[last]])) return false;
    }
    return std::none_of(others_.begin(), others_.end(), [&](const WallPiece& other) {
      return boxes_meet(from, to, other.from, other.to) && share_a_point(from, to, other.from, other.to);
    });
  }

  void take(const Step& step) {
    if (step.way == Way::cut_corner) {
      remove(step.first);
      propose(step.before);
      propose(before_[step.before]);
      propose(step.second);
    } else {
      at_[step.first] = step.corner;
      remove(step.second);
      propose(step.first);
      propose(step.before);
      propose(before_[step.before]);
      propose(step.after);
    }
    --count_;
  }

  void remove(std::size_t i) {
    alive_[i] = false;
    next_[before_[i]] = next_[i];
    before_[next_[i]] = before_[i];
  }

  Loop at_;
  const std::vector<WallPiece>& others_;
  std::vector<std::size_t> next_, before_;
  std::vector<bool> alive_;
  std::size_t count_;
  std::priority_queue<Step, std::vector<Step>, std::greater<>> steps_;
};

}  // namespace

Loop reduce(const Loop& loop, std::size_t corners, const std::vector<WallPiece>& others) {
  return Reducer(loop, others).run(corners);
}

}  // namespace cellstow::measuring::scan
