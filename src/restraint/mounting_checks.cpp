#include "mounting_checks.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/restraint/joint.hpp"

namespace cellstow::restraint {
namespace {

/// EN 1993-1-8 Table 3.4: Fv / FvRd + Ft / (1.4 FtRd) <= 1.
double combined_share(const FixingStrength& strength, double shear_n, double pull_n) {
  return shear_n / strength.bolt_shear_n + pull_n / (1.4 * strength.bolt_tension_n);
}

}  // namespace

FixingStrength fixing_strength(const survey::Fixing& fixing, const survey::Thread& thread,
                               const survey::Rules& rules, const BodySheet& sheet) {
  const survey::FastenerClass& fastener = rules.materials.fasteners;
  const double factor = rules.safety_factor.ultimate;
  FixingStrength out;
  out.sheet_mm = fixing.sheet ? fixing.sheet->mm() : sheet.assumed_thickness_mm;
  const Plate plate{out.sheet_mm, sheet.ultimate_mpa};
  out.bolt_shear_n = bolt_shear_capacity(fastener, thread, factor).value();
  out.bolt_tension_n = bolt_tension_capacity(fastener, thread, factor).value();
  out.bolt_proof_n = bolt_proof_load(fastener, thread).value() / rules.safety_factor.yield;
  out.sheet_bearing_n = sheet_bearing_capacity(plate, thread.major_diameter.mm(), factor).value();
  out.pull_through_n =
      pull_through_capacity(plate, hexagon_mean_mm(thread.head_width_mm), factor).value();
  if (fixing.limit) out.stated_limit_n = fixing.limit->value();
  return out;
}

std::vector<core::Check> fixing_checks(const FixingStrength& strength, double shear_n,
                                       double tension_n) {
  const double pull_n = std::abs(tension_n);
  std::vector<core::Check> checks;
  const auto add = [&](const char* name, double value, double limit, const char* unit,
                       const char* source) {
    checks.push_back(core::check_at_most(name, "", value, limit, unit, source, ""));
  };
  add("bolt shear", shear_n, strength.bolt_shear_n, "N",
      "EN 1993-1-8 Table 3.4, threads in the plane, over the ultimate factor");
  add("bolt tension", pull_n, strength.bolt_proof_n, "N",
      "proof load of ISO 898-1 over the yield factor");
  add("bolt shear and tension together", 100 * combined_share(strength, shear_n, pull_n), 100, "%",
      "EN 1993-1-8 Table 3.4");
  if (strength.stated_limit_n) {
    add("force on the fixing", std::hypot(shear_n, pull_n), *strength.stated_limit_n, "N",
        "limit_n of the job file, in place of the sheet checks");
    return checks;
  }
  add("sheet bearing", shear_n, strength.sheet_bearing_n, "N",
      "EN 1993-1-3 Table 8.4, from memory, over the ultimate factor; body sheet of 270 MPa (DC01, "
      "from memory)");
  add("pull-through of the sheet", pull_n, strength.pull_through_n, "N",
      "EN 1993-1-8 Table 3.4, over the ultimate factor; body sheet of 270 MPa (DC01, from memory)");
  return checks;
}

double fixing_use(const FixingStrength& strength, double shear_n, double tension_n) {
  const double pull_n = std::abs(tension_n);
  const double bolt = std::max({shear_n / strength.bolt_shear_n, pull_n / strength.bolt_proof_n,
                                combined_share(strength, shear_n, pull_n)});
  if (strength.stated_limit_n)
    return std::max(bolt, std::hypot(shear_n, pull_n) / *strength.stated_limit_n);
  return std::max({bolt, shear_n / strength.sheet_bearing_n, pull_n / strength.pull_through_n});
}

}  // namespace cellstow::restraint
