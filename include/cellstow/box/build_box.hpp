#pragma once
/// From a packed layout to a box with sizes and masses.

#include "cellstow/box/box.hpp"

namespace cellstow::box {

/// Part-mark prefix of a box: initials of the cavity's name, made unique within the job
/// by position in the job file ("tank well" -> "TW"), and a number from the second box on.
/// Depends only on the names and their order before it, so adding a cavity at the end changes no mark.
std::vector<std::string> cavity_marks(const std::vector<survey::Cavity>& cavities);

/// Sizes, heights, masses and cautions of one box.
///
/// @param  layout   legal layout (docs/legal-layout.md)
/// @param  cavity   the cavity it stands in
/// @param  mark     prefix for every part mark of this box
/// @param  number   1 for the first box of the cavity
/// @return for the rule "loose": no sheet mass, sizes of the contents
Box build_box(const packing::BoxLayout& layout, const survey::Cavity& cavity,
              const survey::Cell& cell, const survey::Rules& rules, const std::string& mark,
              int number);

/// The sheet's mass as its parts are cut and folded in place of plain plates; empty and full mass and the cautions on lifting follow. The centre of
/// gravity stays: flanges, tabs and holes lie all round and weigh little beside the cells.
void take_sheet_mass(Box& box, Kg sheet, const survey::Rules& rules);

}  // namespace cellstow::box
