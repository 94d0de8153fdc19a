#include "reference.hpp"

#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Polygon_2.h>
#include <CGAL/Polygon_2_algorithms.h>

#include <algorithm>
#include <cmath>

namespace cellstow::test {
namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Point = Kernel::Point_2;
using Segment = Kernel::Segment_2;
using Rectangle = Kernel::Iso_rectangle_2;
using core::Um;
using geometry::PointUm;

/// Whole numbers below 2^53 pass through double unharmed.
Point exact(PointUm p) { return {static_cast<double>(p.s), static_cast<double>(p.t)}; }

Rectangle exact(const Block& b) {
  return {exact(PointUm{b.s_low, b.t_low}), exact(PointUm{b.s_high, b.t_high})};
}

/// Bounding boxes at least `reach` apart along one axis: not nearer for certain.
bool clearly_apart(PointUm p, PointUm q, const Block& b, Um reach) {
  return std::min(p.s, q.s) - b.s_high >= reach || b.s_low - std::max(p.s, q.s) >= reach ||
         std::min(p.t, q.t) - b.t_high >= reach || b.t_low - std::max(p.t, q.t) >= reach;
}

template <class Shape>
bool shape_nearer(const Shape& shape, const Rectangle& rectangle, Um reach) {
  const Kernel::FT limit = Kernel::FT(static_cast<double>(reach)) * static_cast<double>(reach);
  if (CGAL::do_intersect(shape, rectangle)) return reach > 0;
  for (int k = 0; k < 4; ++k) {
    const Segment side(rectangle.vertex(k), rectangle.vertex(k + 1));
    if (CGAL::squared_distance(shape, side) < limit) return true;
  }
  return false;
}

/// Does the segment pass through the open rectangle?
bool enters(const Segment& segment, const Rectangle& rectangle) {
  const auto common = CGAL::intersection(segment, rectangle);
  if (!common) return false;
  const Segment* piece = boost::get<Segment>(&*common);
  return piece != nullptr &&
         rectangle.has_on_bounded_side(CGAL::midpoint(piece->source(), piece->target()));
}

CGAL::Bounded_side where(const geometry::Loop& loop, const Point& point) {
  std::vector<Point> corners;
  for (const PointUm& p : loop) corners.push_back(exact(p));
  return CGAL::bounded_side_2(corners.begin(), corners.end(), point);
}

bool point_in(const geometry::Loop& loop, const Point& point) {
  return loop.size() >= 3 && where(loop, point) == CGAL::ON_BOUNDED_SIDE;
}

Kernel::FT squared(PointUm a, PointUm b, PointUm c, PointUm d) {
  const Point p = exact(a), q = exact(b), r = exact(c), s = exact(d);
  if (a == b && c == d) return CGAL::squared_distance(p, r);
  if (a == b) return CGAL::squared_distance(p, Segment(r, s));
  if (c == d) return CGAL::squared_distance(Segment(p, q), r);
  return CGAL::squared_distance(Segment(p, q), Segment(r, s));
}

}  // namespace

bool nearer_than(PointUm p, PointUm q, const Block& block, Um reach) {
  if (clearly_apart(p, q, block, reach)) return false;
  if (p == q) return shape_nearer(exact(p), exact(block), reach);
  return shape_nearer(Segment(exact(p), exact(q)), exact(block), reach);
}

bool meets_material(const std::vector<geometry::Loop>& loops, geometry::Side material, Um reach,
                    const Block& block) {
  for (const geometry::Loop& loop : loops) {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const PointUm p = loop[k], q = loop[(k + 1) % loop.size()];
      if (clearly_apart(p, q, block, reach)) continue;
      if (reach > 0 ? nearer_than(p, q, block, reach)
                    : enters(Segment(exact(p), exact(q)), exact(block))) {
        return true;
      }
    }
  }
  const Point middle = CGAL::midpoint(exact(PointUm{block.s_low, block.t_low}),
                                      exact(PointUm{block.s_high, block.t_high}));
  const auto around = std::count_if(loops.begin(), loops.end(), [&](const geometry::Loop& loop) {
    return point_in(loop, middle);
  });
  return (around % 2 == 1) == (material == geometry::Side::inside);
}

bool nearer_than(PointUm a, PointUm b, PointUm c, PointUm d, Um reach) {
  const Kernel::FT limit = Kernel::FT(static_cast<double>(reach)) * static_cast<double>(reach);
  return squared(a, b, c, d) < limit;
}

double distance_um(PointUm a, PointUm b, PointUm c, PointUm d) {
  return std::sqrt(CGAL::to_double(squared(a, b, c, d).exact()));
}

int turn_sign(PointUm a, PointUm b, PointUm c) {
  return static_cast<int>(CGAL::orientation(exact(a), exact(b), exact(c)));
}

double doubled_area(const geometry::Loop& loop) {
  CGAL::Polygon_2<Kernel> polygon;
  for (const PointUm& p : loop) polygon.push_back(exact(p));
  return 2 * CGAL::to_double(polygon.area());
}

bool in_loop(const geometry::Loop& loop, PointUm point) { return point_in(loop, exact(point)); }

bool on_loop(const geometry::Loop& loop, PointUm point) {
  return where(loop, exact(point)) == CGAL::ON_BOUNDARY;
}

}  // namespace cellstow::test
