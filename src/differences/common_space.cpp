#include "common_space.hpp"

#include <CGAL/Boolean_set_operations_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Polygon_set_2.h>

#include <algorithm>
#include <cmath>

namespace cellstow::differences {
namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Number = Kernel::FT;
using Point = Kernel::Point_2;
using Ring = CGAL::Polygon_2<Kernel>;
using Piece = CGAL::Polygon_with_holes_2<Kernel>;
using Space = CGAL::Polygon_set_2<Kernel>;

/// Whole micrometres up to 2^53 pass through double without loss.
Point exact(double a_um, double b_um) { return {Number(a_um), Number(b_um)}; }

Ring ring_of(const std::vector<core::Point2>& corners) {
  Ring out;
  for (const core::Point2& p : corners) out.push_back(exact(static_cast<double>(p.a.um()), static_cast<double>(p.b.um())));
  return out;
}

Piece piece_of(const survey::Section& section) {
  Piece out(ring_of(section.outline));
  for (const auto& hole : section.holes) out.add_hole(ring_of(hole));
  return out;
}

Number area(const Piece& piece) {
  Number out = piece.outer_boundary().area();
  for (auto hole = piece.holes_begin(); hole != piece.holes_end(); ++hole) out += hole->area();  // clockwise: negative
  return out;
}

bool left_of(const Point& p, const Point& q, const Point& at) { return CGAL::orientation(p, q, at) != CGAL::RIGHT_TURN; }

/// The whole-micrometre point nearest to `corner` on the free side of both its edges' lines: with free space to the left, no
/// edge that ends there comes to lie outside. Nothing within `reach` where the corner is too sharp.
std::optional<Point> on_the_grid(const Point& before, const Point& corner, const Point& after) {
  constexpr int reach = 40;
  const double a = std::round(CGAL::to_double(corner.x())), b = std::round(CGAL::to_double(corner.y()));
  if (exact(a, b) == corner) return corner;
  std::optional<Point> best;
  Number least = 0;
  for (int far = 1; far <= reach && !best; far = far * 2 + 2)
    for (int i = -far; i <= far; ++i)
      for (int k = -far; k <= far; ++k) {
        const Point at = exact(a + i, b + k);
        if (!left_of(before, corner, at) || !left_of(corner, after, at)) continue;
        const Number squared = CGAL::squared_distance(corner, at);
        if (!best || squared < least) best = at, least = squared;
      }
  return best;
}

std::optional<Ring> on_the_grid(const Ring& ring) {
  std::vector<Point> corners;
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    const auto at = on_the_grid(ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
    if (!at) return {};
    if (corners.empty() || corners.back() != *at) corners.push_back(*at);
  }
  while (corners.size() > 1 && corners.front() == corners.back()) corners.pop_back();
  if (corners.size() < 3) return {};
  return Ring(corners.begin(), corners.end());
}

/// Simple rings, the holes well inside the outline and clear of one another: what a section has to be.
bool can_be_told(const Piece& piece) {
  if (!piece.outer_boundary().is_simple() || !piece.outer_boundary().is_counterclockwise_oriented()) return false;
  const auto touch = [](const Ring& p, const Ring& q) {
    for (auto e = p.edges_begin(); e != p.edges_end(); ++e)
      for (auto f = q.edges_begin(); f != q.edges_end(); ++f)
        if (CGAL::do_intersect(*e, *f)) return true;
    return false;
  };
  for (auto hole = piece.holes_begin(); hole != piece.holes_end(); ++hole) {
    if (!hole->is_simple() || !hole->is_clockwise_oriented() || touch(*hole, piece.outer_boundary())) return false;
    for (auto other = std::next(hole); other != piece.holes_end(); ++other)
      if (touch(*hole, *other)) return false;
  }
  return true;
}

std::optional<Piece> on_the_grid(const Piece& piece) {
  const auto outline = on_the_grid(piece.outer_boundary());
  if (!outline) return {};
  Piece out(*outline);
  for (auto hole = piece.holes_begin(); hole != piece.holes_end(); ++hole) {
    const auto ring = on_the_grid(*hole);
    if (!ring) return {};
    out.add_hole(*ring);
  }
  if (!can_be_told(out)) return {};
  Space beyond(out);
  beyond.difference(Space(piece));
  return beyond.is_empty() ? std::optional(out) : std::nullopt;
}

std::vector<core::Point2> corners_of(const Ring& ring) {
  std::vector<core::Point2> out;
  for (auto p = ring.vertices_begin(); p != ring.vertices_end(); ++p)
    out.push_back({core::Length::from_um(std::llround(CGAL::to_double(p->x()))), core::Length::from_um(std::llround(CGAL::to_double(p->y())))});
  // from the lowest corner: the same whatever the order in which the cars were named
  std::rotate(out.begin(), std::min_element(out.begin(), out.end()), out.end());
  return out;
}

survey::Section section_of(const Piece& piece) {
  survey::Section out;
  out.outline = corners_of(piece.outer_boundary());
  for (auto hole = piece.holes_begin(); hole != piece.holes_end(); ++hole) out.holes.push_back(corners_of(*hole));
  std::sort(out.holes.begin(), out.holes.end());
  return out;
}

}  // namespace

CommonSpace common_space(const std::vector<const survey::Section*>& sections) {
  Space space(piece_of(*sections.front()));
  for (const survey::Section* section : sections) space.intersection(Space(piece_of(*section)));
  std::vector<Piece> pieces;
  space.polygons_with_holes(std::back_inserter(pieces));
  CommonSpace out;
  if (pieces.empty()) return out;
  const auto largest = std::max_element(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) {
    return area(a) != area(b) ? area(a) < area(b) : corners_of(a.outer_boundary()) > corners_of(b.outer_boundary());
  });
  for (auto piece = pieces.begin(); piece != pieces.end(); ++piece)
    if (piece != largest) out.lost_mm2 += CGAL::to_double(area(*piece)) / 1e6;
  if (const auto told = on_the_grid(*largest))
    out.section = section_of(*told);
  else
    out.untold = true;
  return out;
}

}  // namespace cellstow::differences
