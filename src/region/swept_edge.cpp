#include "swept_edge.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "cellstow/geometry/segment.hpp"

namespace cellstow::region {
namespace {

using geometry::Loop;
using geometry::PointUm;

/// A place on the edge at a moment of its way: both shares run from 0 to 1.
struct Moment { double way, along; };

/// The edge's place in plan is
///   P(way, along) = start + way p + along q + way along w,
/// and the area that a bit of way and a bit of edge sweep, with its sign,
///   J = p x q + way (p x w) + along (w x q):
/// as linear as a plane. Where J is zero the edge folds back: those points lie on one straight line of moments,
/// and their images on a parabola that every place of the edge touches (its envelope).
class Sweep {
 public:
  explicit Sweep(const SweptEdge& e)
      : start_(e.start_before), p_(from_to(e.start_before, e.start_after)), q_(from_to(e.start_before, e.end_before)),
        w_(from_to(q_, from_to(e.start_after, e.end_after))),
        constant_(cross(p_, q_)), by_way_(cross(p_, w_)), by_along_(cross(w_, q_)) {}

  /// Exact at the four corners.
  Um area_sign(int way, int along) const {
    const Um area = constant_ + way * by_way_ + along * by_along_;
    return area > 0 ? 1 : (area < 0 ? -1 : 0);
  }

  double area(const Moment& m) const {
    return static_cast<double>(constant_) + m.way * static_cast<double>(by_way_) + m.along * static_cast<double>(by_along_);
  }

  PointUm place(const Moment& m) const {
    const auto mixed = [&](Um at, Um p, Um q, Um w) {
      return at + std::llround(m.way * static_cast<double>(p) + m.along * static_cast<double>(q) +
                               m.way * m.along * static_cast<double>(w));
    };
    return {mixed(start_.s, p_.s, q_.s, w_.s), mixed(start_.t, p_.t, q_.t, w_.t)};
  }

  /// How far the image of a straight line of moments bows out from its chord: |P''| / 8, P'' = 2 d_way d_along w.
  double bow_um(const Moment& a, const Moment& b) const {
    return std::abs((b.way - a.way) * (b.along - a.along)) / 4 *
           std::hypot(static_cast<double>(w_.s), static_cast<double>(w_.t));
  }

 private:
  static PointUm from_to(PointUm a, PointUm b) { return {b.s - a.s, b.t - a.t}; }
  static Um cross(PointUm a, PointUm b) { return a.s * b.t - a.t * b.s; }

  PointUm start_, p_, q_, w_;
  Um constant_, by_way_, by_along_;
};

/// The part of the square of all moments on one side of the fold, side by side in order; `folded` tells of a moment
/// whether it lies on the fold.
struct Part { std::vector<Moment> corners; std::vector<bool> folded; };

Part part_of(const Sweep& sweep, double side) {
  constexpr std::array<std::array<int, 2>, 4> square{{{0, 0}, {0, 1}, {1, 1}, {1, 0}}};
  Part part;
  for (std::size_t k = 0; k < 4; ++k) {
    const auto [way, along] = square[k];
    const auto [next_way, next_along] = square[(k + 1) % 4];
    const Moment here{static_cast<double>(way), static_cast<double>(along)};
    const Moment next{static_cast<double>(next_way), static_cast<double>(next_along)};
    const auto sign = static_cast<double>(sweep.area_sign(way, along)) * side;
    const auto next_sign = static_cast<double>(sweep.area_sign(next_way, next_along)) * side;
    if (sign >= 0) {
      part.corners.push_back(here);
      part.folded.push_back(sign == 0);
    }
    if (sign * next_sign >= 0) continue;
    const double share = sweep.area(here) / (sweep.area(here) - sweep.area(next));
    part.corners.push_back({here.way + share * (next.way - here.way), here.along + share * (next.along - here.along)});
    part.folded.push_back(true);
  }
  return part;
}

/// On either side of the fold no two moments share a place, so the part's border is the border of what it sweeps. The
/// edge never enters the hollow side of the parabola, where all its chords lie: chords give away, never take.
Loop loop_of(const Sweep& sweep, const Part& part, double most_lost_um) {
  Loop loop;
  for (std::size_t k = 0; k < part.corners.size(); ++k) {
    const std::size_t n = (k + 1) % part.corners.size();
    const Moment from = part.corners[k], to = part.corners[n];
    loop.push_back(sweep.place(from));
    if (!part.folded[k] || !part.folded[n]) continue;
    const int chords = std::max(1, static_cast<int>(std::ceil(std::sqrt(sweep.bow_um(from, to) / most_lost_um))));
    for (int i = 1; i < chords; ++i) {
      const double share = static_cast<double>(i) / chords;
      loop.push_back(sweep.place({from.way + share * (to.way - from.way), from.along + share * (to.along - from.along)}));
    }
  }
  loop.erase(std::unique(loop.begin(), loop.end()), loop.end());
  return loop;
}

}  // namespace

std::vector<Loop> swept_loops(const SweptEdge& edge, double most_lost_um) {
  const Sweep sweep(edge);
  int forward = 0, back = 0;
  for (const int way : {0, 1}) {
    for (const int along : {0, 1}) {
      forward += sweep.area_sign(way, along) > 0;
      back += sweep.area_sign(way, along) < 0;
    }
  }
  // Nowhere folded: the four corners go round a convex figure, and that is what is swept.
  if (forward == 0 || back == 0) {
    return {geometry::convex_hull({edge.start_before, edge.end_before, edge.start_after, edge.end_after})};
  }
  return {loop_of(sweep, part_of(sweep, 1), most_lost_um), loop_of(sweep, part_of(sweep, -1), most_lost_um)};
}

}  // namespace cellstow::region
