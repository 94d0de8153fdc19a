#pragma once
/// How much sheet a bend takes up, and what a brake can fold.
///
/// A = angle bent through (90 makes a square corner), R inside radius, T thickness. Legs are outside legs: from the
/// end to the sharp corner where the two outer faces would meet.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::fabrication {

/// BA = (pi / 180) A (R + K T): length of the neutral line through the bend, mm. General handbook formula.
double bend_allowance_mm(double angle_deg, double inside_radius_mm, double thickness_mm, double k_factor);

/// OSSB = (R + T) tan(A / 2): from the bend's tangent to the sharp outer corner. Angles below 180.
double outside_setback_mm(double angle_deg, double inside_radius_mm, double thickness_mm);

/// BD = 2 OSSB - BA: flat = leg + leg - BD.
double bend_deduction_mm(double angle_deg, double inside_radius_mm, double thickness_mm, double k_factor);

/// DIN 6935: what is added to the outside legs for a bend with opening angle beta (180 - A), usually below 0:
///   v = pi (180 - beta) / 180 (r + s k / 2) - 2 (r + s)              for beta up to 90
///   v = the same - 2 (r + s) tan((180 - beta) / 2)                   for beta over 90 up to 165; 0 above
///   k = 0.65 + 1/2 log10(r / s), at most 1
/// Coefficients from memory. Kept beside the K factor to compare with.
double din_6935_addition_mm(double opening_deg, double inside_radius_mm, double thickness_mm);

/// K that makes a folded strip of the measured legs from the measured flat.
double k_of(const survey::BendTest& test);

/// What bends of one sheet are made with.
struct BendRule {
  double inside_radius_mm = 0, thickness_mm = 0, k_factor = 0;
  std::string k_source;  ///< "bend test of the shop", "table", ...

  double allowance_mm(double angle_deg = 90) const;
  double deduction_mm(double angle_deg = 90) const;
  double setback_mm(double angle_deg = 90) const;
};

/// Radius: the rule `bend_radius_mm`, else the least of the material (1 T where the table has none), rounded up to
/// half millimetres. K: the shop's own bend test of this material and thickness (nearest radius, then first in the
/// list), else the material's, else 0.33, the low end of what is met in practice: the part comes out large, not small.
BendRule bend_rule(const survey::Material& material, double thickness_mm, const survey::Rules& rules);

/// Shortest outside leg: the rule `leg_min_mm`, else 4 T + R, so that the sheet still lies on both edges of a die
/// eight thicknesses wide. Common practice, no source.
double shortest_leg_mm(const BendRule& bend, const survey::Rules& rules);

/// From the rim of a hole to the bend's tangent: 2 T + R measured from the outer face of the other leg, so 1 T from
/// the tangent, and never under 1 T. Common practice, no source.
double hole_to_bend_mm(const BendRule& bend);

/// Radius against the temper's least, with a cure that names another alloy where the temper cracks.
core::Check radius_check(const survey::Material& material, const BendRule& bend, const std::string& where);

/// What to tell about bends in this material: crack caution, K not measured, an odd bend test.
std::vector<std::string> bend_cautions(const survey::Material& material, const BendRule& bend,
                                       const survey::Rules& rules, const std::string& where);

}  // namespace cellstow::fabrication
