#pragma once
/// A linear programme in three unknowns. Internal to way_in.

#include <vector>

#include "cellstow/way_in/fit.hpp"

namespace cellstow::way_in {

struct Margin { double margin_um = 0; Spot shift; };

/// The shift with the largest margin under all bounds.
///
///   maximise m  subject to  normal_i * t + m |normal_i| <= limit_i
///
/// An optimum is set by three bounds at a time whose normals hold each other in balance. From three such, the worst broken
/// bound replaces one of them until none is broken; the margin falls with every step.
/// @pre the normals of the bounds span the plane positively (the sides of a closed figure do)
Margin highest_margin(const std::vector<Bound>& bounds);

}  // namespace cellstow::way_in
