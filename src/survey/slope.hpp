#pragma once
/// Sections measured by level and plumb line on a car that did not stand level.

#include <optional>

#include "cellstow/measuring/slope.hpp"
#include "cellstow/survey/job.hpp"
#include "fields.hpp"

namespace cellstow::survey {

std::optional<measuring::Slope> read_slope(const Node& node);

/// The section's corners in the car's own axes, its station where the middle of its outline lies; a remark says so.
///
/// @param node  of the section
/// @error E227 when its corners then lie too far before or behind that station
void turn_back(Section& section, Axis across, const measuring::Slope& slope, const Node& node);

}  // namespace cellstow::survey
