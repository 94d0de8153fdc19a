#include "report/hatch.hpp"

#include <algorithm>
#include <cmath>

namespace cellstow::report {

std::vector<std::pair<Spot, Spot>> hatch(const std::vector<Spot>& polygon, double dx, double dy, double apart) {
  std::vector<std::pair<Spot, Spot>> out;
  const double norm = std::hypot(dx, dy), ux = dx / norm, uy = dy / norm;
  const auto across = [&](const Spot& p) { return p.y * ux - p.x * uy; };
  const auto along = [&](const Spot& p) { return p.x * ux + p.y * uy; };
  double low = 1e9, high = -1e9;
  for (const Spot& p : polygon) {
    low = std::min(low, across(p));
    high = std::max(high, across(p));
  }
  // Half a step off whole steps, so that a line seldom falls on an edge.
  for (double c = (std::floor(low / apart) + 0.5) * apart; c < high; c += apart) {
    std::vector<double> crossings;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Spot &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
      const double at_p = across(p), at_q = across(q);
      if ((at_p < c) == (at_q < c)) continue;
      crossings.push_back(along(p) + (c - at_p) / (at_q - at_p) * (along(q) - along(p)));
    }
    std::sort(crossings.begin(), crossings.end());
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
      const double s = crossings[i], t = crossings[i + 1];
      out.push_back({{s * ux - c * uy, s * uy + c * ux}, {t * ux - c * uy, t * uy + c * ux}});
    }
  }
  return out;
}

}  // namespace cellstow::report
