#include "known_layout.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace cellstow::measuring {
namespace {

struct Flat {
  double x, y;
};

double turn(const Flat& p, const Flat& q, const Flat& r) { return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x); }

/// Least height of the triangle below a fiftieth of its longest side.
bool nearly_on_a_line(const Flat& p, const Flat& q, const Flat& r) {
  const double longest = std::max({std::hypot(q.x - p.x, q.y - p.y), std::hypot(r.x - q.x, r.y - q.y), std::hypot(p.x - r.x, p.y - r.y)});
  return std::abs(turn(p, q, r)) <= longest * longest / 50;
}

Flat in_plane(const KnownInPicture& point) { return {point.at.a_mm, point.at.b_mm}; }
Flat in_picture(const KnownInPicture& point) { return {point.px.u_px, point.px.v_px}; }

bool on_a_line(std::span<const KnownInPicture> known, std::size_t i, std::size_t j, std::size_t k) {
  return nearly_on_a_line(in_plane(known[i]), in_plane(known[j]), in_plane(known[k])) ||
         nearly_on_a_line(in_picture(known[i]), in_picture(known[j]), in_picture(known[k]));
}

}  // namespace

std::optional<std::vector<std::size_t>> three_on_a_line(std::span<const KnownInPicture> known) {
  std::optional<std::vector<std::size_t>> first;
  const auto told = [&](std::size_t i, std::size_t j, std::size_t k) {
    const bool line = on_a_line(known, i, j, k);
    if (line && !first) first = std::vector<std::size_t>{i, j, k};
    return line;
  };
  const std::size_t n = known.size();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 1; j < n; ++j)
      for (std::size_t k = j + 1; k < n; ++k) {
        if (told(i, j, k)) continue;
        for (std::size_t m = k + 1; m < n; ++m)
          if (!told(i, j, m) && !told(i, k, m) && !told(j, k, m)) return {};
      }
  return first;
}

std::vector<DrawnPoint> polygon_round(std::span<const KnownInPicture> known) {
  std::vector<Flat> points;
  for (const KnownInPicture& point : known) points.push_back(in_plane(point));
  std::sort(points.begin(), points.end(), [](const Flat& p, const Flat& q) { return p.x < q.x || (p.x == q.x && p.y < q.y); });
  std::vector<Flat> round;
  for (int side = 0; side < 2; ++side) {
    const std::size_t start = round.size();
    for (const Flat& point : points) {
      while (round.size() >= start + 2 && turn(round[round.size() - 2], round.back(), point) <= 0) round.pop_back();
      round.push_back(point);
    }
    round.pop_back();
    std::reverse(points.begin(), points.end());
  }
  std::vector<DrawnPoint> polygon;
  for (const Flat& point : round) polygon.push_back({point.x, point.y});
  return polygon;
}

bool lies_outside(const std::vector<DrawnPoint>& convex, const DrawnPoint& point) {
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const DrawnPoint &p = convex[i], &q = convex[(i + 1) % convex.size()];
    // a micrometre of grace: a corner clicked on a known point is not outside
    const double out = turn({p.a_mm, p.b_mm}, {q.a_mm, q.b_mm}, {point.a_mm, point.b_mm});
    if (out < -0.001 * std::hypot(q.a_mm - p.a_mm, q.b_mm - p.b_mm)) return true;
  }
  return false;
}

}  // namespace cellstow::measuring
