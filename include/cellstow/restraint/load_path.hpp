#pragma once
/// The way of a crash load from the cells to the car's own metal, link by link.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/restraint/hold_down.hpp"
#include "cellstow/restraint/link.hpp"
#include "cellstow/restraint/mounting.hpp"
#include "cellstow/restraint/strap.hpp"

namespace cellstow::restraint {

/// Clamping of one block over its life.
struct Clamp {
  int block = 0;
  double start_n = 0, most_n = 0;      ///< force when new, and the most the cell maker allows
  double growth_mm = 0;                ///< of the whole block, free of force
  double spring_n_per_mm = 0;          ///< springs at one end no stiffer than this keep the force in the range
  double rigid_n_per_mm = 0;           ///< without springs: steel bands and end plates alone
};

struct LoadPath {
  std::vector<Link> links;             ///< from the cell outward
  int weakest = -1;                    ///< index into links
  std::vector<Clamp> clamps;
  double floor_sag_mm = 0;             ///< worst load case
  double wall_bulge_mm = 0;            ///< of the worst wall, hanging like a net
  double creepage_needed_mm = 0;       ///< 0: string not known
  std::vector<core::Check> checks;     ///< of links that neither straps, hold-downs nor fixings have judged
  std::vector<std::string> cautions, notes, assumptions;
};

/// Every link of one box.
///
/// @param string_max  highest voltage of the whole string, if known
LoadPath follow_load(const box::Box& box, const survey::Cell& cell, const survey::Rules& rules,
                     const survey::Catalogue& catalogue, const StrapPlan& straps, const HoldDownPlan& hold_downs,
                     const Mounting& mounting, std::optional<core::Volt> string_max);

}  // namespace cellstow::restraint
