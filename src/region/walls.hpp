#pragma once
/// From measured sections and keep-outs to walls in plan. Internal to region.

#include <optional>
#include <utility>
#include <vector>

#include "cellstow/geometry/wall.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::region {

using core::Um;
using geometry::PointUm;
using geometry::Wall;

/// Open range of heights that a box and its clearances take up.
struct Column {
  Um low = 0, high = 0;
};

/// Walls (source 0) that block every plan point whose column is not wholly inside the cavity.
std::vector<Wall> section_walls(const survey::Sections& sections, survey::Between reading,
                                Column column, Um reach);

/// The section's outline and holes, in the coordinates of its plane.
std::vector<geometry::Loop> to_loops(const survey::Section& section);

/// The keep-out's shadow in plan, of its part inside the column; nothing when it lies clear of it.
/// Slanted cylinders are circumscribed, never inscribed.
std::optional<Wall> keep_out_wall(const survey::KeepOut& keep_out, Column column, Um reach,
                                  int source);

/// Lowest and highest z of a keep-out.
std::pair<Um, Um> keep_out_heights(const survey::KeepOut& keep_out);

}  // namespace cellstow::region
