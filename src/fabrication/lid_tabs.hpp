#pragma once
/// Angle tabs inside the walls that the lid is screwed into. Internal to fabrication.

#include <vector>

#include "cellstow/fabrication/sheet_work.hpp"
#include "shape.hpp"

namespace cellstow::fabrication {

/// Adds one part, as many pieces as there are places where neither contents nor corner reliefs stand.
/// Over cases a tab may reach in where a strap still passes under it and live metal stays `headroom_mm` away.
/// @return where their screws go, in u, v
std::vector<FlatPoint> add_lid_tabs(const Shape& shape, const packing::BoxLayout& layout, const survey::Cell* cell, SheetWork& work);

}  // namespace cellstow::fabrication
