#include "cellstow/way_in/convex_parts.hpp"

#include <algorithm>

#include "cellstow/geometry/segment.hpp"

namespace cellstow::way_in {
namespace {

using geometry::Loop;
using geometry::PointUm;
using geometry::turn_sign;

/// Is p in the closed triangle a-b-c (counter-clockwise)?
bool in_triangle(PointUm a, PointUm b, PointUm c, PointUm p) {
  return turn_sign(a, b, p) >= 0 && turn_sign(b, c, p) >= 0 && turn_sign(c, a, p) >= 0;
}

/// An ear: a left turn whose triangle holds no other corner.
bool is_ear(const Loop& rest, std::size_t k) {
  const std::size_t n = rest.size();
  const PointUm a = rest[(k + n - 1) % n], b = rest[k], c = rest[(k + 1) % n];
  if (turn_sign(a, b, c) <= 0) return false;
  return std::none_of(rest.begin(), rest.end(), [&](PointUm p) {
    return p != a && p != b && p != c && in_triangle(a, b, c, p);
  });
}

std::vector<Loop> triangles(Loop rest) {
  std::vector<Loop> out;
  while (rest.size() > 3) {
    const std::size_t n = rest.size();
    std::size_t k = 0;
    while (k < n && !is_ear(rest, k)) ++k;
    if (k < n) {
      out.push_back({rest[(k + n - 1) % n], rest[k], rest[(k + 1) % n]});
    } else {
      // No ear left: a corner in a straight line with its neighbours takes nothing with it.
      for (k = 0; k + 1 < n && turn_sign(rest[(k + n - 1) % n], rest[k], rest[(k + 1) % n]) != 0;) ++k;
    }
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(k));
  }
  if (turn_sign(rest[0], rest[1], rest[2]) > 0) out.push_back(rest);
  return out;
}

bool is_convex(const Loop& loop) {
  for (std::size_t k = 0; k < loop.size(); ++k) {
    if (turn_sign(loop[k], loop[(k + 1) % loop.size()], loop[(k + 2) % loop.size()]) < 0) return false;
  }
  return true;
}

/// The two parts joined along a side they share; empty when they share none or the join is not convex.
Loop joined(const Loop& a, const Loop& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t k = 0; k < b.size(); ++k) {
      if (a[i] != b[(k + 1) % b.size()] || a[(i + 1) % a.size()] != b[k]) continue;
      Loop out;
      for (std::size_t n = 1; n <= a.size(); ++n) out.push_back(a[(i + n) % a.size()]);
      for (std::size_t n = 2; n < b.size(); ++n) out.push_back(b[(k + n) % b.size()]);
      return is_convex(out) ? out : Loop{};
    }
  }
  return {};
}

/// Joins the first pair that can be; false when none can.
bool join_one(std::vector<Loop>& parts) {
  for (std::size_t i = 0; i < parts.size(); ++i) {
    for (std::size_t k = i + 1; k < parts.size(); ++k) {
      Loop both = joined(parts[i], parts[k]);
      if (both.empty()) continue;
      parts[i] = std::move(both);
      parts.erase(parts.begin() + static_cast<std::ptrdiff_t>(k));
      return true;
    }
  }
  return false;
}

}  // namespace

std::vector<Loop> convex_parts(const Loop& loop) {
  if (is_convex(loop)) return {loop};
  std::vector<Loop> parts = triangles(loop);
  while (join_one(parts)) {
  }
  return parts;
}

}  // namespace cellstow::way_in
