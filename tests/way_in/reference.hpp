#pragma once
/// Containment by a general geometry library, for the tests only.

#include <random>
#include <vector>

#include "cellstow/survey/job.hpp"
#include "cellstow/way_in/fit.hpp"

namespace reference {

/// Same on every library: std distributions are not.
double uniform(std::mt19937_64& random, double low, double high);

/// Area of the shadow, shifted, that lies outside the outline, um2.
double area_outside_um2(const cellstow::way_in::Shadow& shadow, cellstow::way_in::Spot shift,
                        const std::vector<cellstow::core::Point2>& outline);

/// A star-shaped outline about the origin with so many corners, mm.
std::vector<cellstow::core::Point2> star(std::mt19937_64& random, int corners, double low_mm, double high_mm);

cellstow::core::Point2 p2(double a_mm, double b_mm);
std::vector<cellstow::core::Point2> rectangle(double a0, double b0, double a1, double b1);

/// An opening across z, passed straight down.
cellstow::survey::WayIn opening_z(std::vector<cellstow::core::Point2> outline, double station_mm = 1000);

}  // namespace reference
