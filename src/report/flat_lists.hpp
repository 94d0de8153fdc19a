#pragma once
/// Holes, bends and corners of a flat pattern in words: sizes, marks, tables. Internal to report.

#include <string>
#include <utility>
#include <vector>

#include "cellstow/fabrication/flat.hpp"
#include "report/draft.hpp"

namespace cellstow::report {

/// "Ø5.5", "slot 6.6 × 12 at 90°"; "opening" for other shapes, which are dimensioned corner by corner.
std::string hole_size(const fabrication::FlatHole& hole, survey::DrawnUnits units);

/// A mark for every hole, in the order of the holes: a letter for each kind and size (never B: bend lines), then a number.
std::vector<std::string> hole_marks(const std::vector<fabrication::FlatHole>& holes);

bool is_level(const fabrication::BendLine& bend);
bool is_upright(const fabrication::BendLine& bend);

/// All outlines whose corners are numbered: the part's, then those of openings.
std::vector<fabrication::Path> cornered(const fabrication::FlatPattern& flat);

DrawnTable hole_table(const std::vector<fabrication::FlatHole>& holes, survey::DrawnUnits units);
/// Slanting bends with their ends; the others are dimensioned on the view.
DrawnTable bend_table(const std::vector<fabrication::BendLine>& bends, survey::DrawnUnits units);
DrawnTable corner_table(const fabrication::FlatPattern& flat, survey::DrawnUnits units);

/// Arcs of an outline, alike ones together, with the middle of one of them: "4 × R3".
std::vector<std::pair<std::string, fabrication::FlatPoint>> radius_notes(const fabrication::Path& outline, survey::DrawnUnits units);

}  // namespace cellstow::report
