#pragma once
/// Brackets, their gussets and doublers as sheet parts.

#include <string>
#include <vector>

#include "cellstow/fabrication/sheet_part.hpp"
#include "cellstow/restraint/mounting.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::fabrication {

/// Every sheet part of the brackets of one box, in the order of its fixings: the folded plate, then a pair of gussets, then
/// the doubler. Foot and leg of the folded plate are the outside lengths that restraint designed.
///
/// @param heading   of the box: solids stand in its frame
/// @param revision  etched on every part beside its mark
std::vector<SheetPart> bracket_parts(const restraint::Mounting& mounting, core::Heading heading, const survey::Rules& rules,
                                     const std::string& revision);

}  // namespace cellstow::fabrication
