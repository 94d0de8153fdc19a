#pragma once
/// What a laser shop looks at before it cuts.

#include <string>
#include <vector>

#include "cellstow/fabrication/sheet_part.hpp"

namespace cellstow::fabrication {

/// Everything wrong with the cut lines of a part; empty when it can be cut.
///
/// (1) The outline is closed with three corners or more and has no stretch of no length.
/// (2) No path crosses or touches itself.
/// (3) Every hole lies inside the outline, and no two paths come nearer than half the thickness.
/// (4) No hole is narrower than the sheet is thick, and none is there twice.
///
/// Arcs are looked at as chords within 0.01 mm.
/// Source: common practice of laser shops, no single source.
std::vector<std::string> cut_faults(const SheetPart& part);

}  // namespace cellstow::fabrication
