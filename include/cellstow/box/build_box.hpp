#pragma once
/// From a packed layout to a box that can be cut.

#include "cellstow/box/box.hpp"

namespace cellstow::box {

/// Part-mark prefix of a box: initials of the cavity's name, made unique within the job
/// by position in the job file ("tank well" -> "TW"), and a number from the second box on.
/// Depends only on the names and their order before it, so adding a cavity at the end changes no mark.
std::vector<std::string> cavity_marks(const std::vector<survey::Cavity>& cavities);

/// Sizes, heights, flat panels, masses and cautions of one box.
///
/// @param  layout   legal layout (docs/legal-layout.md)
/// @param  cavity   the cavity it stands in
/// @param  mark     prefix for every part mark of this box
/// @param  number   1 for the first box of the cavity
/// @return for the rule "loose": no panels, no sheet mass, sizes of the contents
Box build_box(const packing::BoxLayout& layout, const survey::Cavity& cavity,
              const survey::Cell& cell, const survey::Rules& rules, const std::string& mark,
              int number);

}  // namespace cellstow::box
