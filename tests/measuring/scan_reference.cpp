#include "measuring/scan_reference.hpp"

#include <CGAL/Boolean_set_operations_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Polygon_set_2.h>

namespace cellstow::measuring::testing {
namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Polygon = CGAL::Polygon_2<Kernel>;
using Region = CGAL::Polygon_with_holes_2<Kernel>;

Polygon polygon(const geometry::Loop& loop) {
  Polygon p;
  for (const auto& corner : loop) p.push_back({static_cast<double>(corner.s), static_cast<double>(corner.t)});
  return p;
}

CGAL::Polygon_set_2<Kernel> set_of(const geometry::Loop& outline, const std::vector<geometry::Loop>& holes) {
  CGAL::Polygon_set_2<Kernel> set(polygon(outline));
  for (geometry::Loop hole : holes) {
    std::reverse(hole.begin(), hole.end());
    set.difference(polygon(hole));
  }
  return set;
}

}  // namespace

double area_outside(const geometry::Loop& outline, const std::vector<geometry::Loop>& holes, const geometry::Loop& of_outline,
                    const std::vector<geometry::Loop>& of_holes) {
  auto set = set_of(outline, holes);
  set.difference(set_of(of_outline, of_holes));
  std::vector<Region> parts;
  set.polygons_with_holes(std::back_inserter(parts));
  Kernel::FT area = 0;
  for (const Region& part : parts) {
    area += part.outer_boundary().area();
    for (auto hole = part.holes_begin(); hole != part.holes_end(); ++hole) area += hole->area();
  }
  return CGAL::to_double(area);
}

bool is_valid_region(const geometry::Loop& outline, const std::vector<geometry::Loop>& holes) {
  const Polygon outer = polygon(outline);
  if (!outer.is_simple() || !outer.is_counterclockwise_oriented()) return false;
  std::vector<Polygon> inner;
  for (const auto& hole : holes) {
    inner.push_back(polygon(hole));
    if (!inner.back().is_simple() || !inner.back().is_clockwise_oriented()) return false;
    inner.back().reverse_orientation();
    for (auto v = inner.back().vertices_begin(); v != inner.back().vertices_end(); ++v)
      if (outer.bounded_side(*v) != CGAL::ON_BOUNDED_SIDE) return false;
    for (auto v = outer.vertices_begin(); v != outer.vertices_end(); ++v)
      if (inner.back().bounded_side(*v) != CGAL::ON_UNBOUNDED_SIDE) return false;
    for (std::size_t k = 0; k + 1 < inner.size(); ++k)
      if (CGAL::do_intersect(inner[k], inner.back())) return false;
  }
  return true;
}

}  // namespace cellstow::measuring::testing
