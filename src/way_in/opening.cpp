#include "cellstow/way_in/opening.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/way_in/convex_parts.hpp"

namespace cellstow::way_in {
namespace {

using core::Axis;
using geometry::Loop;
using geometry::PointUm;

Loop ccw_loop(const std::vector<core::Point2>& outline) {
  Loop loop;
  for (const core::Point2& p : outline) loop.push_back({p.a.um(), p.b.um()});
  if (geometry::doubled_area(loop) < 0) std::reverse(loop.begin(), loop.end());
  return loop;
}

Spot to_spot(PointUm p) { return {static_cast<double>(p.s), static_cast<double>(p.t)}; }

/// Products stay below 2^53: coordinates reach 10^7 um.
Side side_between(PointUm from, PointUm to, int edge) {
  const Spot normal{static_cast<double>(to.t - from.t), static_cast<double>(from.s - to.s)};
  const Spot p = to_spot(from);
  return {normal, normal.a * p.a + normal.b * p.b, edge};
}

/// The outline's edge that runs from p to q, or backwards; -1 when none does.
int edge_of(const Loop& outline, PointUm p, PointUm q) {
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const PointUm a = outline[k], b = outline[(k + 1) % outline.size()];
    if ((a == p && b == q) || (a == q && b == p)) return static_cast<int>(k);
  }
  return -1;
}

/// Corners between two neighbours of the hull, round the outline: what they close off is material.
std::vector<Loop> pockets(const Loop& outline, const Loop& hull) {
  std::vector<Loop> out;
  for (std::size_t h = 0; h < hull.size(); ++h) {
    const auto from = std::find(outline.begin(), outline.end(), hull[h]);
    const PointUm to = hull[(h + 1) % hull.size()];
    Loop pocket;
    for (std::size_t k = static_cast<std::size_t>(from - outline.begin());; k = (k + 1) % outline.size()) {
      pocket.push_back(outline[k]);
      if (outline[k] == to) break;
    }
    std::reverse(pocket.begin(), pocket.end());
    if (pocket.size() > 2 && geometry::doubled_area(pocket) > 0) out.push_back(pocket);
  }
  return out;
}

/// Words for the way a normal looks, by axis of the plane.
std::string facing(Axis across, Spot normal) {
  static constexpr const char* words[3][2] = {{"front", "rear"}, {"left", "right"}, {"lower", "upper"}};
  const int axis_a = across == Axis::x ? 1 : 0, axis_b = across == Axis::z ? 1 : 2;
  const std::string along_a = words[axis_a][normal.a > 0], along_b = words[axis_b][normal.b > 0];
  // Within 22.5 degrees of an axis one word is enough.
  constexpr double steep = 2.414;
  if (std::abs(normal.a) > steep * std::abs(normal.b)) return along_a;
  if (std::abs(normal.b) > steep * std::abs(normal.a)) return along_b;
  return axis_b == 2 ? along_b + " " + along_a : along_a + " " + along_b;
}

}  // namespace

Opening::Opening(const survey::WayIn& way) : way_(way), outline_(ccw_loop(way.outline)) {
  const Loop hull = geometry::convex_hull(outline_);
  for (std::size_t k = 0; k < hull.size(); ++k) {
    const PointUm from = hull[k], to = hull[(k + 1) % hull.size()];
    hull_.push_back(side_between(from, to, edge_of(outline_, from, to)));
  }
  for (const Loop& pocket : pockets(outline_, hull)) {
    for (const Loop& part : convex_parts(pocket)) {
      Material material;
      for (std::size_t k = 0; k < part.size(); ++k) {
        const PointUm to = part[(k + 1) % part.size()];
        material.figure.push_back(to_spot(part[k]));
        material.sides.push_back(side_between(part[k], to, edge_of(outline_, part[k], to)));
      }
      material_.push_back(std::move(material));
    }
  }
}

std::string Opening::edge_name(int edge) const {
  const auto name_of = [&](std::size_t k) {
    return facing(way_.across, side_between(outline_[k], outline_[(k + 1) % outline_.size()], 0).normal);
  };
  const auto k = static_cast<std::size_t>(edge);
  const std::string name = name_of(k);
  std::size_t alike = 0;
  for (std::size_t i = 0; i < outline_.size(); ++i) alike += name_of(i) == name;
  if (alike == 1) return name + " edge";
  const PointUm p = outline_[k], q = outline_[(k + 1) % outline_.size()];
  const auto [a, b] = axis_names(way_.across);
  return fmt::format("{} edge at {} {:.0f}, {} {:.0f}", name, a, static_cast<double>(p.s + q.s) / 2000, b,
                     static_cast<double>(p.t + q.t) / 2000);
}

int Opening::nearest_edge(Spot p) const {
  const PointUm at{std::llround(p.a), std::llround(p.b)};
  int best = 0;
  double least_um = 1e18;
  for (std::size_t k = 0; k < outline_.size(); ++k) {
    const double off_um =
        geometry::nearest(outline_[k], outline_[(k + 1) % outline_.size()], at, at).distance_um;
    if (off_um >= least_um) continue;
    least_um = off_um;
    best = static_cast<int>(k);
  }
  return best;
}

std::pair<const char*, const char*> axis_names(Axis across) {
  if (across == Axis::x) return {"y", "z"};
  return {"x", across == Axis::y ? "z" : "y"};
}

}  // namespace cellstow::way_in
