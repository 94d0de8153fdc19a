#include "cellstow/measuring/measure.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace cellstow::measuring {
namespace {

/// One in 1000 of a chi-square distribution lies above.
///
///   q = k (1 - 2/(9k) + z sqrt(2/(9k)))^3,   z = 3.0902
///
/// Source: Wilson, Hilferty, Proc. Natl. Acad. Sci. 17 (1931) 684
double chance_limit(int spare) {
  const double k = spare, part = 2 / (9 * k);
  return k * std::pow(1 - part + 3.0902 * std::sqrt(part), 3);
}

/// How many times more than said the readings scatter, where no single one is to blame.
double scatter(const Fit& fit, const std::vector<Doubt>& doubts) {
  if (!doubts.empty() || fit.spare_readings < 1 || fit.misfit <= chance_limit(fit.spare_readings)) return 1;
  return std::sqrt(fit.misfit / fit.spare_readings);
}

/// Of all pairs of lengths to the point, the angle nearest to square.
double best_crossing_deg(const Network& network, const Fit& fit, std::size_t point) {
  const std::size_t own = network.datums.size() + point;
  const auto place = [&](std::size_t number) {
    return network.is_point(number) ? fit.points[number - network.datums.size()] : network.datums[number].at;
  };
  std::vector<Place> ends;
  for (const Reading& r : network.readings) {
    if (r.from == own || r.to == own) ends.push_back(place(r.from == own ? r.to : r.from));
  }
  double best = 0;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    for (std::size_t j = i + 1; j < ends.size(); ++j) {
      const double angle = crossing_angle_deg(place(own), ends[i], ends[j]);
      if (std::abs(90 - angle) < std::abs(90 - best)) best = angle;
    }
  }
  return best;
}

bool all_checked(const Network& network, const Fit& fit, std::size_t point) {
  const std::size_t own = network.datums.size() + point;
  for (std::size_t i = 0; i < network.readings.size(); ++i) {
    const Reading& r = network.readings[i];
    if ((r.from == own || r.to == own) && fit.readings[i].share < least_share) return false;
  }
  return true;
}

double largest_shift(const Fit& fit, const std::vector<Doubt>& doubts, std::size_t point) {
  double largest = 0;
  for (const Doubt& doubt : doubts) {
    for (const Explanation& e : doubt.explanations) largest = std::max(largest, distance(fit.points[point], e.points[point]));
  }
  return largest;
}

MeasuredPoint measured_point(const Network& network, const MeasuredSection& section, std::size_t point) {
  const Fit& fit = section.fit;
  MeasuredPoint out;
  out.at = fit.points[point];
  out.ellipse = ellipse_of(fit, point);
  out.ellipse.major_mm *= section.worse_by;
  out.ellipse.minor_mm *= section.worse_by;
  out.shift_mm = largest_shift(fit, section.doubts, point);
  out.crossing_deg = best_crossing_deg(network, fit, point);
  out.flat = out.crossing_deg < flat_below_deg || out.crossing_deg > flat_above_deg;
  out.checked = all_checked(network, fit, point);
  return out;
}

}  // namespace

tl::expected<MeasuredSection, std::vector<Fault>> measure(const Network& network, double give_or_take_mm) {
  const auto placed = place_points(network);
  if (!placed) return tl::unexpected(placed.error());
  std::optional<Fit> fit = fit_points(network, *placed);
  if (!fit) return tl::unexpected(std::vector<Fault>{{FaultKind::too_flat, 0, {}, {}, 0}});
  MeasuredSection section;
  section.fit = std::move(*fit);
  section.doubts = doubts(network, section.fit);
  section.worse_by = scatter(section.fit, section.doubts);
  section.next = next_reading(network, section.fit, give_or_take_mm);
  for (std::size_t point = 0; point < network.points.size(); ++point) {
    section.points.push_back(measured_point(network, section, point));
  }
  return section;
}

}  // namespace cellstow::measuring
