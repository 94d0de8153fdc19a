#pragma once
/// What the load cases ask of the straps over one block.

#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::restraint {

/// A block as its straps see it.
struct StrappedBlock {
  int id = 0;
  int cells = 0;
  core::InPlan along{1, 0};  ///< direction of the run in the car, a unit vector
  double mass_kg = 0;       ///< cells and end plates
  double span_mm = 0;       ///< over the end plates, along the run
  double height_mm = 0;     ///< from the liner to the case tops
  double breadth_mm = 0;    ///< across the run
  double post_room_mm = 0;  ///< width free for straps between the posts, or the breadth
  bool posts_known = true;
};

/// @param heading  of the block's box: load cases come in the car's frame
StrappedBlock strapped_block(const packing::Block& block, core::Heading heading,
                             const survey::Cell& cell, const survey::Rules& rules);

/// The same block with fewer cells.
StrappedBlock shortened(const StrappedBlock& block, int cells, const survey::Cell& cell,
                        const survey::Rules& rules);

/// One flat bar, and how many of it lie side by side.
struct StrapSection {
  double width_mm = 0, thickness_mm = 0;
  int quantity = 1;
};

/// The worst of all load cases for one strap.
struct StrapDemand {
  double leg_n = 0;
  std::string leg_case;
  double sag_mm = 0;
  std::string sag_case;
  double section_share = 0;  ///< (N / N_pl)^2 + M / M_pl
  std::string section_case;
};

/// Leg tension, rise and section use under every load case; see docs/theory/restraint.md.
StrapDemand strap_demand(const StrappedBlock& block, const StrapSection& section,
                         const survey::Rules& rules);

}  // namespace cellstow::restraint
