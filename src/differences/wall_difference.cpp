#include "cellstow/differences/wall_difference.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace cellstow::differences {
namespace {

using Ring = std::vector<Point2>;

struct Spot { double a, b; };
struct Edge { Spot from, to; };

Spot spot(Point2 p) { return {static_cast<double>(p.a.um()), static_cast<double>(p.b.um())}; }
Point2 point(Spot s) { return {core::Length::from_um(std::llround(s.a)), core::Length::from_um(std::llround(s.b))}; }
double between(Spot p, Spot q) { return std::hypot(p.a - q.a, p.b - q.b); }
Spot middle(const Edge& edge) { return {(edge.from.a + edge.to.a) / 2, (edge.from.b + edge.to.b) / 2}; }

std::vector<Edge> edges_of(const survey::Section& section) {
  std::vector<Edge> out;
  const auto add = [&](const Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) out.push_back({spot(ring[i]), spot(ring[(i + 1) % ring.size()])});
  };
  add(section.outline);
  for (const Ring& hole : section.holes) add(hole);
  return out;
}

double distance(Spot p, const Edge& edge) {
  const double a = edge.to.a - edge.from.a, b = edge.to.b - edge.from.b;
  const double along = ((p.a - edge.from.a) * a + (p.b - edge.from.b) * b) / (a * a + b * b);
  const double t = std::clamp(along, 0.0, 1.0);
  return between(p, {edge.from.a + t * a, edge.from.b + t * b});
}

double distance(Spot p, const std::vector<Edge>& wall) {
  double least = std::numeric_limits<double>::infinity();
  for (const Edge& edge : wall) least = std::min(least, distance(p, edge));
  return least;
}

/// Even-odd rule; places on the wall itself may come out either way.
bool inside(Spot p, const std::vector<Edge>& wall) {
  bool in = false;
  for (const Edge& e : wall)
    if ((e.from.b > p.b) != (e.to.b > p.b) &&
        p.a < (e.to.a - e.from.a) * (p.b - e.from.b) / (e.to.b - e.from.b) + e.from.a)
      in = !in;
  return in;
}

struct Farthest { double um = 0; Spot at{}; };

/// Those edges of `wall` that can be nearest to a place on an edge of `length`, given their distances from its middle.
std::vector<Edge> still_near(const std::vector<Edge>& wall, const std::vector<double>& from_middle_um, double length) {
  const double reach_um = *std::min_element(from_middle_um.begin(), from_middle_um.end()) + length;
  std::vector<Edge> out;
  for (std::size_t i = 0; i < wall.size(); ++i)
    if (from_middle_um[i] <= reach_um) out.push_back(wall[i]);
  return out;
}

/// Takes what lies within an edge whose two ends have been looked at; only edges in `other` are near it.
void look_along(const Edge& edge, double from_um, double to_um, const std::vector<Edge>& other, Farthest& best) {
  constexpr double exact_um = 0.4;
  // the distance from one edge is convex along another, so it is greatest at an end
  if (other.size() == 1) return;
  const double length = between(edge.from, edge.to);
  if ((from_um + to_um + length) / 2 <= best.um + exact_um) return;
  const Spot half = middle(edge);
  std::vector<double> from_half_um;
  for (const Edge& one : other) from_half_um.push_back(distance(half, one));
  const double half_um = *std::min_element(from_half_um.begin(), from_half_um.end());
  if (half_um > best.um) best = {half_um, half};
  if (length < exact_um) return;
  const std::vector<Edge> near = still_near(other, from_half_um, length);
  look_along({edge.from, half}, from_um, half_um, near, best);
  look_along({half, edge.to}, half_um, to_um, near, best);
}

Farthest farthest(const std::vector<Edge>& wall, const std::vector<Edge>& other) {
  Farthest best;
  const auto take = [&](Spot at) {
    if (const double um = distance(at, other); um > best.um) best = {um, at};
  };
  // corners, then middles, first: a wall moved as a whole is then told at its corner or at its middle
  for (const Edge& edge : wall) take(edge.from);
  for (const Edge& edge : wall) take(middle(edge));
  for (const Edge& edge : wall) look_along(edge, distance(edge.from, other), distance(edge.to, other), other, best);
  return best;
}

double ring_area_um2(const Ring& ring) {
  double doubled = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Spot p = spot(ring[i]), q = spot(ring[(i + 1) % ring.size()]);
    doubled += p.a * q.b - p.b * q.a;
  }
  return std::abs(doubled) / 2;
}

}  // namespace

WallDifference greatest_difference(const survey::Section& first, const survey::Section& second) {
  const std::vector<Edge> a = edges_of(first), b = edges_of(second);
  const Farthest from_a = farthest(a, b), from_b = farthest(b, a);
  const bool on_first = from_a.um >= from_b.um;
  const Farthest& worst = on_first ? from_a : from_b;
  // a wall of one section inside the other's free space: the other is wider there
  const bool other_wider = inside(worst.at, on_first ? b : a);
  return {worst.um / 1000, point(worst.at), on_first, on_first != other_wider};
}

double area_mm2(const survey::Section& section) {
  double um2 = ring_area_um2(section.outline);
  for (const Ring& hole : section.holes) um2 -= ring_area_um2(hole);
  return um2 / 1e6;
}

survey::Section mirrored(const survey::Section& section, core::Axis across) {
  const auto turn = [&](Ring& ring) {
    for (Point2& p : ring) (across == core::Axis::z ? p.b : p.a) = -(across == core::Axis::z ? p.b : p.a);
    std::reverse(ring.begin(), ring.end());
  };
  survey::Section out = section;
  out.measured.reset();  // says which corner is which
  turn(out.outline);
  for (Ring& hole : out.holes) turn(hole);
  return out;
}

}  // namespace cellstow::differences
