#pragma once
/// The free space of a measured cavity by general-purpose polygon overlays (Boost.Geometry, in mm):
/// a second reading of the rules that shares nothing with walls, strips and spans.

#include "cellstow/region/free_plan.hpp"

namespace cellstow::test {

using core::Um;

/// A box-shaped body: a rectangle in plan and the heights it spans.
struct Body { Um x_low, x_high, y_low, y_high, bottom, top; };

/// By how many mm, in plan, the body keeps more than its clearance from all that blocks it; negative when it
/// keeps less. The straight reading is sampled in height or along the stations, more closely where it is tight.
double spare_mm(const survey::Cavity& cavity, const region::Clearances& clearances,
                region::Reading reading, const Body& body);

/// As spare_mm() for one keep-out alone, its surface thickened by `thicker_mm` all round.
double spare_to_keep_out_mm(const survey::KeepOut& keep_out, const region::Clearances& clearances,
                            const Body& body, double thicker_mm);

}  // namespace cellstow::test
