#pragma once
/// What one straight edge sweeps in plan on its way from one place to another. Internal to region.

#include <vector>

#include "cellstow/geometry/wall.hpp"

namespace cellstow::region {

using core::Um;

/// An edge before and after its way; its ends go straight.
struct SweptEdge { geometry::PointUm start_before, end_before, start_after, end_after; };

/// One loop, or two that overlap, around everything the edge passes over: by no more than `most_lost_um`, apart from
/// corners rounded to the grid.
std::vector<geometry::Loop> swept_loops(const SweptEdge& edge, double most_lost_um);

}  // namespace cellstow::region
