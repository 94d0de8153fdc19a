#pragma once
/// The box on the car's own fixings: who carries what in each load case.

#include <array>
#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/core/finding.hpp"
#include "cellstow/restraint/bolt.hpp"
#include "cellstow/restraint/bracket.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::restraint {

/// Force on one bolt of a group, vehicle frame, N: what the box does to the bolt.
/// tension_n is the share along the bolt's axis, signed; shear_n the share across it.
struct BoltForce {
  std::array<double, 3> force_n{};
  double shear_n = 0, tension_n = 0;
};

/// Elastic bolt group in three dimensions: a rigid box on equal point springs.
///
///   F_i = F/n + theta x r_i,  with sum(F_i) = F and sum(r_i x F_i) = M about the group's centroid
///
/// @param  bolts_mm   bolt positions, n x 3
/// @param  axes       unit axis of each bolt, n x 3 (splits each force into tension and shear)
/// @param  force_n    resultant force
/// @param  at_mm      point it acts at
/// @return one entry a bolt; empty when the group cannot hold the moment (bolts in line, or one
/// bolt) Source: elastic method, Shigley, Mechanical Engineering Design, 9th ed., 8-12, taken to
/// three dimensions.
std::vector<BoltForce> bolt_group(const std::vector<std::array<double, 3>>& bolts_mm,
                                  const std::vector<std::array<double, 3>>& axes,
                                  const std::array<double, 3>& force_n,
                                  const std::array<double, 3>& at_mm);

struct FixingUseResult {
  std::string fixing;    ///< name in the job file
  bool carries = false;  ///< false: locates only, or not needed
  std::string why_not;   ///< when it does not carry: "marked never", "282 mm from the box, bracket
                         ///< reach is 150"
  double shear_n = 0, tension_n = 0;  ///< in the worst load case
  std::string worst_case, governs;    ///< "sheet bearing", "bolt shear", ...
  double use = 0;
};

/// One fixing lets go: what the others then have to do.
struct Loss {
  std::string fixing;
  bool holds_together = true;   ///< false: the others stand in one line, or are too few
  std::string worst, governs;   ///< fixing that is then worst off, and by what
  double use = 0;
};

struct Mounting {
  std::string box_mark;
  std::vector<FixingUseResult> fixings;  ///< every fixing of the cavity, in file order
  std::vector<core::Check> checks;
  std::vector<std::string> cautions, notes;
  std::vector<Bracket> brackets;         ///< one to every fixing that carries, in file order
  std::vector<FixingBolt> bolts;         ///< the same order
  std::vector<Loss> losses;              ///< the same order
  std::string round_hole;                ///< fixing whose bracket has a round hole; all others are slotted
};

/// Fewest of the cavity's own fixings that hold the box in every load case, and the use of each.
/// `never` is never used, `locate` never loaded. When no set passes, the best set is reported with
/// its failing checks.
Mounting mount_box(const box::Box& box, const survey::Cavity& cavity, const survey::Rules& rules,
                   const survey::Catalogue& catalogue);

}  // namespace cellstow::restraint
