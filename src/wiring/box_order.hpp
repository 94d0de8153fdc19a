#pragma once
/// Which box follows which, and where the ends of each would best lie. Internal to wiring.

#include "order_search.hpp"

namespace cellstow::wiring {

/// Order of the boxes: the one with the main fuse at the positive end; then least cable between them, centre to centre, straight.
/// Up to seven boxes all orders are tried; more stay as given.
std::vector<int> order_boxes(const std::vector<BoxOfCells>& boxes);

/// The boxes in that order. Ends lie near the fuse of the box (its positive end), else near the neighbour.
std::vector<BoxTask> tasks_of(const survey::Cell& cell, const survey::Rules& rules, const std::vector<BoxOfCells>& boxes, const std::vector<int>& order);

/// A fitting with "fuse" in its name; null without one.
const packing::PlacedFitting* fuse_of(const packing::BoxLayout& layout);

}  // namespace cellstow::wiring
