#pragma once
/// Cut files. Internal to report.

#include <string>

#include "cellstow/fabrication/sheet_part.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

/// One flat part, 1:1 in mm, its lowest corner at the origin. No allowance for the width of the cut, no border, nothing
/// twice, no splines.
///
///   CUT        closed polylines with true arcs, and circles
///   ETCH       part mark, revision, arrow, a tick at both ends of each bend: lines and single-line lettering
///   BEND_UP    middle of each bend towards who looks at the flat
///   BEND_DOWN  and of each bend away
///
/// @param what  cut_only leaves out all but CUT
std::string to_dxf(const fabrication::SheetPart& part, survey::CutFiles what);

/// `mark_name_material_thickness_quantity_revision.dxf`, without blanks or characters that file systems refuse.
std::string dxf_name(const fabrication::SheetPart& part);

}  // namespace cellstow::report
