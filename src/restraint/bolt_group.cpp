#include <Eigen/Dense>
#include <cassert>

#include "cellstow/restraint/mounting.hpp"

namespace cellstow::restraint {
namespace {

/// Below this ratio of its smallest to its largest stiffness the group counts as bolts in line:
/// far above rounding, far below any group a tape can tell from a line.
constexpr double in_line_ratio = 1e-9;

Eigen::Vector3d vec(const std::array<double, 3>& v) { return {v[0], v[1], v[2]}; }

Eigen::Vector3d centroid(const std::vector<std::array<double, 3>>& bolts_mm) {
  Eigen::Vector3d sum = Eigen::Vector3d::Zero();
  for (const auto& bolt : bolts_mm) sum += vec(bolt);
  return sum / static_cast<double>(bolts_mm.size());
}

/// Moment that one radian of turn about each axis asks of unit springs: sum(|r|^2 I - r r^T).
Eigen::Matrix3d turning_stiffness(const std::vector<std::array<double, 3>>& bolts_mm,
                                  const Eigen::Vector3d& centre) {
  Eigen::Matrix3d sum = Eigen::Matrix3d::Zero();
  for (const auto& bolt : bolts_mm) {
    const Eigen::Vector3d r = vec(bolt) - centre;
    sum += r.squaredNorm() * Eigen::Matrix3d::Identity() - r * r.transpose();
  }
  return sum;
}

bool holds_every_moment(const Eigen::Matrix3d& stiffness) {
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(stiffness, Eigen::EigenvaluesOnly);
  const Eigen::Vector3d values = eigen.eigenvalues();
  return values(2) > 0 && values(0) > in_line_ratio * values(2);
}

BoltForce split(const Eigen::Vector3d& force, const Eigen::Vector3d& axis) {
  const double along = force.dot(axis);
  return {{force.x(), force.y(), force.z()}, (force - along * axis).norm(), along};
}

}  // namespace

std::vector<BoltForce> bolt_group(const std::vector<std::array<double, 3>>& bolts_mm,
                                  const std::vector<std::array<double, 3>>& axes,
                                  const std::array<double, 3>& force_n,
                                  const std::array<double, 3>& at_mm) {
  assert(bolts_mm.size() == axes.size());
  if (bolts_mm.size() < 2) return {};
  const Eigen::Vector3d centre = centroid(bolts_mm);
  const Eigen::Matrix3d stiffness = turning_stiffness(bolts_mm, centre);
  if (!holds_every_moment(stiffness)) return {};
  const Eigen::Vector3d force = vec(force_n);
  const Eigen::Vector3d moment = (vec(at_mm) - centre).cross(force);
  const Eigen::Vector3d turn = stiffness.ldlt().solve(moment);
  const Eigen::Vector3d direct = force / static_cast<double>(bolts_mm.size());
  std::vector<BoltForce> forces;
  for (std::size_t i = 0; i < bolts_mm.size(); ++i)
    forces.push_back(split(direct + turn.cross(vec(bolts_mm[i]) - centre), vec(axes[i])));
  return forces;
}

}  // namespace cellstow::restraint
