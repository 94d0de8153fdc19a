#pragma once
/// From a box to its sheet parts: how it is put together, what to cut, fold, weld and screw.

#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/core/finding.hpp"
#include "cellstow/fabrication/sheet_part.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::fabrication {

enum class Construction {
  none,           ///< the rule "loose": no box
  welded_panels,  ///< a floor, a wall along each edge, tabs in notches, welded outside
  folded_wrap,    ///< floor and the two long walls from one sheet, ends separate
  folded_pan      ///< floor and all four walls from one sheet
};

enum class LidStyle {
  none,
  plate_on_tabs,   ///< a plate on the walls' edges, screwed into angle tabs inside
  cap,             ///< edges folded down over the walls
  plate_on_flange  ///< a plate on a flange round the mouth
};

std::string to_text(Construction construction);
std::string to_text(LidStyle style);

/// A bought piece: nut, screw, gasket.
struct LooseItem {
  std::string name;     ///< "rivet nut M5", "gasket strip 10 x 4"
  double quantity = 0;
  std::string unit;     ///< "pieces", "m"
  std::string what_for;
};

/// All sheet work of one box.
struct SheetWork {
  Construction construction = Construction::none;
  LidStyle lid = LidStyle::none;
  std::string why;                 ///< why this construction and no simpler one
  std::vector<SheetPart> parts;    ///< in the order they go together, lid last
  std::vector<LooseItem> loose;
  std::vector<core::Check> checks;
  std::vector<std::string> cautions, notes;
  core::Kg mass;                   ///< all sheet parts, quantities counted
};

/// A hole that a cable's gland needs in a wall.
struct CableHole {
  std::size_t side = 0;            ///< edge of the walls' outer faces, counter-clockwise from the first corner of the outline
  double along_mm = 0, z_mm = 0;   ///< its centre: from that edge's start, and above the ground
  double diameter_mm = 0;
  std::string what;                ///< "cable gland, minus of cell 1"
};

/// All sheet parts of one box.
///
/// @param revision  etched on every part beside its mark
/// @param cell      where its posts stand, so that tabs for the lid may reach in over cases beside them; without it no tab stands
///                  over a cell
/// @param cables    holes to cut for glands, as the wiring places them; none are guessed
/// @return for the rule "loose": no parts, construction none
SheetWork make_sheet_work(const box::Box& box, const survey::Rules& rules, const std::string& revision,
                          const survey::Cell* cell = nullptr, const std::vector<CableHole>& cables = {});

}  // namespace cellstow::fabrication
