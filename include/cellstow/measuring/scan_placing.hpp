#pragma once
/// Where a scan lies in the car: a turn and a shift, from points known in both.

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "cellstow/measuring/scan.hpp"

namespace cellstow::measuring::scan {

/// A point found in the scan and measured in the car, such as the centre of a hole.
struct KnownPoint {
  std::string name;
  std::array<double, 3> in_scan_mm{};          ///< axes of the scan, its unit already turned into mm
  std::array<double, 3> in_car_mm{};
};

/// in_car = turn * in_scan + shift. A turn alone: never a stretch, never a mirror image.
struct Placing {
  std::array<std::array<double, 3>, 3> turn{};
  std::array<double, 3> shift_mm{};
  std::vector<double> off_mm;                  ///< one a known point: how far it comes to lie from where it should
  double scale = 1;                            ///< size in the car over size in the scan; looked at, never applied
  bool in_one_plane = false;                   ///< the known points cannot show whether the scan is mirrored
};

/// Two known points and how far apart they are.
struct KnownDistance {
  std::size_t first = 0, second = 0;
  double in_scan_mm = 0, in_car_mm = 0;
};

enum class PlacingTrouble {
  on_a_line,      ///< the scan could still turn about the line
  wrong_unit,     ///< sizes differ by a quarter or more
  stretched,      ///< fits when stretched evenly, not as it is
  mirrored,       ///< only its mirror image fits
  does_not_fit,   ///< one or more points are wrong
};

struct PlacingFault {
  PlacingTrouble trouble{};
  double scale = 1;                            ///< size in the car over size in the scan
  KnownDistance shown;                         ///< the distance that shows it best; of on_a_line, the longest
  double width_mm = 0;                         ///< of on_a_line: how far the points lie off one line
  std::vector<double> off_mm;                  ///< of does_not_fit: one a known point
  std::optional<std::size_t> slipped;          ///< of does_not_fit: the one point without which the others fit
};

/// Least squares placing of the scan.
///
///   turn, shift = argmin sum |turn p_i + shift - q_i|^2,  det turn = +1
///   scale^2     = sum |q_i - mean q|^2 / sum |p_i - mean p|^2
///
/// @param  known       three or more, not on a line
/// @param  fit_max_mm  farthest a point may come to lie from where it should; the same for what a wrong scale
///                     makes of the longest known distance
/// @pre    known.size() >= 3, fit_max_mm > 0
/// Source: Umeyama, Least-squares estimation of transformation parameters between two point patterns, IEEE PAMI 13
/// (1991) 376, as Eigen::umeyama; scale as in Horn, Closed-form solution of absolute orientation using unit
/// quaternions, JOSA A 4 (1987) 629, section 2.E
tl::expected<Placing, PlacingFault> place(std::span<const KnownPoint> known, double fit_max_mm);

/// No part of a car is farther than this from the front axle; a scan that reaches farther is in the wrong place.
inline constexpr double farthest_scan_mm = 100'000;

/// The whole scan in the car, each point to the nearest micrometre.
///
/// @param unit_mm  millimetres in one unit of the scan
/// @return nothing when a point comes to lie farther than farthest_scan_mm from the front axle along an axis
std::optional<PlacedScan> placed(const Scan& scan, const Placing& placing, double unit_mm);

}  // namespace cellstow::measuring::scan
