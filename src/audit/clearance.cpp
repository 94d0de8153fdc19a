#include "clearance.hpp"

#include <CGAL/Polygon_2_algorithms.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "exact.hpp"

namespace cellstow::audit {
namespace {

double mm(const Number& ticks) { return CGAL::to_double(ticks) / ticks_per_mm; }

bool within(const CGAL::Bbox_2& left, const CGAL::Bbox_2& right, double reach) {
  const double da = std::max({0.0, left.xmin() - right.xmax(), right.xmin() - left.xmax()});
  const double db = std::max({0.0, left.ymin() - right.ymax(), right.ymin() - left.ymax()});
  return da * da + db * db <= reach * reach;
}

/// Edges of the material that can matter, widened by a tick so that no rounding hides one.
std::vector<std::size_t> near_edges(const Figure& figure, const Figure& shape, const Number& clearance) {
  const double reach = CGAL::to_double(clearance) + 1.0;
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < shape.edges.size(); ++i) {
    if (within(figure.box, shape.boxes[i], reach)) out.push_back(i);
  }
  return out;
}

struct Gap { Number squared; ExactPoint at; };

/// The least squared distance below clearance squared, and the point of the figure's edge or the
/// material's corner where it is about.
std::optional<Gap> least_gap(const Figure& figure, const Figure& shape,
                             const std::vector<std::size_t>& near, const Number& clearance) {
  std::optional<Gap> least;
  Number limit = clearance * clearance;
  const double reach = CGAL::to_double(clearance) + 1.0;
  for (const std::size_t i : near) {
    for (std::size_t j = 0; j < figure.edges.size(); ++j) {
      if (!within(figure.boxes[j], shape.boxes[i], reach)) continue;
      const Number squared = CGAL::squared_distance(figure.edges[j], shape.edges[i]);
      if (squared >= limit) continue;
      limit = squared;
      least = Gap{squared, CGAL::midpoint(shape.edges[i].source(), shape.edges[i].target())};
      if (CGAL::squared_distance(shape.edges[i].source(), figure.edges[j]) == squared) {
        least->at = shape.edges[i].source();
      } else if (CGAL::squared_distance(shape.edges[i].target(), figure.edges[j]) == squared) {
        least->at = shape.edges[i].target();
      } else if (CGAL::squared_distance(figure.edges[j].source(), shape.edges[i]) == squared) {
        least->at = figure.edges[j].source();
      } else if (CGAL::squared_distance(figure.edges[j].target(), shape.edges[i]) == squared) {
        least->at = figure.edges[j].target();
      }
    }
  }
  return least;
}

void add_cuts(const ExactEdge& edge, const ExactEdge& other, std::vector<ExactPoint>& cuts) {
  const auto met = CGAL::intersection(edge, other);
  if (!met) return;
  if (const ExactPoint* point = boost::get<ExactPoint>(&*met)) cuts.push_back(*point);
  if (const ExactEdge* part = boost::get<ExactEdge>(&*met)) {
    cuts.push_back(part->source());
    cuts.push_back(part->target());
  }
}

/// Middles of the pieces into which the other figure's edges cut this edge; none for an edge that
/// the other does not even touch.
std::vector<ExactPoint> piece_middles(const ExactEdge& edge, const CGAL::Bbox_2& box, const Figure& other,
                                      const std::vector<std::size_t>& candidates) {
  std::vector<ExactPoint> cuts, middles;
  for (const std::size_t i : candidates) {
    if (within(box, other.boxes[i], 1.0)) add_cuts(edge, other.edges[i], cuts);
  }
  if (cuts.empty()) return middles;
  cuts.push_back(edge.source());
  cuts.push_back(edge.target());
  std::sort(cuts.begin(), cuts.end());
  for (std::size_t i = 1; i < cuts.size(); ++i) {
    if (cuts[i - 1] != cuts[i]) middles.push_back(CGAL::midpoint(cuts[i - 1], cuts[i]));
  }
  return middles;
}

bool in_material(const ExactPoint& point, const Material& material) {
  if (material.side == Side::everywhere) return true;
  if (material.side == Side::line) return false;
  const Where where = locate(point, material.shape);
  return where == (material.side == Side::inside ? Where::inside : Where::outside);
}

/// A point strictly inside a simple ring: in the ear at its lexicographically least corner, beside
/// the corner of the ring that reaches deepest into that ear.
ExactPoint inner_point(const Figure& ring) {
  const std::size_t n = ring.corners.size();
  const std::size_t least = static_cast<std::size_t>(
      std::min_element(ring.corners.begin(), ring.corners.end()) - ring.corners.begin());
  const ExactPoint& tip = ring.corners[least];
  const ExactPoint& before = ring.corners[(least + n - 1) % n];
  const ExactPoint& after = ring.corners[(least + 1) % n];
  const Kernel::Triangle_2 ear(before, tip, after);
  if (ear.is_degenerate()) return tip;
  std::optional<ExactPoint> deepest;
  Number farthest = 0;
  for (std::size_t i = 0; i < n; ++i) {
    if (i == least || ring.corners[i] == before || ring.corners[i] == after) continue;
    if (ear.has_on_unbounded_side(ring.corners[i])) continue;
    const Number away = CGAL::abs(CGAL::area(before, after, ring.corners[i]));
    if (!deepest || away > farthest) deepest = ring.corners[i], farthest = away;
  }
  return deepest ? CGAL::midpoint(tip, *deepest) : CGAL::centroid(before, tip, after);
}

/// Points at which figure and material reach into each other; empty when they do not.
///
/// Every piece of either boundary between two crossings lies wholly on one side of the other, so
/// its middle decides for the piece. Without any such piece the figure is on one side as a whole,
/// and one inner point decides.
std::vector<ExactPoint> shared_points(const Figure& figure, const Material& material,
                                      const std::vector<std::size_t>& near) {
  std::vector<ExactPoint> shared;
  for (std::size_t j = 0; j < figure.edges.size(); ++j) {
    for (const ExactPoint& middle : piece_middles(figure.edges[j], figure.boxes[j], material.shape, near)) {
      if (in_material(middle, material)) shared.push_back(middle);
    }
  }
  std::vector<std::size_t> all(figure.edges.size());
  for (std::size_t j = 0; j < all.size(); ++j) all[j] = j;
  for (const std::size_t i : near) {
    if (!within(figure.box, material.shape.boxes[i], 1.0)) continue;
    const ExactEdge& edge = material.shape.edges[i];
    std::vector<ExactPoint> middles = piece_middles(edge, material.shape.boxes[i], figure, all);
    if (middles.empty()) middles.push_back(CGAL::midpoint(edge.source(), edge.target()));
    for (const ExactPoint& middle : middles) {
      if (locate(middle, figure) == Where::inside) shared.push_back(middle);
    }
  }
  if (shared.empty()) {
    const ExactPoint inner = inner_point(figure);
    if (in_material(inner, material)) shared.push_back(inner);
  }
  return shared;
}

double distance_to_edges(const ExactPoint& point, const Figure& ring) {
  double least = std::numeric_limits<double>::max();
  for (const ExactEdge& edge : ring.edges) {
    const double px = CGAL::to_double(point.x()), py = CGAL::to_double(point.y());
    const double ax = CGAL::to_double(edge.source().x()), ay = CGAL::to_double(edge.source().y());
    const double bx = CGAL::to_double(edge.target().x()) - ax, by = CGAL::to_double(edge.target().y()) - ay;
    const double length = bx * bx + by * by;
    const double along = length > 0 ? std::clamp(((px - ax) * bx + (py - ay) * by) / length, 0.0, 1.0) : 0;
    least = std::min(least, std::hypot(ax + along * bx - px, ay + along * by - py));
  }
  return least;
}

/// Deepest of the shared points and of the corners that lie in the other: a lower limit, for telling.
Conflict told_overlap(const Figure& figure, const Material& material, std::vector<ExactPoint> shared,
                      const std::vector<std::size_t>& near) {
  Conflict out;
  for (const ExactPoint& corner : figure.corners) {
    if (in_material(corner, material)) shared.push_back(corner);
  }
  std::vector<std::pair<ExactPoint, double>> depths;
  const Figure& bounds = material.side == Side::line ? figure : material.shape;
  for (const ExactPoint& point : shared) depths.emplace_back(point, distance_to_edges(point, bounds));
  for (const std::size_t i : near) {
    for (const ExactPoint& corner : {material.shape.edges[i].source(), material.shape.edges[i].target()}) {
      if (locate(corner, figure) == Where::inside) depths.emplace_back(corner, distance_to_edges(corner, figure));
    }
  }
  for (const auto& [point, ticks] : depths) {
    if (ticks / ticks_per_mm < out.depth_mm) continue;
    out.depth_mm = ticks / ticks_per_mm;
    out.at_a_mm = mm(point.x()), out.at_b_mm = mm(point.y());
  }
  return out;
}

std::optional<Conflict> everywhere_conflict(const Figure& figure, const Material& material) {
  Conflict out;
  out.depth_mm = out.short_mm = std::numeric_limits<double>::max();
  out.at_a_mm = mm(figure.corners[0].x()), out.at_b_mm = mm(figure.corners[0].y());
  out.with = material.name;
  return out;
}

}  // namespace

Figure make_figure(std::vector<ExactPoint> corners) {
  Figure out;
  out.corners = std::move(corners);
  const std::size_t n = out.corners.size();
  const std::size_t edges = n == 2 ? 1 : n;
  for (std::size_t i = 0; i < edges; ++i) {
    out.edges.emplace_back(out.corners[i], out.corners[(i + 1) % n]);
    out.boxes.push_back(out.corners[i].bbox() + out.corners[(i + 1) % n].bbox());
    out.box += out.boxes.back();
  }
  return out;
}

Figure make_figure(const Ring& ring) {
  std::vector<ExactPoint> corners;
  corners.reserve(ring.size());
  for (const Spot spot : ring) corners.emplace_back(exact(spot.a), exact(spot.b));
  return make_figure(std::move(corners));
}

Where locate(const ExactPoint& point, const Figure& ring) {
  const CGAL::Bbox_2 at = point.bbox();
  bool inside = false;
  for (std::size_t i = 0; i < ring.edges.size(); ++i) {
    const CGAL::Bbox_2& box = ring.boxes[i];
    if (box.ymax() < at.ymin() || box.ymin() > at.ymax() || box.xmax() < at.xmin()) continue;
    const ExactPoint& source = ring.edges[i].source();
    const ExactPoint& target = ring.edges[i].target();
    if (box.xmin() <= at.xmax() && ring.edges[i].has_on(point)) return Where::on_edge;
    const bool source_above = source.y() > point.y(), target_above = target.y() > point.y();
    if (source_above == target_above) continue;
    // An upward edge with the point on its left crosses the ray to the right, a downward one with it on its right.
    const bool left = CGAL::orientation(source, target, point) == CGAL::LEFT_TURN;
    if (left == target_above) inside = !inside;
  }
  return inside ? Where::inside : Where::outside;
}

std::optional<Conflict> conflict(const Figure& figure, const Material& material, const Number& clearance) {
  if (material.side == Side::everywhere) return everywhere_conflict(figure, material);
  const std::vector<std::size_t> near = near_edges(figure, material.shape, clearance);
  const std::vector<ExactPoint> shared = shared_points(figure, material, near);
  Conflict out;
  if (!shared.empty()) {
    out = told_overlap(figure, material, shared, near);
  } else {
    const std::optional<Gap> gap =
        clearance > 0 ? least_gap(figure, material.shape, near, clearance) : std::nullopt;
    if (!gap) return std::nullopt;
    out.gap_mm = std::sqrt(CGAL::to_double(gap->squared)) / ticks_per_mm;
    out.at_a_mm = mm(gap->at.x()), out.at_b_mm = mm(gap->at.y());
  }
  out.short_mm = mm(clearance) - out.gap_mm + out.depth_mm;
  out.with = material.name;
  return out;
}

std::optional<Conflict> disc_conflict(const Figure& figure, const ExactPoint& centre, const Number& radius,
                                      const Number& clearance) {
  const Number reach = radius + clearance;
  std::optional<Number> least;
  if (locate(centre, figure) == Where::inside) {
    least = Number(0);
  } else {
    for (const ExactEdge& edge : figure.edges) {
      const Number squared = CGAL::squared_distance(centre, edge);
      if (squared < reach * reach && (!least || squared < *least)) least = squared;
    }
  }
  if (!least) return std::nullopt;
  Conflict out;
  const double free_mm = std::sqrt(CGAL::to_double(*least)) / ticks_per_mm - mm(radius);
  out.gap_mm = std::max(0.0, free_mm);
  out.depth_mm = std::max(0.0, -free_mm);
  out.short_mm = mm(clearance) - free_mm;
  out.at_a_mm = mm(centre.x()), out.at_b_mm = mm(centre.y());
  return out;
}

void keep_worse(std::optional<Conflict>& worst, std::optional<Conflict> other) {
  if (other && (!worst || other->short_mm > worst->short_mm)) worst = std::move(other);
}

std::optional<Conflict> ring_conflict(const Ring& figure, const Ring& ring, Side side, Tick clearance) {
  return conflict(make_figure(figure), Material{make_figure(ring), side, {}}, exact(clearance));
}

bool is_simple_ring(const Ring& ring) {
  if (ring.size() < 3) return false;
  const Figure figure = make_figure(ring);
  return CGAL::is_simple_2(figure.corners.begin(), figure.corners.end(), Kernel());
}

}  // namespace cellstow::audit
