#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "heading.hpp"

namespace cellstow::packing {
namespace {

constexpr std::size_t most_headings = 8;
/// Walls that differ by less, in steps, are one heading: 0.02 degrees, a fifth of a millimetre on half a metre. An arc drawn in short
/// straight pieces, or corners rounded somewhere on their way here, would fill the list with one and the same.
constexpr std::int64_t one_heading_steps = core::Heading::steps_per_quarter / 4'500;
constexpr double farthest_move_share = 1e-9;   ///< binary noise of the sine, many times over

/// Ends of the outline along the section plane: lowest and highest of the first coordinate.
SpanUm lateral(const survey::Section& section) {
  SpanUm span{geometry::far_um, -geometry::far_um};
  for (const Point2& p : section.outline) span = {std::min(span.low, p.a.um()), std::max(span.high, p.a.um())};
  return span;
}

/// Lengths of walls by heading, in steps.
class Lengths {
 public:
  explicit Lengths(bool swapped) : swapped_(swapped) {}

  void add(Um da, Um db) {
    const double x = static_cast<double>(swapped_ ? db : da), y = static_cast<double>(swapped_ ? da : db);
    const double quarters = std::atan2(y, x) * 180 / std::numbers::pi / 90;
    const auto steps = std::llround((quarters - std::floor(quarters + 0.5)) * core::Heading::steps_per_quarter);
    if (x != 0 || y != 0) by_steps_[steps == -core::Heading::steps_per_quarter / 2 ? -steps : steps] += std::hypot(x, y);
  }

  void add_loop(const std::vector<Point2>& loop) {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const Point2 &p = loop[k], &q = loop[(k + 1) % loop.size()];
      add((q.a - p.a).um(), (q.b - p.b).um());
    }
  }

  std::vector<core::Heading> longest_first() const {
    struct Ranked { double length; std::int64_t steps; };
    std::vector<Ranked> ranked;
    for (const auto& [steps, length] : by_steps_) {
      if (steps != 0) ranked.push_back({length, steps});
    }
    std::stable_sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) { return a.length > b.length; });
    std::vector<Ranked> kept;
    for (const Ranked& one : ranked) {
      const auto same = std::find_if(kept.begin(), kept.end(), [&](const Ranked& other) { return std::abs(other.steps - one.steps) < one_heading_steps; });
      if (same == kept.end()) kept.push_back(one);
      else same->length += one.length;
    }
    std::stable_sort(kept.begin(), kept.end(), [](const Ranked& a, const Ranked& b) { return a.length > b.length; });
    if (kept.size() > most_headings) kept.resize(most_headings);
    std::vector<core::Heading> headings;
    for (const Ranked& one : kept) headings.push_back(core::Heading::from_steps(one.steps));
    return headings;
  }

 private:
  bool swapped_;
  std::map<std::int64_t, double> by_steps_;
};

/// Plan points that bound all outlines.
std::vector<geometry::PointUm> plan_points(const survey::Sections& sections) {
  std::vector<geometry::PointUm> points;
  for (const survey::Section& section : sections.at) {
    if (sections.across == survey::Axis::z) {
      for (const Point2& p : section.outline) points.push_back({p.a.um(), p.b.um()});
      continue;
    }
    const SpanUm span = lateral(section);
    for (const Um at : {span.low, span.high}) {
      const Um station = section.station.um();
      points.push_back(sections.across == survey::Axis::x ? geometry::PointUm{station, at} : geometry::PointUm{at, station});
    }
  }
  return points;
}

}  // namespace

std::vector<core::Heading> wall_headings(const survey::Cavity& cavity) {
  const survey::Sections& sections = cavity.sections;
  Lengths lengths(sections.across == survey::Axis::y);
  for (std::size_t i = 0; i < sections.at.size(); ++i) {
    if (sections.across == survey::Axis::z) {
      lengths.add_loop(sections.at[i].outline);
    } else if (i + 1 < sections.at.size()) {
      const Um depth = (sections.at[i + 1].station - sections.at[i].station).um();
      const SpanUm here = lateral(sections.at[i]), next = lateral(sections.at[i + 1]);
      lengths.add(depth, next.low - here.low);
      lengths.add(depth, next.high - here.high);
    }
  }
  return lengths.longest_first();
}

/// The middle of the smallest circle round the outlines, near enough: a step towards the farthest point, shorter every
/// time (Badoiu and Clarkson, Smaller core-sets for balls, SODA 2003). Any middle gives a true reach.
Pivot pivot_of(const survey::Sections& sections) {
  const std::vector<geometry::PointUm> points = plan_points(sections);
  Pivot pivot{static_cast<double>(points.front().s), static_cast<double>(points.front().t), 0};
  const auto distance = [&](const geometry::PointUm& p) {
    return std::hypot(static_cast<double>(p.s) - pivot.x_um, static_cast<double>(p.t) - pivot.y_um);
  };
  const auto farthest = [&] {
    return *std::max_element(points.begin(), points.end(), [&](const auto& p, const auto& q) { return distance(p) < distance(q); });
  };
  for (int i = 1; i <= 200; ++i) {
    const geometry::PointUm to = farthest();
    pivot.x_um += (static_cast<double>(to.s) - pivot.x_um) / (i + 1);
    pivot.y_um += (static_cast<double>(to.t) - pivot.y_um) / (i + 1);
  }
  pivot.reach_um = distance(farthest());
  return pivot;
}

Um farthest_move(double radius_um, core::Heading half) {
  const double move = 2 * radius_um * std::sin(half.degrees() * std::numbers::pi / 360);
  return static_cast<Um>(std::ceil(move * (1 + farthest_move_share)));
}

}  // namespace cellstow::packing
