#include "cellstow/measuring/next_reading.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <tuple>

#include "cellstow/measuring/doubts.hpp"

namespace cellstow::measuring {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// One row of A: at most two points have a part in a length.
struct Row {
  std::array<std::ptrdiff_t, 4> column = {0, 0, 0, 0};
  std::array<double, 4> value = {0, 0, 0, 0};
  int size = 0;
};

/// A length whose worst ellipse shrinks by less is not worth the walk. Our choice.
constexpr double worth = 0.9;

class Search {
 public:
  Search(const Network& network, const Fit& fit, double give_or_take_mm)
      : network_(network), fit_(fit), s_(give_or_take_mm / deviations_in_give_or_take) {
    const auto n = static_cast<std::ptrdiff_t>(2 * fit.points.size());
    covariance_ = Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>>(fit.cofactors.data(), n, n);
    for (const Reading& reading : network.readings) rows_.push_back(row(reading.from, reading.to));
  }

  std::optional<NextReading> run() const {
    if (fit_.points.empty()) return {};
    const bool by_checks = any_unchecked();
    std::optional<NextReading> best;
    Value best_value = value_of(covariance_, by_checks);
    for (std::size_t to = network_.datums.size(); to < network_.places(); ++to) {
      for (std::size_t from = 0; from < to; ++from) {
        if (measured(from, to)) continue;
        const MatrixXd after = with(from, to);
        const Value value = value_of(after, by_checks);
        if (!(value < best_value)) continue;
        best_value = value;
        best = describe(from, to, after, by_checks);
      }
    }
    if (best && !best->makes_checked && best->after_mm > worth * best->before_mm) return {};
    return best;
  }

 private:
  using Value = std::tuple<std::size_t, double, double>;

  Place place(std::size_t number) const {
    return network_.is_point(number) ? fit_.points[number - network_.datums.size()] : network_.datums[number].at;
  }

  bool measured(std::size_t from, std::size_t to) const {
    return std::any_of(network_.readings.begin(), network_.readings.end(), [&](const Reading& r) {
      return (r.from == from && r.to == to) || (r.from == to && r.to == from);
    });
  }

  Row row(std::size_t from, std::size_t to) const {
    Row out;
    const Place p = place(from), q = place(to);
    const double length = std::max(distance(p, q), 1e-9);
    const auto put = [&](std::size_t number, double sign) {
      if (!network_.is_point(number)) return;
      const auto at = static_cast<std::ptrdiff_t>(2 * (number - network_.datums.size()));
      for (const double part : {q.a - p.a, q.b - p.b}) {
        out.column[static_cast<std::size_t>(out.size)] = at + (out.size % 2);
        out.value[static_cast<std::size_t>(out.size++)] = sign * part / length;
      }
    };
    put(from, -1);
    put(to, 1);
    return out;
  }

  static double spread(const MatrixXd& covariance, const Row& row) {
    double sum = 0;
    for (std::size_t j = 0; j < static_cast<std::size_t>(row.size); ++j) {
      for (std::size_t k = 0; k < static_cast<std::size_t>(row.size); ++k) {
        sum += row.value[j] * covariance(row.column[j], row.column[k]) * row.value[k];
      }
    }
    return sum;
  }

  MatrixXd with(std::size_t from, std::size_t to) const {
    const Row a = row(from, to);
    VectorXd side = VectorXd::Zero(covariance_.rows());
    for (std::size_t j = 0; j < static_cast<std::size_t>(a.size); ++j) side += a.value[j] * covariance_.col(a.column[j]);
    return covariance_ - side * side.transpose() / (s_ * s_ + spread(covariance_, a));
  }

  double share(const MatrixXd& covariance, std::size_t reading) const {
    const double s = deviation(network_.readings[reading]);
    return 1 - spread(covariance, rows_[reading]) / (s * s);
  }

  /// The largest slip that may still pass in readings of a point.
  double hidden_slip(const MatrixXd& covariance, std::size_t point) const {
    double worst = 0;
    const std::size_t own = network_.datums.size() + point;
    for (std::size_t i = 0; i < network_.readings.size(); ++i) {
      const Reading& r = network_.readings[i];
      if (r.from == own || r.to == own) worst = std::max(worst, least_slip_mm(r, share(covariance, i)));
    }
    return worst;
  }

  bool any_unchecked() const {
    for (std::size_t point = 0; point < fit_.points.size(); ++point) {
      if (std::isinf(hidden_slip(covariance_, point))) return true;
    }
    return false;
  }

  double major(const MatrixXd& covariance, std::size_t point) const {
    const auto a = static_cast<std::ptrdiff_t>(2 * point);
    return ellipse_of(covariance(a, a), covariance(a, a + 1), covariance(a + 1, a + 1)).major_mm;
  }

  double worst_major(const MatrixXd& covariance) const {
    double worst = 0;
    for (std::size_t point = 0; point < fit_.points.size(); ++point) worst = std::max(worst, major(covariance, point));
    return worst;
  }

  /// Less is better. Points without check first, then the sum of slips that the rest can hide, then the longest ellipse.
  Value value_of(const MatrixXd& covariance, bool by_checks) const {
    if (!by_checks) return {0, 0, worst_major(covariance)};
    std::size_t unchecked = 0;
    double hidden = 0;
    for (std::size_t point = 0; point < fit_.points.size(); ++point) {
      const double slip = hidden_slip(covariance, point);
      if (std::isinf(slip)) {
        ++unchecked;
      } else {
        hidden += slip;
      }
    }
    // with one point fewer unchecked the sum grows: it counts only among equals
    return {unchecked, hidden, worst_major(covariance)};
  }

  NextReading describe(std::size_t from, std::size_t to, const MatrixXd& after, bool by_checks) const {
    NextReading next{from, to, distance(place(from), place(to)), to - network_.datums.size(), false, 0, 0, 0};
    if (network_.is_point(from) && major(covariance_, from - network_.datums.size()) > major(covariance_, next.point)) {
      next.point = from - network_.datums.size();
    }
    if (by_checks) {
      for (const std::size_t place : {from, to}) {
        if (!network_.is_point(place) || next.makes_checked) continue;
        const std::size_t point = place - network_.datums.size();
        const double slip = hidden_slip(after, point);
        if (std::isinf(slip) || !std::isinf(hidden_slip(covariance_, point))) continue;
        next.point = point;
        next.makes_checked = true;
        next.least_slip_mm = slip;
      }
    }
    next.before_mm = major(covariance_, next.point);
    next.after_mm = major(after, next.point);
    return next;
  }

  const Network& network_;
  const Fit& fit_;
  double s_;
  MatrixXd covariance_;
  std::vector<Row> rows_;
};

}  // namespace

std::optional<NextReading> next_reading(const Network& network, const Fit& fit, double give_or_take_mm) {
  return Search(network, fit, give_or_take_mm).run();
}

}  // namespace cellstow::measuring
