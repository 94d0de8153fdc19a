#pragma once
/// All points of a section placed together so that they fit the lengths best.

#include <optional>
#include <vector>

#include "cellstow/measuring/network.hpp"

namespace cellstow::measuring {

/// Where a point lies 95 times in 100. Half axes in mm, major >= minor; direction of the major one from the
/// section's first axis towards its second, -90 < direction <= 90 degrees.
struct Ellipse {
  double major_mm = 0, minor_mm = 0;
  double direction_deg = 0;
};

/// sqrt(-2 ln 0.05): half axes of the 95 % ellipse over those of the standard one.
/// Source: Mikhail, Gracie, Analysis and Adjustment of Survey Measurements (1981), 8.6 (from memory);
/// the distribution of two squared normal variables
inline constexpr double deviations_in_ellipse = 2.447747;

/// What the fit says of one reading.
struct ReadingFit {
  double residual_mm = 0;    ///< reading less fitted length: positive reads long
  double share = 0;          ///< share of a slip that shows as residual, 0 to 1 (redundancy number)
  double test = 0;           ///< residual over its own standard deviation (Baarda's w); 0 where nothing checks it
};

/// A reading with a smaller share than this is checked by nothing.
inline constexpr double least_share = 0.02;

struct Fit {
  std::vector<Place> points;
  std::vector<ReadingFit> readings;
  double misfit = 0;                       ///< sum of (residual / standard deviation)^2
  int spare_readings = 0;                  ///< readings less unknowns
  std::vector<double> cofactors;           ///< covariance of all coordinates, mm^2, row by row, 2 a point

  double covariance(std::size_t row, std::size_t column) const { return cofactors[row * 2 * points.size() + column]; }
};

/// Least squares by Gauss and Newton: places that make the sum of (residual / standard deviation)^2 least.
///
///   A dx = l - f(x),   N = A' P A,   x += inv(N) A' P (l - f(x))   until nothing moves;
///   covariance = inv(N),   share_i = 1 - P_i a_i inv(N) a_i',   test_i = v_i / (s_i sqrt(share_i))
///
/// A step that makes the fit worse is halved.
///
/// @param  start     one place a point
/// @param  left_out  readings that do not count; their residual and share are of a reading that was not used
/// @return nothing when the readings that count do not fix every point
/// Source: Ghilani, Wolf, Adjustment Computations, 4th ed., ch. 14 (distances), 21 (blunders) (from memory);
///         Baarda, A Testing Procedure for Use in Geodetic Networks (1968) (from memory)
std::optional<Fit> fit_points(const Network& network, const std::vector<Place>& start,
                              const std::vector<bool>& left_out = {});

/// Ellipse of a point from its covariance.
Ellipse ellipse_of(const Fit& fit, std::size_t point);
Ellipse ellipse_of(double variance_a, double covariance, double variance_b);

}  // namespace cellstow::measuring
