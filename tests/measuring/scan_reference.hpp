#pragma once
/// Polygons compared by a general exact library, apart from the code that is tested.

#include <vector>

#include "cellstow/geometry/wall.hpp"

namespace cellstow::measuring::testing {

/// Area of the first region (outline counter-clockwise, holes clockwise) that lies outside the second, um2; exactly 0 when none does.
double area_outside(const geometry::Loop& outline, const std::vector<geometry::Loop>& holes, const geometry::Loop& of_outline,
                    const std::vector<geometry::Loop>& of_holes);

/// Whether outline and holes make a valid region: simple, holes inside and apart, turning as they should.
bool is_valid_region(const geometry::Loop& outline, const std::vector<geometry::Loop>& holes);

}  // namespace cellstow::measuring::testing
