#include "outline_walls.hpp"

#include <cmath>

#include "cellstow/geometry/segment.hpp"

namespace cellstow::limits {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double most_turn = 15 * pi / 180;
/// Corners within this of square count as square: less than a millimetre on a wall of half a metre.
constexpr double square_sine = 0.0005;

PointUm corner(const std::vector<Loop>& loops, std::size_t loop, std::size_t k) {
  return loops[loop][k % loops[loop].size()];
}

/// Direction of edge k as an angle.
double heading(const Loop& loop, std::size_t k) {
  const PointUm a = loop[k % loop.size()], b = loop[(k + 1) % loop.size()];
  return std::atan2(static_cast<double>(b.t - a.t), static_cast<double>(b.s - a.s));
}

bool turns_little(double from, double to) {
  double turn = std::fabs(to - from);
  if (turn > pi) turn = 2 * pi - turn;
  return turn <= most_turn + 1e-9;
}

/// Depth of a point beyond the wall's corner, along `out`.
double depth_um(PointUm corner, PointUm point, std::array<double, 2> out) {
  return static_cast<double>(point.s - corner.s) * out[0] + static_cast<double>(point.t - corner.t) * out[1];
}

Meeting meeting(PointUm corner, PointUm neighbour, std::array<double, 2> out) {
  const double length = std::hypot(static_cast<double>(neighbour.s - corner.s),
                                   static_cast<double>(neighbour.t - corner.t));
  const double depth = depth_um(corner, neighbour, out);
  if (depth > 0) return Meeting::taken_down;
  return std::fabs(depth + length) <= square_sine * length ? Meeting::flush : Meeting::pocket;
}

PointUm moved(PointUm p, std::array<double, 2> out, Um by) {
  return {p.s + std::llround(out[0] * static_cast<double>(by)), p.t + std::llround(out[1] * static_cast<double>(by))};
}

/// The point of the neighbouring edge that lies `by` deep.
PointUm along_neighbour(PointUm corner, PointUm neighbour, double share) {
  return {corner.s + std::llround(share * static_cast<double>(neighbour.s - corner.s)),
          corner.t + std::llround(share * static_cast<double>(neighbour.t - corner.t))};
}

/// New corners at one end of the run, from the neighbour towards the run; false when the neighbour is overtaken.
bool end_corners(PointUm corner, PointUm neighbour, std::array<double, 2> out, Meeting meeting, Um by,
                 Loop& corners) {
  if (meeting == Meeting::taken_down) {
    const double depth = depth_um(corner, neighbour, out);
    if (depth <= static_cast<double>(by) + 1) return false;
    corners.push_back(along_neighbour(corner, neighbour, static_cast<double>(by) / depth));
    return true;
  }
  if (meeting == Meeting::pocket) corners.push_back(corner);
  corners.push_back(moved(corner, out, by));
  return true;
}

/// Do the edges [first, last) of the new loop keep off every edge of all loops that is not their neighbour?
bool keeps_off(const std::vector<Loop>& loops, std::size_t which, std::size_t first, std::size_t last) {
  const Loop& loop = loops[which];
  const std::size_t n = loop.size();
  for (std::size_t i = first; i < last; ++i) {
    const PointUm a = loop[i % n], b = loop[(i + 1) % n];
    for (std::size_t l = 0; l < loops.size(); ++l) {
      for (std::size_t k = 0; k < loops[l].size(); ++k) {
        if (l == which && (k == i % n || (k + 1) % n == i % n || k == (i + 1) % n)) continue;
        if (!geometry::segments_keep(a, b, loops[l][k], loops[l][(k + 1) % loops[l].size()], 1)) return false;
      }
    }
  }
  return true;
}

}  // namespace

std::vector<Loop> loops_of(const survey::Section& section) {
  const auto loop_of = [](const std::vector<survey::Point2>& points) {
    Loop loop;
    for (const survey::Point2& p : points) loop.push_back({p.a.um(), p.b.um()});
    return loop;
  };
  std::vector<Loop> loops{loop_of(section.outline)};
  for (const auto& hole : section.holes) loops.push_back(loop_of(hole));
  return loops;
}

std::array<PointUm, 2> ends(const std::vector<Loop>& loops, const EdgeRun& run) {
  return {corner(loops, run.loop, run.first), corner(loops, run.loop, run.first + run.count)};
}

std::array<double, 2> outward(const std::vector<Loop>& loops, const EdgeRun& run) {
  // Free space lies to the left: outlines run counter-clockwise, holes clockwise.
  const auto [a, b] = ends(loops, run);
  const double ds = static_cast<double>(b.s - a.s), dt = static_cast<double>(b.t - a.t);
  const double length = std::hypot(ds, dt);
  return {dt / length, -ds / length};
}

double length_um(const std::vector<Loop>& loops, const EdgeRun& run) {
  const auto [a, b] = ends(loops, run);
  return std::hypot(static_cast<double>(b.s - a.s), static_cast<double>(b.t - a.t));
}

std::vector<EdgeRun> edge_runs(const std::vector<Loop>& loops) {
  std::vector<EdgeRun> runs;
  for (std::size_t l = 0; l < loops.size(); ++l) {
    const Loop& loop = loops[l];
    const std::size_t n = loop.size();
    // Begin at a corner that turns, so that no wall is cut by the list's beginning.
    std::size_t start = 0;
    while (start < n && turns_little(heading(loop, start + n - 1), heading(loop, start))) ++start;
    if (start == n) start = 0;
    for (std::size_t k = 0; k < n;) {
      EdgeRun run{l, (start + k) % n, 1};
      while (k + run.count < n && turns_little(heading(loop, run.first), heading(loop, start + k + run.count))) ++run.count;
      k += run.count;
      runs.push_back(run);
    }
  }
  return runs;
}

Meeting meeting_before(const std::vector<Loop>& loops, const EdgeRun& run, std::array<double, 2> out) {
  const std::size_t n = loops[run.loop].size();
  return meeting(corner(loops, run.loop, run.first), corner(loops, run.loop, run.first + n - 1), out);
}

Meeting meeting_after(const std::vector<Loop>& loops, const EdgeRun& run, std::array<double, 2> out) {
  return meeting(corner(loops, run.loop, run.first + run.count), corner(loops, run.loop, run.first + run.count + 1), out);
}

std::optional<std::vector<Loop>> pushed_out(const std::vector<Loop>& loops, const EdgeRun& run,
                                            std::array<double, 2> out, Meeting before, Meeting after,
                                            Um by) {
  const std::size_t n = loops[run.loop].size(), last = run.first + run.count;
  if (run.count + 2 > n) return std::nullopt;
  Loop changed, end;
  if (!end_corners(corner(loops, run.loop, run.first), corner(loops, run.loop, run.first + n - 1), out, before, by,
                   changed)) {
    return std::nullopt;
  }
  for (std::size_t k = run.first + 1; k < last; ++k) changed.push_back(moved(corner(loops, run.loop, k), out, by));
  if (!end_corners(corner(loops, run.loop, last), corner(loops, run.loop, last + 1), out, after, by, end)) {
    return std::nullopt;
  }
  changed.insert(changed.end(), end.rbegin(), end.rend());
  const std::size_t fresh = changed.size();
  for (std::size_t k = last + 1; k < run.first + n; ++k) changed.push_back(corner(loops, run.loop, k));
  std::vector<Loop> result = loops;
  result[run.loop] = std::move(changed);
  // The edges before, between and after the new corners may meet something; the rest stands where it stood.
  const std::size_t size = result[run.loop].size();
  if (!keeps_off(result, run.loop, size - 1, size + fresh)) return std::nullopt;
  return result;
}

}  // namespace cellstow::limits
