#include "scan_refine.hpp"

#include <array>
#include <cmath>
#include <optional>

#include "cellstow/geometry/exact.hpp"
#include "scan_exact.hpp"

namespace cellstow::measuring::scan {
namespace {

using geometry::Int128;

constexpr double longest_step_um = 51'200;
constexpr int most_rounds = 12, halvings = 8;

struct Direction { double s = 0, t = 0; };

std::optional<Direction> direction(PointUm from, PointUm to) {
  const double s = static_cast<double>(to.s - from.s), t = static_cast<double>(to.t - from.t);
  const double length = std::hypot(s, t);
  return length > 0 ? std::optional(Direction{s / length, t / length}) : std::nullopt;
}

PointUm moved(PointUm point, Direction way, double step) {
  return {point.s + std::llround(way.s * step), point.t + std::llround(way.t * step)};
}

/// The whole point nearest to where the step leads that is not right of from-to.
PointUm moved_left_of(PointUm from, PointUm to, PointUm point, Direction way, double step) {
  const PointUm middle = moved(point, way, step);
  std::optional<std::pair<Um, PointUm>> best;
  for (Um ds = -1; ds <= 1; ++ds)
    for (Um dt = -1; dt <= 1; ++dt) {
      const std::pair near{ds * ds + dt * dt, PointUm{middle.s + ds, middle.t + dt}};
      if (cross(from, to, near.second) >= 0 && (!best || near < *best)) best = near;
    }
  return best ? best->second : middle;
}

class Refiner {
 public:
  Refiner(Loop loop, const Room& room, double shortest_step_um)
      : loop_(std::move(loop)), room_(room), shortest_step_um_(shortest_step_um) {}

  Loop run() {
    for (double step = longest_step_um; step >= shortest_step_um_; step /= 2) {
      for (int round = 0; round < most_rounds; ++round)
        if (!all_once(step)) break;
    }
    return loop_;
  }

 private:
  std::size_t after(std::size_t i) const { return i + 1 == loop_.size() ? 0 : i + 1; }
  std::size_t before(std::size_t i) const { return i == 0 ? loop_.size() - 1 : i - 1; }

  bool all_once(double step) {
    bool better = false;
    for (std::size_t i = 0; i < loop_.size(); ++i) {
      const Room near = room_round({before(i), i, after(i), after(after(i))}, 5 * step);
      better |= move_corner(i, step, near);
      better |= turn_side(i, step, near);
    }
    return better;
  }

  Room room_round(std::initializer_list<std::size_t> corners, double reach) const {
    PointUm low = loop_[*corners.begin()], high = low;
    for (const std::size_t i : corners) {
      low = {std::min(low.s, loop_[i].s), std::min(low.t, loop_[i].t)};
      high = {std::max(high.s, loop_[i].s), std::max(high.t, loop_[i].t)};
    }
    const Um out = std::llround(reach) + 2;
    return room_.near({low.s - out, low.t - out}, {high.s + out, high.t + out});
  }

  bool move_corner(std::size_t i, double step, const Room& near) {
    const PointUm p = loop_[before(i)], x = loop_[i], q = loop_[after(i)];
    std::vector<Direction> ways = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    for (const auto& [from, to] : {std::pair{p, x}, std::pair{q, x}, std::pair{p, q}})
      if (const auto way = direction(from, to)) {
        ways.push_back(*way);
        ways.push_back({-way->s, -way->t});
        ways.push_back({way->t, -way->s});     // out of the free space on the left
      }
    for (const Direction way : ways) {
      // along a side the corner must not leave the free side of that side
      for (const PointUm to : {moved(x, way, step), moved_left_of(p, x, x, way, step), moved_left_of(x, q, x, way, step)}) {
        if (to == p || to == q || cross(p, to, q) <= cross(p, x, q)) continue;
        if (!near.holds(p, x, to) || !near.holds(x, q, to) || !take({{i, to}})) continue;
        return true;
      }
    }
    return false;
  }

  /// One end of a side slides along its other edge; the side's far end gives way as little as it must.
  bool turn_side(std::size_t i, double step, const Room& near) {
    const std::size_t j = after(i);
    const PointUm p = loop_[before(i)], x = loop_[i], y = loop_[j], q = loop_[after(j)];
    const auto along_x = direction(p, x), along_y = direction(q, y);
    if (loop_.size() < 4 || !along_x || !along_y) return false;
    for (const double sense : {1.0, -1.0}) {
      const PointUm x_to = moved_left_of(p, x, x, *along_x, sense * step);
      const auto y_for = [&](double e) { return moved_left_of(y, q, y, *along_y, e); };
      if (slide(i, j, x_to, y_for, true, step, near)) return true;
      const PointUm y_to = y_for(sense * step);
      const auto x_for = [&](double e) { return moved_left_of(p, x, x, *along_x, e); };
      if (slide(j, i, y_to, x_for, false, step, near)) return true;
    }
    return false;
  }

  /// `fixed_to` is where corner `lead` goes; `follow_at(e)` where the other end of the side would go.
  template <class FollowAt>
  bool slide(std::size_t lead, std::size_t follow, PointUm lead_to, FollowAt follow_at, bool lead_first, double step,
             const Room& near) {
    const auto stays = [&](double e) {
      const PointUm follow_to = follow_at(e);
      const PointUm a = lead_first ? lead_to : follow_to, b = lead_first ? follow_to : lead_to;
      const std::size_t i = lead_first ? lead : follow, j = lead_first ? follow : lead;
      const PointUm p = loop_[before(i)], x = loop_[i], y = loop_[j], q = loop_[after(j)];
      return near.holds(p, x, a) && near.holds(x, a, b) && near.holds(x, b, y) && near.holds(y, b, q);
    };
    double kept = -4 * step, lost = 4 * step;
    if (!stays(kept)) return false;
    if (stays(lost)) kept = lost;
    for (int i = 0; i < halvings && kept != lost; ++i) {
      const double middle = (kept + lost) / 2;
      (stays(middle) ? kept : lost) = middle;
    }
    Loop trial = loop_;
    trial[lead] = lead_to;
    trial[follow] = follow_at(kept);
    if (signed_area2(trial) <= signed_area2(loop_)) return false;
    return take({{lead, lead_to}, {follow, trial[follow]}});
  }

  bool take(std::initializer_list<std::pair<std::size_t, PointUm>> changes) {
    Loop trial = loop_;
    for (const auto& [corner, to] : changes) trial[corner] = to;
    if (!is_simple(trial)) return false;
    loop_ = std::move(trial);
    return true;
  }

  Loop loop_;
  const Room& room_;
  double shortest_step_um_;
};

}  // namespace

Room::Room(const Loop& outline, const std::vector<Loop>& holes) : wall_(edges_of(outline)) {
  for (const Loop& hole : holes) {
    const auto edges = edges_of(hole);
    hole_edges_.insert(hole_edges_.end(), edges.begin(), edges.end());
  }
  constexpr std::size_t most_bands = 512;
  const auto by_t = [](const PointUm& a, const PointUm& b) { return a.t < b.t; };
  const auto [low, high] = std::minmax_element(outline.begin(), outline.end(), by_t);
  const std::size_t count = std::min(most_bands, outline.size());
  Bands bands{low->t, (high->t - low->t) / static_cast<Um>(count) + 1, {}};
  bands.edges.resize(count);
  bands_ = std::make_shared<Bands>(bands);
  for (const WallPiece& edge : wall_)
    for (std::size_t k = band_at(std::min(edge.from.t, edge.to.t)); k <= band_at(std::max(edge.from.t, edge.to.t)); ++k)
      bands.edges[k].push_back(edge);
  bands_ = std::make_shared<Bands>(std::move(bands));
}

std::size_t Room::band_at(Um t) const {
  const Um band = (t - bands_->low_t) / bands_->height;
  return static_cast<std::size_t>(std::clamp<Um>(band, 0, static_cast<Um>(bands_->edges.size()) - 1));
}

Room Room::near(PointUm low, PointUm high) const {
  Room room;
  room.bands_ = bands_;
  const auto is_near = [&](const WallPiece& piece) { return boxes_meet(piece.from, piece.to, low, high); };
  std::copy_if(wall_.begin(), wall_.end(), std::back_inserter(room.wall_), is_near);
  std::copy_if(hole_edges_.begin(), hole_edges_.end(), std::back_inserter(room.hole_edges_), is_near);
  return room;
}

/// Even-odd of the whole outline at (a + b + c) / 3, all coordinates threefold.
bool Room::is_inside_middle(PointUm a, PointUm b, PointUm c) const {
  const Um s = a.s + b.s + c.s, t = a.t + b.t + c.t;
  bool inside = false;
  for (const auto& [p, q] : bands_->edges[band_at(geometry::floor_div(t, 3))]) {
    if ((3 * p.t <= t) == (3 * q.t <= t)) continue;
    const Int128 turn = Int128(q.s - p.s) * (t - 3 * p.t) - Int128(q.t - p.t) * (s - 3 * p.s);
    if ((turn > 0) == (q.t > p.t)) inside = !inside;
  }
  return inside;
}

bool Room::holds(PointUm a, PointUm b, PointUm c) const {
  if (std::any_of(hole_edges_.begin(), hole_edges_.end(), [&](const auto& edge) { return meets_triangle(edge, a, b, c); }))
    return false;
  if (cross(a, b, c) == 0) return true;
  return std::none_of(wall_.begin(), wall_.end(), [&](const auto& piece) { return enters_triangle(piece, a, b, c); }) &&
         is_inside_middle(a, b, c);
}

Loop refine(Loop loop, const Room& room, double shortest_step_um) {
  return Refiner(std::move(loop), room, shortest_step_um).run();
}

}  // namespace cellstow::measuring::scan
