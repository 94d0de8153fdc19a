#include "cellstow/measuring/picture.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "known_layout.hpp"

namespace cellstow::measuring {
namespace {

using Eigen::Matrix2d;
using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;
using Params = Eigen::Matrix<double, 8, 1>;       // H row by row, its last entry 1
using Normal = Eigen::Matrix<double, 8, 8>;
using ByParams = Eigen::Matrix<double, 2, 8>;

/// Square of the radius that holds 19 in 20 of a round normal scatter, over its variance: -2 ln 0.05.
/// Source: the Rayleigh distribution
const double within_19_in_20 = -2 * std::log(0.05);

/// Moves points to their middle and scales them to a mean distance of the square root of 2.
struct Normaliser {
  Vector2d middle = Vector2d::Zero();
  double scale = 1;

  explicit Normaliser(const std::vector<Vector2d>& points) {
    const double n = static_cast<double>(points.size());
    for (const Vector2d& p : points) middle += p / n;
    double mean = 0;
    for (const Vector2d& p : points) mean += (p - middle).norm() / n;
    scale = std::numbers::sqrt2 / mean;
  }
  Vector2d operator()(const Vector2d& p) const { return scale * (p - middle); }
  Matrix3d matrix() const {
    Matrix3d m;
    m << scale, 0, -scale * middle.x(), 0, scale, -scale * middle.y(), 0, 0, 1;
    return m;
  }
};

struct Match {
  Vector2d plane, picture;  // both normalised
};

Matrix3d direct_linear(const std::vector<Match>& matches) {
  Eigen::MatrixXd a = Eigen::MatrixXd::Zero(std::max<Eigen::Index>(9, 2 * static_cast<Eigen::Index>(matches.size())), 9);
  for (std::size_t i = 0; i < matches.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(2 * i);
    const Vector3d x = matches[i].plane.homogeneous();
    a.block<1, 3>(row, 3) = -x.transpose();
    a.block<1, 3>(row, 6) = matches[i].picture.y() * x.transpose();
    a.block<1, 3>(row + 1, 0) = x.transpose();
    a.block<1, 3>(row + 1, 6) = -matches[i].picture.x() * x.transpose();
  }
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(a, Eigen::ComputeFullV);
  const Eigen::VectorXd h = svd.matrixV().col(8);
  Matrix3d matrix;
  matrix << h(0), h(1), h(2), h(3), h(4), h(5), h(6), h(7), h(8);
  return matrix;
}

Matrix3d matrix_of(const Params& p) {
  Matrix3d h;
  h << p(0), p(1), p(2), p(3), p(4), p(5), p(6), p(7), 1;
  return h;
}

/// A point of the plane carried into the picture, with how it moves when the point or the mapping changes.
struct Carried {
  Vector2d picture;
  Matrix2d by_plane;
  ByParams by_params;
};

Carried carry(const Params& p, const Vector2d& plane) {
  const Vector3d x = matrix_of(p) * plane.homogeneous();
  Carried carried;
  carried.picture = x.hnormalized();
  const double u = carried.picture.x(), v = carried.picture.y();
  carried.by_plane << p(0) - u * p(6), p(1) - u * p(7), p(3) - v * p(6), p(4) - v * p(7);
  carried.by_params << plane.x(), plane.y(), 1, 0, 0, 0, -u * plane.x(), -u * plane.y(), 0, 0, 0, plane.x(), plane.y(), 1,
      -v * plane.x(), -v * plane.y();
  carried.by_plane /= x.z();
  carried.by_params /= x.z();
  return carried;
}

/// Squares of the give or takes, in the normalised units.
struct Variances {
  double click, known;
};

Matrix2d weight(const Carried& carried, const Variances& variances) {
  return (variances.click * Matrix2d::Identity() + variances.known * carried.by_plane * carried.by_plane.transpose()).inverse();
}

struct Fit {
  Params params;
  Normal covariance;
  double misfit = 0;  ///< sum of weighted squares
};

struct Sums {
  Normal normal = Normal::Zero();
  Params gradient = Params::Zero();
  double misfit = 0;
};

Sums sums_of(const Params& params, const std::vector<Match>& matches, const Variances& variances) {
  Sums sums;
  for (const Match& match : matches) {
    const Carried carried = carry(params, match.plane);
    const Matrix2d w = weight(carried, variances);
    const Vector2d off = match.picture - carried.picture;
    sums.normal += carried.by_params.transpose() * w * carried.by_params;
    sums.gradient += carried.by_params.transpose() * w * off;
    sums.misfit += off.dot(w * off);
  }
  return sums;
}

/// Gauss-Newton with halved steps; four points are met exactly from the start.
Fit refine(Params params, const std::vector<Match>& matches, const Variances& variances) {
  Sums sums = sums_of(params, matches, variances);
  for (int round = 0; round < 30 && matches.size() > 4; ++round) {
    Params step = sums.normal.ldlt().solve(sums.gradient);
    Sums next = sums_of(params + step, matches, variances);
    for (int halved = 0; halved < 20 && !(next.misfit <= sums.misfit); ++halved) {
      step /= 2;
      next = sums_of(params + step, matches, variances);
    }
    if (!(next.misfit <= sums.misfit)) break;
    params += step;
    sums = next;
    if (step.norm() < 1e-13 * params.norm()) break;
  }
  return {params, sums.normal.inverse(), sums.misfit};
}

/// The value that a chi-square sum of `freedom` terms exceeds once in 100.
/// Source: Wilson and Hilferty (1931), with 2.326 from the normal distribution
double once_in_100(double freedom) {
  const double spread = 2 / (9 * freedom);
  return freedom * std::pow(1 - spread + 2.326 * std::sqrt(spread), 3);
}

Vector2d vector_of(const PicturePoint& p) { return {p.u_px, p.v_px}; }
Vector2d vector_of(const DrawnPoint& p) { return {p.a_mm, p.b_mm}; }

/// The whole in normalised units, and the way back.
struct Frames {
  Normaliser plane, picture;
};

PictureCorner corner_of(const Vector2d& click, const Fit& fit, const Frames& frames, const Variances& variances, double widened) {
  PictureCorner corner;
  const Vector3d back = matrix_of(fit.params).inverse() * frames.picture(click).homogeneous();
  corner.seen = back.z() > 1e-9 * back.norm();
  if (!corner.seen) return corner;
  const Vector2d there = back.hnormalized();
  const Carried carried = carry(fit.params, there);
  const Matrix2d in_picture =
      variances.click * Matrix2d::Identity() + carried.by_params * fit.covariance * carried.by_params.transpose();
  const Matrix2d to_plane = carried.by_plane.inverse();
  const Matrix2d in_plane = to_plane * in_picture * to_plane.transpose();
  const double larger = in_plane.trace() / 2 + std::hypot((in_plane(0, 0) - in_plane(1, 1)) / 2, in_plane(0, 1));
  const Vector2d at = there / frames.plane.scale + frames.plane.middle;
  corner.at = {at.x(), at.y()};
  corner.give_or_take_mm = widened * std::sqrt(larger) / frames.plane.scale;
  return corner;
}

std::vector<double> known_off(const std::vector<Match>& matches, const Fit& fit, const Frames& frames) {
  std::vector<double> off;
  for (const Match& match : matches) {
    const Carried carried = carry(fit.params, match.plane);
    off.push_back((carried.by_plane.inverse() * (match.picture - carried.picture)).norm() / frames.plane.scale);
  }
  if (matches.size() == 4) std::fill(off.begin(), off.end(), 0.0);
  return off;
}

/// Known points that lie on the far side of the vanishing line from the rest.
std::vector<std::size_t> behind(const Matrix3d& h, const std::vector<Match>& matches) {
  std::vector<std::size_t> positive, negative;
  for (std::size_t i = 0; i < matches.size(); ++i)
    (h.row(2).dot(matches[i].plane.homogeneous()) > 0 ? positive : negative).push_back(i);
  return positive.size() < negative.size() ? positive : negative;
}

void judge_misfit(const Fit& fit, std::size_t known, PictureReading& reading) {
  const double freedom = 2.0 * static_cast<double>(known) - 8;
  if (freedom <= 0) return;
  const double chi_square = fit.misfit * within_19_in_20;
  reading.widened = std::max(1.0, std::sqrt(chi_square / freedom));
  reading.known_disagree = chi_square > once_in_100(freedom);
}

}  // namespace

tl::expected<PictureReading, PictureFault> read_picture(std::span<const KnownInPicture> known,
                                                        std::span<const PicturePoint> corners,
                                                        const PictureErrors& errors) {
  assert(known.size() >= 4 && errors.click_px > 0);
  if (auto three = three_on_a_line(known)) return tl::unexpected(PictureFault{PictureFaultKind::on_one_line, *three});
  std::vector<Vector2d> plane, picture;
  for (const KnownInPicture& point : known) {
    plane.push_back(vector_of(point.at));
    picture.push_back(vector_of(point.px));
  }
  const Frames frames{Normaliser(plane), Normaliser(picture)};
  std::vector<Match> matches;
  for (std::size_t i = 0; i < known.size(); ++i) matches.push_back({frames.plane(plane[i]), frames.picture(picture[i])});
  const Matrix3d direct = direct_linear(matches);
  if (auto mixed = behind(direct, matches); !mixed.empty())
    return tl::unexpected(PictureFault{PictureFaultKind::not_one_view, mixed});
  // the middle of the known points is seen, so the last entry is not 0
  const Matrix3d scaled = direct / direct(2, 2);
  Params start;
  start << scaled(0, 0), scaled(0, 1), scaled(0, 2), scaled(1, 0), scaled(1, 1), scaled(1, 2), scaled(2, 0), scaled(2, 1);
  const Variances variances{std::pow(errors.click_px * frames.picture.scale, 2), std::pow(errors.known_mm * frames.plane.scale, 2)};
  const Fit fit = refine(start, matches, variances);
  if (auto mixed = behind(matrix_of(fit.params), matches); !mixed.empty())
    return tl::unexpected(PictureFault{PictureFaultKind::not_one_view, mixed});
  PictureReading reading;
  judge_misfit(fit, known.size(), reading);
  reading.known_off_mm = known_off(matches, fit, frames);
  const Matrix3d whole = frames.picture.matrix().inverse() * matrix_of(fit.params) * frames.plane.matrix();
  for (int i = 0; i < 9; ++i) reading.to_picture[static_cast<std::size_t>(i)] = whole(i / 3, i % 3);
  const std::vector<DrawnPoint> hull = polygon_round(known);
  for (const PicturePoint& click : corners) {
    PictureCorner corner = corner_of(vector_of(click), fit, frames, variances, reading.widened);
    corner.outside_known = corner.seen && lies_outside(hull, corner.at);
    reading.corners.push_back(corner);
  }
  return reading;
}

}  // namespace cellstow::measuring
