#include "cellstow/measuring/scan_placing.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace cellstow::measuring::scan {
namespace {

using Points = Eigen::Matrix3Xd;

/// Narrower than a tenth of its length, a set of points leaves a turn about its line ten times as loose as a point.
constexpr double narrowest = 0.1;
/// Sizes that differ by more are another unit, not a bad scan.
constexpr double unit_step = 1.25;

Points gather(std::span<const KnownPoint> known, std::array<double, 3> KnownPoint::*which) {
  Points points(3, static_cast<Eigen::Index>(known.size()));
  for (std::size_t i = 0; i < known.size(); ++i)
    points.col(static_cast<Eigen::Index>(i)) = Eigen::Map<const Eigen::Vector3d>((known[i].*which).data());
  return points;
}

Points centred(const Points& points) { return points.colwise() - points.rowwise().mean(); }

KnownDistance distance(const Points& scan, const Points& car, Eigen::Index i, Eigen::Index j) {
  return {static_cast<std::size_t>(i), static_cast<std::size_t>(j), (scan.col(i) - scan.col(j)).norm(),
          (car.col(i) - car.col(j)).norm()};
}

/// The pair that is first by `more`; the earliest of equals.
template <class More>
KnownDistance pick(const Points& scan, const Points& car, More more) {
  KnownDistance best = distance(scan, car, 0, 1);
  for (Eigen::Index i = 0; i < scan.cols(); ++i)
    for (Eigen::Index j = i + 1; j < scan.cols(); ++j)
      if (const KnownDistance pair = distance(scan, car, i, j); more(pair, best)) best = pair;
  return best;
}

KnownDistance longest(const Points& scan, const Points& car) {
  return pick(scan, car, [](const auto& a, const auto& b) { return a.in_car_mm > b.in_car_mm; });
}

KnownDistance most_unlike(const Points& scan, const Points& car) {
  return pick(scan, car, [](const auto& a, const auto& b) {
    return std::abs(a.in_scan_mm - a.in_car_mm) > std::abs(b.in_scan_mm - b.in_car_mm);
  });
}

/// Farthest distance of a point from the line through two of them.
double width_off(const Points& points, const KnownDistance& line) {
  const Eigen::Vector3d from = points.col(static_cast<Eigen::Index>(line.first));
  const Eigen::Vector3d along = points.col(static_cast<Eigen::Index>(line.second)) - from;
  if (along.norm() == 0) return 0;
  double width = 0;
  for (Eigen::Index i = 0; i < points.cols(); ++i)
    width = std::max(width, (points.col(i) - from).cross(along).norm() / along.norm());
  return width;
}

/// Farthest distance of a point from the plane that fits them best.
double depth_off_plane(const Points& points) {
  const Points around = centred(points);
  const Eigen::JacobiSVD<Points> svd(around, Eigen::ComputeFullU);
  return (svd.matrixU().col(2).transpose() * around).cwiseAbs().maxCoeff();
}

std::vector<double> distances_off(const Eigen::Matrix4d& fit, const Points& scan, const Points& car) {
  const Points moved = (fit.topLeftCorner<3, 3>() * scan).colwise() + Eigen::Vector3d(fit.topRightCorner<3, 1>());
  std::vector<double> off;
  for (Eigen::Index i = 0; i < scan.cols(); ++i) off.push_back((moved.col(i) - car.col(i)).norm());
  return off;
}

double worst(const std::vector<double>& off) { return *std::max_element(off.begin(), off.end()); }

double worst_fit(const Points& scan, const Points& car) {
  return worst(distances_off(Eigen::umeyama(scan, car, false), scan, car));
}

Points without(const Points& points, Eigen::Index left_out) {
  Points rest(3, points.cols() - 1);
  for (Eigen::Index i = 0, j = 0; i < points.cols(); ++i)
    if (i != left_out) rest.col(j++) = points.col(i);
  return rest;
}

bool on_a_line(const Points& scan, const Points& car) {
  const KnownDistance length = longest(scan, car);
  return width_off(car, length) <= narrowest * length.in_car_mm || width_off(scan, length) <= narrowest * length.in_scan_mm;
}

/// The one point without which the rest fits best, and fits.
std::optional<std::size_t> slipped_point(const Points& scan, const Points& car, double fit_max_mm) {
  std::optional<std::size_t> slipped;
  double least = fit_max_mm;
  for (Eigen::Index i = 0; scan.cols() > 3 && i < scan.cols(); ++i) {
    const Points scan_rest = without(scan, i), car_rest = without(car, i);
    if (on_a_line(scan_rest, car_rest)) continue;
    const double off = worst_fit(scan_rest, car_rest);
    if (off > least) continue;
    least = off;
    slipped = static_cast<std::size_t>(i);
  }
  return slipped;
}

/// Why a scan of the right unit does not fit as it is.
PlacingFault explain(const Points& scan, const Points& car, double scale, bool in_one_plane, double fit_max_mm) {
  PlacingFault fault{PlacingTrouble::does_not_fit, scale, most_unlike(scan, car), 0, {}, {}};
  const Points stretched = scan * scale;
  Points mirrored = scan;
  mirrored.row(0) *= -1;
  if (!in_one_plane && (worst_fit(mirrored, car) <= fit_max_mm || worst_fit(mirrored * scale, car) <= fit_max_mm)) {
    fault.trouble = PlacingTrouble::mirrored;
  } else if (worst_fit(stretched, car) <= fit_max_mm) {
    fault.trouble = PlacingTrouble::stretched;
    fault.shown = longest(scan, car);
  } else {
    fault.off_mm = distances_off(Eigen::umeyama(scan, car, false), scan, car);
    fault.slipped = slipped_point(scan, car, fit_max_mm);
  }
  return fault;
}

Placing placing_of(const Eigen::Matrix4d& fit, double scale, bool in_one_plane, std::vector<double> off) {
  Placing placing;
  for (std::size_t i = 0; i < 3; ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    for (std::size_t j = 0; j < 3; ++j) placing.turn[i][j] = fit(row, static_cast<Eigen::Index>(j));
    placing.shift_mm[i] = fit(row, 3);
  }
  placing.scale = scale;
  placing.in_one_plane = in_one_plane;
  placing.off_mm = std::move(off);
  return placing;
}

}  // namespace

tl::expected<Placing, PlacingFault> place(std::span<const KnownPoint> known, double fit_max_mm) {
  const Points scan = gather(known, &KnownPoint::in_scan_mm), car = gather(known, &KnownPoint::in_car_mm);
  const KnownDistance length = longest(scan, car);
  if (on_a_line(scan, car)) {
    // both in the size of the car, whatever the unit of the scan
    const double in_scan = length.in_scan_mm > 0 ? width_off(scan, length) * length.in_car_mm / length.in_scan_mm : 0;
    return tl::unexpected(
        PlacingFault{PlacingTrouble::on_a_line, 1, length, std::min(width_off(car, length), in_scan), {}, {}});
  }
  const double scale = centred(car).norm() / centred(scan).norm();
  if (scale > unit_step || scale < 1 / unit_step)
    return tl::unexpected(PlacingFault{PlacingTrouble::wrong_unit, scale, length, 0, {}, {}});
  const bool in_one_plane =
      std::min(depth_off_plane(car), depth_off_plane(scan)) < std::max(2 * fit_max_mm, 0.02 * length.in_car_mm);
  const Eigen::Matrix4d fit = Eigen::umeyama(scan, car, false);
  std::vector<double> off = distances_off(fit, scan, car);
  if (worst(off) > fit_max_mm || std::abs(scale - 1) * length.in_car_mm > fit_max_mm)
    return tl::unexpected(explain(scan, car, scale, in_one_plane, fit_max_mm));
  return placing_of(fit, scale, in_one_plane, std::move(off));
}

std::optional<PlacedScan> placed(const Scan& scan, const Placing& placing, double unit_mm) {
  PlacedScan result;
  result.triangles = scan.triangles;
  result.points_um.resize(scan.points.size());
  for (std::size_t i = 0; i < scan.points.size(); ++i) {
    const auto& p = scan.points[i];
    for (std::size_t row = 0; row < 3; ++row) {
      const auto& turn = placing.turn[row];
      const double mm = (turn[0] * p[0] + turn[1] * p[1] + turn[2] * p[2]) * unit_mm + placing.shift_mm[row];
      if (!(std::abs(mm) <= farthest_scan_mm)) return {};
      // nearest, half away from zero; within int32 by the check above
      result.points_um[i][row] = static_cast<std::int32_t>(mm * 1000 + (mm < 0 ? -0.5 : 0.5));
    }
  }
  return result;
}

}  // namespace cellstow::measuring::scan
