#pragma once
/// What a wall blocks, by CGAL's exact kernel: one rectangle at a time, no strips, no spans.

#include <vector>

#include "cellstow/geometry/wall.hpp"

namespace cellstow::test {

struct Block { core::Um s_low, s_high, t_low, t_high; };

/// Is the segment p-q nearer than `reach` to the open block, in exact arithmetic?
bool nearer_than(geometry::PointUm p, geometry::PointUm q, const Block& block, core::Um reach);

/// Does the open block meet the material's interior, or come nearer than `reach` to it?
bool meets_material(const std::vector<geometry::Loop>& loops, geometry::Side material,
                    core::Um reach, const Block& block);

/// Is segment a-b nearer than `reach` to segment c-d, in exact arithmetic?
bool nearer_than(geometry::PointUm a, geometry::PointUm b, geometry::PointUm c, geometry::PointUm d,
                 core::Um reach);
/// Distance of two segments; only the final square root rounds.
double distance_um(geometry::PointUm a, geometry::PointUm b, geometry::PointUm c,
                   geometry::PointUm d);
int turn_sign(geometry::PointUm a, geometry::PointUm b, geometry::PointUm c);
double doubled_area(const geometry::Loop& loop);
bool in_loop(const geometry::Loop& loop, geometry::PointUm point);
bool on_loop(const geometry::Loop& loop, geometry::PointUm point);

}  // namespace cellstow::test
