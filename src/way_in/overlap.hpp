#pragma once
/// How deep a body's plan and a wall lie in one another, or how far apart they are. Internal to way_in.

#include "cellstow/region/free_plan.hpp"

namespace cellstow::way_in {

/// Does a convex plan share area with what the wall keeps others from? Exact.
bool meets(const geometry::Loop& plan, const geometry::Wall& wall);

/// Least distance between the plan's boundary and the wall's, um; the wall's reach taken off.
double gap_um(const geometry::Loop& plan, const geometry::Wall& wall);

/// How deep a plan that does not keep clear of a wall lies in it, or it in the plan: the deepest of all corners and of the
/// middles of all crossing edges. Never more than the two would have to part; at least 0.
double depth_um(const geometry::Loop& plan, const geometry::Wall& wall);

}  // namespace cellstow::way_in
