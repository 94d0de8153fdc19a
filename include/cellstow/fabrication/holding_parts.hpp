#pragma once
/// End plates, straps and hold-down bars as parts to cut, drill and fold.

#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/fabrication/sheet_part.hpp"
#include "cellstow/restraint/hold_down.hpp"
#include "cellstow/restraint/strap.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::fabrication {

/// What holds the cells of one box, block by block: a pair of end plates ("TW-E-B1"), the straps over it, the bars over it.
///
/// End plates are of the wall's material, as their strength is worked out for, with a hole for every strap's foot. Straps are bent over the
/// end plates with the inside radius that restraint asks for, their feet in line with those holes; the flat is by DIN 6935, as the cut length is. Bars
/// are straight, their holes over the middles of the end plates. Solids stand in the frame of the box.
///
/// Holes too small to cut through the thickness are drilled: see drilled_later().
///
/// @param revision  etched on every part beside its mark
std::vector<SheetPart> holding_parts(const box::Box& box, const restraint::StrapPlan& straps, const restraint::HoldDownPlan& hold_downs,
                                     const survey::Rules& rules, const std::string& revision);

/// The part as it goes to the cutter: holes narrower than the thickness are left out, their middles etched as crosses to drill by.
SheetPart drilled_later(SheetPart part);

}  // namespace cellstow::fabrication
