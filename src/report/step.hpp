#pragma once
/// An assembly as a STEP file, ISO 10303-21 with the schema of AP214. Internal to report.

#include <string>

#include "report/assembly.hpp"

namespace cellstow::report {

/// Each part one solid with its name and colour, in millimetres, in the frame of the car: x rearward from the front-axle centreline, y to
/// the right, z up from the ground. Cells of one size share one shape.
///
/// The time stamp in the file is fixed, so that the same input gives the same bytes.
/// @throws std::runtime_error when a solid cannot be built or written: a fault of the program
std::string to_step(const Assembly& assembly);

}  // namespace cellstow::report
