#include "cellstow/restraint/plate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace cellstow::restraint {
namespace {

struct Row { double ratio, alpha, beta; };

constexpr std::array<Row, 8> supported{{{1.0, 0.0444, 0.2874}, {1.2, 0.0616, 0.3762}, {1.4, 0.0770, 0.4530},
                                        {1.6, 0.0906, 0.5172}, {1.8, 0.1017, 0.5688}, {2.0, 0.1110, 0.6102},
                                        {3.0, 0.1335, 0.7134}, {5.0, 0.1421, 0.7500}}};
constexpr std::array<Row, 7> built_in{{{1.0, 0.0138, 0.3078}, {1.2, 0.0188, 0.3834}, {1.4, 0.0226, 0.4356},
                                       {1.6, 0.0251, 0.4680}, {1.8, 0.0267, 0.4872}, {2.0, 0.0277, 0.4974},
                                       {3.0, 0.0284, 0.5000}}};

template <std::size_t count>
PlateFactors between_rows(const std::array<Row, count>& rows, double ratio) {
  for (std::size_t i = 1; i < count; ++i) {
    if (ratio > rows[i].ratio) continue;
    const double part = (ratio - rows[i - 1].ratio) / (rows[i].ratio - rows[i - 1].ratio);
    return {std::lerp(rows[i - 1].alpha, rows[i].alpha, part), std::lerp(rows[i - 1].beta, rows[i].beta, part)};
  }
  return {rows[count - 1].alpha, rows[count - 1].beta};
}

}  // namespace

BeamState beam_even(double load, double span, double stiffness, BeamEnds ends) {
  const bool clamped = ends == BeamEnds::clamped;
  return {load * span * span / (clamped ? 12 : 8), (clamped ? 1 : 5) * load * std::pow(span, 4) / (384 * stiffness)};
}

BeamState beam_middle(double force, double span, double stiffness, BeamEnds ends) {
  const bool clamped = ends == BeamEnds::clamped;
  return {force * span / (clamped ? 8 : 4), force * std::pow(span, 3) / ((clamped ? 192 : 48) * stiffness)};
}

BeamState cantilever_end(double force, double length, double stiffness) {
  return {force * length, force * std::pow(length, 3) / (3 * stiffness)};
}

double flat_modulus_mm3(double width_mm, double thickness_mm) { return width_mm * thickness_mm * thickness_mm / 6; }

Net net_under_pressure(double pressure, double span, double pull) {
  const double bulge = pressure * span * span / (8 * pull);
  return {bulge, 8.0 / 3 * bulge * bulge / (span * span)};
}

double cable_pull_n(double load, double span, double sag) { return load * span * span / (8 * sag); }

double cable_end_pull_n(double load, double span, double sag) {
  return std::hypot(cable_pull_n(load, span, sag), load * span / 2);
}

double capstan_ratio(double friction, double wrap_rad) { return std::exp(friction * wrap_rad); }

double fan_force_n(double strength_mpa, double rim_strength_mpa, double squared_thickness_mm2) {
  return 2 * std::numbers::pi * (strength_mpa + rim_strength_mpa) * squared_thickness_mm2 / 4;
}

PlateFactors plate_factors(double long_over_short, BeamEnds edges) {
  const double ratio = std::max(long_over_short, 1.0);
  return edges == BeamEnds::hinged ? between_rows(supported, ratio) : between_rows(built_in, ratio);
}

}  // namespace cellstow::restraint
