#pragma once
/// The flat pattern of a sheet part on paper, dimensioned from its lower left corner. Internal to report.

#include <string>
#include <vector>

#include "cellstow/fabrication/flat.hpp"
#include "report/draft.hpp"
#include "report/drawing_sheet.hpp"

namespace cellstow::report {

/// Up to so many holes are dimensioned where they are; more go into a table.
inline constexpr int holes_in_place = 5;

/// Radius of the ring round the datum, mm on paper.
inline constexpr double datum_ring = 1.3;

/// Tables that belong to a flat pattern: holes (where there are many), bends, corners (where they are too many to be
/// dimensioned on the view).
struct FlatTables {
  std::vector<DrawnTable> all;
  bool holes = false, corners = false;
};

/// @param room  on paper; decides whether the corners fit the view
FlatTables flat_tables(const fabrication::FlatPattern& flat, survey::DrawnUnits units, const Patch& room);

/// Draws the pattern with its dimensions into the room.
/// @return n of 1:n
double add_flat(Paper& sheet, const fabrication::FlatPattern& flat, survey::DrawnUnits units, const FlatTables& tables, const Patch& room);

}  // namespace cellstow::report
