#pragma once
/// What one of the car's own fixings carries, and how much of it is used.

#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"
#include "cellstow/restraint/mounting.hpp"

namespace cellstow::restraint {

/// The parent sheet as assumed where the job file does not say: fu of the body sheet, and its
/// thickness.
struct BodySheet {
  double ultimate_mpa = 270;
  double assumed_thickness_mm = 0.8;
};

/// Capacities of one fixing, N.
struct FixingStrength {
  double bolt_shear_n = 0, bolt_tension_n = 0, bolt_proof_n = 0;
  double sheet_bearing_n = 0, pull_through_n = 0;
  std::optional<double>
      stated_limit_n;  ///< the user's own figure; stands in place of both sheet checks
  double sheet_mm = 0;
};

FixingStrength fixing_strength(const survey::Fixing& fixing, const survey::Thread& thread,
                               const survey::Rules& rules, const BodySheet& sheet);

/// Every check of one fixing under one pair of forces. Names are "bolt shear", "sheet bearing",
/// ...; the caller adds fixing and load case. A pull and a push along the axis count alike.
std::vector<core::Check> fixing_checks(const FixingStrength& strength, double shear_n,
                                       double tension_n);

/// The largest use among them, without making the checks: for the search.
double fixing_use(const FixingStrength& strength, double shear_n, double tension_n);

}  // namespace cellstow::restraint
