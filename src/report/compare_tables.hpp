#pragma once
/// What differs as rows of text, the same in the terminal, on the page and in the comma-separated files. Internal to report.

#include <string>
#include <vector>

#include "cellstow/report/compare.hpp"
#include "report/tables.hpp"

namespace cellstow::report {

Table hole_differences(const Comparison& comparison);
Table wall_differences(const Comparison& comparison);
Table value_differences(const Comparison& comparison);
Table shared_hole_rows(const Comparison& comparison);
Table box_differences(const Comparison& comparison);   ///< totals, then box by box; none without two plans
Table part_differences(const Comparison& comparison);

Table facing_holes(const differences::LeftRight& sides);
Table facing_walls(const differences::LeftRight& sides);
/// Columns of the two that hold numbers.
inline const std::vector<std::size_t> facing_hole_numbers = {3, 4, 5, 6};
inline const std::vector<std::size_t> facing_wall_numbers = {2};

/// "The largest is ...": one sentence on each kind of difference; empty when there is none.
std::string holes_lead(const Comparison& comparison);
std::string walls_lead(const Comparison& comparison);
std::string shared_lead(const differences::SharedHoles& shared);
std::string sides_lead(const differences::LeftRight& sides);

/// "slot 9 x 14 along y", "round hole 9".
std::string hole_text(const differences::SharedHole& hole);

}  // namespace cellstow::report
