#pragma once
/// Bars over the tops of a block that straps alone do not hold: stiff, screwed to the end plates' top edges.

#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/core/finding.hpp"
#include "cellstow/restraint/strap.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::restraint {

struct HoldDown {
  std::string mark;            ///< "TW-H-B1"
  int block = 0;
  int quantity = 2;            ///< bars side by side over the block
  std::string material;
  Length width, thickness, cut_length;
  Length beside;               ///< middle of each bar from the middle of the cells' width; 0 for a single bar
  std::string screw;           ///< "M6", one at each end, into the end plate
  Length screw_hole;
  Newton lift;                 ///< share of one bar, worst load case
  double strap_share = 0;      ///< of the block's lift, carried by the straps beside it
  std::string worst_case;
  Length sag;
  Kg mass;                     ///< one bar
  std::vector<Check> checks;
};

struct HoldDownPlan {
  std::vector<HoldDown> bars;  ///< by block
  std::vector<Check> checks;
  std::vector<std::string> notes, cautions;
};

/// How a straight bar and a strap share a lift: both rise alike in the middle.
/// @param bar_stiffness_n_mm2  E I of all bars together
/// @return share of the straps, 0 to 1
double strap_share_of_lift(double lift_n, double span_mm, double bar_stiffness_n_mm2, double strap_width_mm,
                           double strap_thickness_mm, double strap_modulus_mpa, double legs_mm);

/// Hold-downs for every block that no strap passes for, and for those without straps.
HoldDownPlan design_hold_downs(const box::Box& box, const survey::Cell& cell, const survey::Rules& rules,
                               const survey::Catalogue& catalogue, const StrapPlan& straps);

}  // namespace cellstow::restraint
