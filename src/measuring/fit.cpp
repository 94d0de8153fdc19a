#include "cellstow/measuring/fit.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace cellstow::measuring {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int most_steps = 100;
constexpr double still_mm = 1e-7;   ///< far below the micrometre grid

/// One row of A: at most four entries, two for each end that is a point.
struct Row {
  std::array<std::ptrdiff_t, 4> column = {-1, -1, -1, -1};
  std::array<double, 4> value = {0, 0, 0, 0};
};

class Adjustment {
 public:
  Adjustment(const Network& network, const std::vector<Place>& start, const std::vector<bool>& left_out)
      : network_(network), left_out_(left_out), x_(static_cast<std::ptrdiff_t>(2 * start.size())) {
    for (std::size_t i = 0; i < start.size(); ++i) {
      x_[static_cast<std::ptrdiff_t>(2 * i)] = start[i].a;
      x_[static_cast<std::ptrdiff_t>(2 * i + 1)] = start[i].b;
    }
  }

  std::optional<Fit> run() {
    double misfit = misfit_at(x_);
    for (int step = 0; step < most_steps; ++step) {
      const std::optional<VectorXd> dx = full_step();
      if (!dx) return {};
      if (!take(*dx, misfit) || dx->cwiseAbs().maxCoeff() < still_mm) break;
    }
    normal_equations();
    if (!factor()) return {};
    return result(misfit_at(x_));
  }

 private:
  bool counts(std::size_t reading) const { return left_out_.empty() || !left_out_[reading]; }

  Place place(std::size_t number, const VectorXd& x) const {
    if (!network_.is_point(number)) return network_.datums[number].at;
    const auto at = static_cast<std::ptrdiff_t>(2 * (number - network_.datums.size()));
    return {x[at], x[at + 1]};
  }

  double residual(const Reading& r, const VectorXd& x) const { return r.mm - distance(place(r.from, x), place(r.to, x)); }

  double misfit_at(const VectorXd& x) const {
    double sum = 0;
    for (std::size_t i = 0; i < network_.readings.size(); ++i) {
      const double v = residual(network_.readings[i], x) / deviation(network_.readings[i]);
      if (counts(i)) sum += v * v;
    }
    return sum;
  }

  Row row(const Reading& r) const {
    const Place p = place(r.from, x_), q = place(r.to, x_);
    const double length = std::max(distance(p, q), 1e-9);
    const double a = (q.a - p.a) / length, b = (q.b - p.b) / length;
    Row row;
    const auto put = [&](std::size_t number, std::size_t slot, double sign) {
      if (!network_.is_point(number)) return;
      const auto at = static_cast<std::ptrdiff_t>(2 * (number - network_.datums.size()));
      row.column[slot] = at;
      row.column[slot + 1] = at + 1;
      row.value[slot] = sign * a;
      row.value[slot + 1] = sign * b;
    };
    put(r.from, 0, -1);
    put(r.to, 2, 1);
    return row;
  }

  void normal_equations() {
    normal_ = MatrixXd::Zero(x_.size(), x_.size());
    right_ = VectorXd::Zero(x_.size());
    for (std::size_t i = 0; i < network_.readings.size(); ++i) {
      if (!counts(i)) continue;
      const Reading& reading = network_.readings[i];
      const double weight = 1 / (deviation(reading) * deviation(reading)), v = residual(reading, x_);
      const Row r = row(reading);
      for (std::size_t j = 0; j < 4; ++j) {
        if (r.column[j] < 0) continue;
        right_[r.column[j]] += r.value[j] * weight * v;
        for (std::size_t k = 0; k < 4; ++k) {
          if (r.column[k] >= 0) normal_(r.column[j], r.column[k]) += r.value[j] * weight * r.value[k];
        }
      }
    }
  }

  /// False when some point is not fixed: pivots tell, relative to the largest.
  bool factor() {
    if (x_.size() == 0) return true;
    factors_.compute(normal_);
    const VectorXd pivots = factors_.vectorD();
    return factors_.info() == Eigen::Success && pivots.minCoeff() > 1e-10 * pivots.maxCoeff();
  }

  std::optional<VectorXd> full_step() {
    normal_equations();
    if (!factor()) return {};
    return VectorXd(factors_.solve(right_));
  }

  /// Goes along dx, half as far each time the fit would get worse. False when nothing more is to be gained.
  bool take(const VectorXd& dx, double& misfit) {
    double part = 1;
    for (int halving = 0; halving < 30; ++halving, part /= 2) {
      const VectorXd next = x_ + part * dx;
      const double there = misfit_at(next);
      if (there > misfit) continue;
      const bool gained = there < misfit;
      x_ = next;
      misfit = there;
      return gained;
    }
    return false;
  }

  ReadingFit reading_fit(std::size_t i, const MatrixXd& covariance) const {
    const Reading& reading = network_.readings[i];
    const Row r = row(reading);
    double spread = 0;
    for (std::size_t j = 0; j < 4; ++j) {
      for (std::size_t k = 0; k < 4; ++k) {
        if (r.column[j] >= 0 && r.column[k] >= 0) spread += r.value[j] * covariance(r.column[j], r.column[k]) * r.value[k];
      }
    }
    const double s = deviation(reading);
    ReadingFit out;
    out.residual_mm = residual(reading, x_);
    out.share = counts(i) ? std::clamp(1 - spread / (s * s), 0.0, 1.0) : 1;
    if (out.share >= least_share) out.test = out.residual_mm / (s * std::sqrt(out.share));
    return out;
  }

  Fit result(double misfit) const {
    Fit fit;
    const MatrixXd covariance = factors_.solve(MatrixXd::Identity(x_.size(), x_.size()));
    for (std::ptrdiff_t i = 0; i + 1 < x_.size(); i += 2) fit.points.push_back({x_[i], x_[i + 1]});
    int used = 0;
    for (std::size_t i = 0; i < network_.readings.size(); ++i) {
      fit.readings.push_back(reading_fit(i, covariance));
      used += counts(i);
    }
    fit.misfit = misfit;
    fit.spare_readings = used - static_cast<int>(x_.size());
    for (std::ptrdiff_t i = 0; i < x_.size(); ++i) {
      for (std::ptrdiff_t j = 0; j < x_.size(); ++j) fit.cofactors.push_back(covariance(i, j));
    }
    return fit;
  }

  const Network& network_;
  const std::vector<bool>& left_out_;
  VectorXd x_, right_;
  MatrixXd normal_;
  Eigen::LDLT<MatrixXd> factors_;
};

}  // namespace

std::optional<Fit> fit_points(const Network& network, const std::vector<Place>& start, const std::vector<bool>& left_out) {
  return Adjustment(network, start, left_out).run();
}

Ellipse ellipse_of(double variance_a, double covariance, double variance_b) {
  const double middle = (variance_a + variance_b) / 2, half = (variance_a - variance_b) / 2;
  const double radius = std::hypot(half, covariance);
  // half the angle of (2 covariance, variance_a - variance_b): the major axis of the quadratic form
  const double direction = std::atan2(covariance, half) / 2 * 180 / std::numbers::pi;
  return {deviations_in_ellipse * std::sqrt(middle + radius), deviations_in_ellipse * std::sqrt(std::max(0.0, middle - radius)),
          direction <= -90 ? 90 : direction};
}

Ellipse ellipse_of(const Fit& fit, std::size_t point) {
  const std::size_t a = 2 * point, b = a + 1;
  return ellipse_of(fit.covariance(a, a), fit.covariance(a, b), fit.covariance(b, b));
}

}  // namespace cellstow::measuring
