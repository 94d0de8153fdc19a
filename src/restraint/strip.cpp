#include "cellstow/restraint/strip.hpp"

#include <cassert>
#include <cmath>

namespace cellstow::restraint {
namespace {

/// Below this u the closed forms lose digits to cancellation, and their series are used.
constexpr double series_below_u = 0.15;

/// U(u) for built-in edges; falls steadily. Series: the closed form's own Laurent expansion.
double stretch_clamped(double u) {
  const double u2 = u * u;
  if (u < series_below_u) return 1 / (140 * u2) - 1.0 / 700 + u2 / 4620;
  const double sinh_u = std::sinh(u);
  const double u6 = u2 * u2 * u2;
  return -81 / (16 * u6 * u * std::tanh(u)) - 27 / (16 * u6 * sinh_u * sinh_u) +
         27 / (4 * u6 * u2) + 9 / (8 * u6);
}

/// U(u) for simply supported edges.
double stretch_hinged(double u) {
  const double u2 = u * u;
  if (u < series_below_u) return 51 / (280 * u2) - 31.0 / 210 + 691 * u2 / 7700;
  const double tanh_u = std::tanh(u);
  const double u6 = u2 * u2 * u2;
  return 135 * tanh_u / (16 * u6 * u2 * u) + 27 * tanh_u * tanh_u / (16 * u6 * u2) -
         135 / (16 * u6 * u2) + 9 / (8 * u6);
}

/// Sag as a share of the plain-bending sag of the same ends; 1 at u = 0.
double sag_share(double u, StripEnds ends) {
  const double u2 = u * u;
  if (ends == StripEnds::clamped) {
    if (u < series_below_u) return 1 - u2 / 10 + 17 * u2 * u2 / 1680;
    return 24 / (u2 * u2) * (u2 / 2 + u / std::sinh(u) - u / std::tanh(u));
  }
  if (u < series_below_u) return 1 - 61 * u2 / 150 + 277 * u2 * u2 / 1680;
  return 24 / (5 * u2 * u2) * (1 / std::cosh(u) - 1 + u2 / 2);
}

/// Largest moment as a share of the plain-bending moment of the same ends; 1 at u = 0.
double moment_share(double u, StripEnds ends) {
  const double u2 = u * u;
  if (ends == StripEnds::clamped) {
    if (u < series_below_u) return 1 - u2 / 15 + 2 * u2 * u2 / 315;
    return 3 * (u - std::tanh(u)) / (u2 * std::tanh(u));
  }
  if (u < series_below_u) return 1 - 5 * u2 / 12 + 61 * u2 * u2 / 360;
  return 2 * (1 - 1 / std::cosh(u)) / u2;
}

/// The u at which U(u) = target: halving the exponent's range, U being monotonic.
double solve_u(double target, StripEnds ends) {
  double low = std::log(1e-7), high = std::log(1e7);
  for (int step = 0; step < 80; ++step) {
    const double middle = (low + high) / 2;
    const double u = std::exp(middle);
    const double value = ends == StripEnds::clamped ? stretch_clamped(u) : stretch_hinged(u);
    (value > target ? low : high) = middle;
  }
  return std::exp((low + high) / 2);
}

}  // namespace

StripState strip_under_load(const Strip& strip, double load_n_per_mm, StripEnds ends,
                            double slip_mm) {
  assert(strip.width_mm > 0 && strip.thickness_mm > 0 && strip.span_mm > 0);
  assert(strip.modulus_mpa > 0 && load_n_per_mm >= 0 && slip_mm >= 0);
  if (load_n_per_mm == 0) return {};
  const double t = strip.thickness_mm, span = strip.span_mm;
  const double area_mm2 = strip.width_mm * t;
  const double stiffness_n_mm2 = strip.modulus_mpa * strip.width_mm * t * t * t / 12;
  const double load_ratio =
      strip.modulus_mpa * strip.width_mm * std::pow(t, 4) / (load_n_per_mm * std::pow(span, 4));
  const bool clamped = ends == StripEnds::clamped;
  const double bending_sag_mm =
      (clamped ? 1.0 : 5.0) * load_n_per_mm * std::pow(span, 4) / (384 * stiffness_n_mm2);
  const double bending_moment_n_mm = load_n_per_mm * span * span / (clamped ? 12 : 8);

  StripState state;
  state.u = solve_u(load_ratio * load_ratio * (1 + slip_mm / span), ends);
  state.tension_n = 4 * state.u * state.u * stiffness_n_mm2 / (span * span);
  state.sag_mm = bending_sag_mm * sag_share(state.u, ends);
  state.moment_n_mm = bending_moment_n_mm * moment_share(state.u, ends);
  state.membrane_mpa = state.tension_n / area_mm2;
  state.bending_mpa = 6 * state.moment_n_mm / (area_mm2 * t);
  return state;
}

}  // namespace cellstow::restraint
