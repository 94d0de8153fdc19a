#include "scan_bridges.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

namespace cellstow::measuring::scan {
namespace {

/// A wall that runs no more than this much longer than straight is one wall, not two that face each other.
constexpr double clearly_longer = 1.2;
/// An end with another end to join is not joined across a corner of its own wall as well: the way round a right angle is up to 1.42 times as
/// long as the line across it.
constexpr double longer_than_a_corner = 2;
/// Feet nearer than this part of the bridge to the other end of the gap are no second gap.
constexpr double one_gap = 0.2;
/// From an open end to as many others; more would join ends that have nearer ones between them.
constexpr std::size_t most_from_an_end = 8;
/// A bridge to the middle of a piece goes on this far, so that rounding its end cannot leave a slit.
constexpr double past_wall_um = 2;

std::size_t index_of(const std::vector<PointUm>& points, PointUm point) {
  return static_cast<std::size_t>(std::lower_bound(points.begin(), points.end(), point) - points.begin());
}

std::size_t root_of(std::vector<std::size_t>& parent, std::size_t i) {
  while (parent[i] != i) i = parent[i] = parent[parent[i]];
  return i;
}

double distance(PointUm p, PointUm q) {
  return std::hypot(static_cast<double>(q.s - p.s), static_cast<double>(q.t - p.t));
}

/// Length of the way along the wall from one point to every other; infinite to other walls.
std::vector<double> ways_along(const PieceGraph& graph, std::size_t from) {
  std::vector<double> way(graph.points.size(), std::numeric_limits<double>::infinity());
  std::vector<std::size_t> open = {from};
  way[from] = 0;
  for (std::size_t next = 0; next < open.size(); ++next) {
    const std::size_t at = open[next];
    for (const std::size_t edge : graph.edges_at[at]) {
      const std::size_t to = graph.edges[edge][0] == at ? graph.edges[edge][1] : graph.edges[edge][0];
      if (std::isfinite(way[to])) continue;
      way[to] = way[at] + distance(graph.points[at], graph.points[to]);
      open.push_back(to);
    }
  }
  return way;
}

/// The point of p-q nearest to `from`, to the nearest micrometre; inside the piece a little beyond it.
PointUm foot_on(PointUm p, PointUm q, PointUm from) {
  const double ds = static_cast<double>(q.s - p.s), dt = static_cast<double>(q.t - p.t);
  const double along =
      (static_cast<double>(from.s - p.s) * ds + static_cast<double>(from.t - p.t) * dt) / (ds * ds + dt * dt);
  if (along <= 0) return p;
  if (along >= 1) return q;
  double s = static_cast<double>(p.s) + along * ds, t = static_cast<double>(p.t) + along * dt;
  const double out_s = s - static_cast<double>(from.s), out_t = t - static_cast<double>(from.t);
  const double out = std::hypot(out_s, out_t);
  if (out > 0) {
    s += out_s / out * past_wall_um;
    t += out_t / out * past_wall_um;
  }
  return {std::llround(s), std::llround(t)};
}

/// From one end to the nearest others, shortest first.
std::vector<PossibleBridge> to_ends(const PieceGraph& graph, const std::vector<std::size_t>& ends, std::size_t from, double longest_um) {
  const std::vector<double> way = ways_along(graph, from);
  std::vector<PossibleBridge> found;
  for (const std::size_t to : ends) {
    const double length = distance(graph.points[from], graph.points[to]);
    if (to == from || length > longest_um || way[to] < clearly_longer * length) continue;
    const auto [low, high] = std::minmax(graph.points[from], graph.points[to]);
    found.push_back({length, {low, high}});
  }
  const std::size_t kept = std::min(found.size(), most_from_an_end);
  std::partial_sort(found.begin(), found.begin() + static_cast<std::ptrdiff_t>(kept), found.end());
  found.resize(kept);
  return found;
}

/// @param longer   how many times as long as the bridge the way along the end's own wall must be
/// @param partner  the end that makes a gap with this one
void add_to_wall(const PieceGraph& graph, std::size_t from, double longer, std::optional<std::size_t> partner, double longest_um,
                 std::vector<PossibleBridge>& bridges) {
  const std::vector<double> way = ways_along(graph, from);
  const PointUm start = graph.points[from];
  PossibleBridge nearest{longest_um, {}};
  std::optional<std::array<std::size_t, 2>> found;
  for (const std::array<std::size_t, 2>& edge : graph.edges) {
    const auto [a, b] = edge;
    const PointUm p = graph.points[a], q = graph.points[b];
    const Um off = std::max({std::min(p.s, q.s) - start.s, start.s - std::max(p.s, q.s),
                             std::min(p.t, q.t) - start.t, start.t - std::max(p.t, q.t)});
    if (static_cast<double>(off) > nearest.length_um) continue;
    const PointUm foot = foot_on(p, q, start);
    const PossibleBridge bridge{distance(start, foot), {std::min(start, foot), std::max(start, foot)}};
    if (bridge.length_um == 0 || std::min(way[a], way[b]) < longer * bridge.length_um) continue;
    if (bridge.length_um > longest_um || (found && !(bridge < nearest))) continue;
    nearest = bridge;
    found = edge;
  }
  if (!found) return;
  if (partner) {
    // Beside the other end of its own gap it is that gap once more.
    const std::vector<double> from_partner = ways_along(graph, *partner);
    if (std::min(from_partner[(*found)[0]], from_partner[(*found)[1]]) < one_gap * nearest.length_um) return;
  }
  bridges.push_back(nearest);
}

/// The end that makes a gap with end i: each is the other's nearest. `between` holds the bridges from every end, shortest first.
std::optional<std::size_t> partner_of(const PieceGraph& graph, const std::vector<std::size_t>& ends,
                                      const std::vector<std::vector<PossibleBridge>>& between, std::size_t i) {
  if (between[i].empty()) return std::nullopt;
  const PossibleBridge& gap = between[i].front();
  const PointUm other = gap.line.from == graph.points[ends[i]] ? gap.line.to : gap.line.from;
  const auto partner = std::lower_bound(ends.begin(), ends.end(), index_of(graph.points, other));
  const auto& back = between[static_cast<std::size_t>(partner - ends.begin())];
  return !back.empty() && back.front() == gap ? std::optional(*partner) : std::nullopt;
}

}  // namespace

PieceGraph graph_of(std::span<const WallPiece> pieces) {
  PieceGraph graph;
  for (const WallPiece& piece : pieces) {
    graph.points.push_back(piece.from);
    graph.points.push_back(piece.to);
  }
  std::sort(graph.points.begin(), graph.points.end());
  graph.points.erase(std::unique(graph.points.begin(), graph.points.end()), graph.points.end());
  graph.edges_at.resize(graph.points.size());
  graph.component.resize(graph.points.size());
  std::iota(graph.component.begin(), graph.component.end(), std::size_t{0});
  for (const WallPiece& piece : pieces) {
    const std::size_t a = index_of(graph.points, piece.from), b = index_of(graph.points, piece.to);
    graph.edges_at[a].push_back(graph.edges.size());
    graph.edges_at[b].push_back(graph.edges.size());
    graph.edges.push_back({a, b});
    const std::size_t root_a = root_of(graph.component, a), root_b = root_of(graph.component, b);
    graph.component[std::max(root_a, root_b)] = std::min(root_a, root_b);
  }
  for (std::size_t i = 0; i < graph.component.size(); ++i) graph.component[i] = root_of(graph.component, i);
  return graph;
}

std::vector<PossibleBridge> possible_bridges(const PieceGraph& graph, double longest_um) {
  std::vector<std::size_t> ends;
  for (std::size_t i = 0; i < graph.points.size(); ++i)
    if (graph.is_open_end(i)) ends.push_back(i);
  std::vector<std::vector<PossibleBridge>> between;
  for (const std::size_t end : ends) between.push_back(to_ends(graph, ends, end, longest_um));
  std::vector<PossibleBridge> bridges;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    bridges.insert(bridges.end(), between[i].begin(), between[i].end());
    const std::optional<std::size_t> partner = partner_of(graph, ends, between, i);
    add_to_wall(graph, ends[i], partner ? longer_than_a_corner : clearly_longer, partner, longest_um, bridges);
  }
  std::sort(bridges.begin(), bridges.end());
  bridges.erase(std::unique(bridges.begin(), bridges.end()), bridges.end());
  return bridges;
}

}  // namespace cellstow::measuring::scan
