#include "cellstow/fabrication/bend.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cellstow::fabrication {
namespace {

constexpr double radian = std::numbers::pi / 180;
/// Sheet is sold by nominal thickness; a test on the same sheet may be noted a little off.
constexpr double same_thickness_mm = 0.05;
constexpr double k_when_unknown = 0.33;

const survey::BendTest* test_for(const survey::Material& material, double thickness_mm, double radius_mm,
                                 const std::vector<survey::BendTest>& tests) {
  const survey::BendTest* best = nullptr;
  const auto off = [&](const survey::BendTest& test) { return std::abs(test.inside_radius.mm() - radius_mm); };
  for (const survey::BendTest& test : tests) {
    if (test.material != material.name || std::abs(test.thickness.mm() - thickness_mm) > same_thickness_mm) continue;
    if (!best || off(test) < off(*best)) best = &test;
  }
  return best;
}

double least_radius_mm(const survey::Material& material, double thickness_mm) {
  return material.min_bend_radius_over_thickness.value_or(1.0) * thickness_mm;
}

}  // namespace

double bend_allowance_mm(double angle_deg, double inside_radius_mm, double thickness_mm, double k_factor) {
  return angle_deg * radian * (inside_radius_mm + k_factor * thickness_mm);
}

double outside_setback_mm(double angle_deg, double inside_radius_mm, double thickness_mm) {
  return (inside_radius_mm + thickness_mm) * std::tan(angle_deg * radian / 2);
}

double bend_deduction_mm(double angle_deg, double inside_radius_mm, double thickness_mm, double k_factor) {
  return 2 * outside_setback_mm(angle_deg, inside_radius_mm, thickness_mm) -
         bend_allowance_mm(angle_deg, inside_radius_mm, thickness_mm, k_factor);
}

double din_6935_addition_mm(double opening_deg, double inside_radius_mm, double thickness_mm) {
  if (opening_deg > 165) return 0;
  const double r = inside_radius_mm, s = thickness_mm, through = (180 - opening_deg) * radian;
  const double k = r / s > 5 ? 1 : std::min(1.0, 0.65 + 0.5 * std::log10(r / s));
  const double arc = through * (r + s * k / 2);
  return opening_deg <= 90 ? arc - 2 * (r + s) : arc - 2 * (r + s) * std::tan(through / 2);
}

double k_of(const survey::BendTest& test) {
  const double radius = test.inside_radius.mm(), thickness = test.thickness.mm();
  const double deduction = (test.legs[0] + test.legs[1] - test.flat).mm();
  const double allowance = 2 * outside_setback_mm(test.angle_deg, radius, thickness) - deduction;
  return (allowance / (test.angle_deg * radian) - radius) / thickness;
}

double BendRule::allowance_mm(double angle_deg) const {
  return bend_allowance_mm(angle_deg, inside_radius_mm, thickness_mm, k_factor);
}
double BendRule::deduction_mm(double angle_deg) const {
  return bend_deduction_mm(angle_deg, inside_radius_mm, thickness_mm, k_factor);
}
double BendRule::setback_mm(double angle_deg) const {
  return outside_setback_mm(angle_deg, inside_radius_mm, thickness_mm);
}

BendRule bend_rule(const survey::Material& material, double thickness_mm, const survey::Rules& rules) {
  BendRule bend;
  bend.thickness_mm = thickness_mm;
  const double least = std::ceil(least_radius_mm(material, thickness_mm) * 2 - 1e-9) / 2;
  bend.inside_radius_mm = rules.bend_radius ? rules.bend_radius->mm() : least;
  if (const auto* test = test_for(material, thickness_mm, bend.inside_radius_mm, rules.bend_tests)) {
    bend.k_factor = k_of(*test);
    bend.k_source = fmt::format("bend test of the shop, inside radius {:.1f} mm", test->inside_radius.mm());
  } else if (material.k_factor) {
    bend.k_factor = *material.k_factor;
    bend.k_source = "table of materials, from memory";
  } else {
    bend.k_factor = k_when_unknown;
    bend.k_source = "not known for this material: low end of common practice taken";
  }
  return bend;
}

double shortest_leg_mm(const BendRule& bend, const survey::Rules& rules) {
  return rules.leg_min ? rules.leg_min->mm() : 4 * bend.thickness_mm + bend.inside_radius_mm;
}

double hole_to_bend_mm(const BendRule& bend) { return bend.thickness_mm; }

core::Check radius_check(const survey::Material& material, const BendRule& bend, const std::string& where) {
  const double least = least_radius_mm(material, bend.thickness_mm);
  const std::string other = material.bend_may_crack ? ", or take EN AW-5754 or 5083 in a soft temper for folded parts" : "";
  return core::check_at_least(
      "inside bend radius", where, bend.inside_radius_mm, least, "mm",
      material.min_bend_radius_over_thickness
          ? fmt::format("{:g} thicknesses for {}; {}", *material.min_bend_radius_over_thickness, material.name, material.source)
          : "one thickness taken, the material has no least bend radius; common practice, no source",
      fmt::format("fold over a tool of at least {:.1f} mm radius{}", least, other));
}

std::vector<std::string> bend_cautions(const survey::Material& material, const BendRule& bend,
                                       const survey::Rules& rules, const std::string& where) {
  std::vector<std::string> out;
  if (material.bend_may_crack) {
    out.push_back(fmt::format("{}: {} may crack where it is folded, also later in use; fold across the rolling direction, look at "
                              "every bend, or take EN AW-5754 or 5083 in a soft temper",
                              where, material.name));
  }
  if (bend.k_factor < 0.1 || bend.k_factor > 0.6) {
    out.push_back(fmt::format("{}: the bend test gives a K factor of {:.2f}, outside 0.1 to 0.6: legs may have been measured inside; "
                              "fold and measure another strip before cutting",
                              where, bend.k_factor));
  } else if (!test_for(material, bend.thickness_mm, bend.inside_radius_mm, rules.bend_tests)) {
    out.push_back(fmt::format("{}: flat sizes of folded parts rest on a K factor of {:.2f} from a table; fold and measure a strip of "
                              "the sheet first and enter it under \"bend_tests\"",
                              where, bend.k_factor));
  }
  return out;
}

}  // namespace cellstow::fabrication
