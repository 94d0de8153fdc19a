#pragma once
/// One cavity from packing to mounting. Internal to plan.

#include "cellstow/plan/plan.hpp"

namespace cellstow::plan {

/// Packing of a cavity, with boxes, straps, mounting and gaps for what it holds.
///
/// @param enough  cells the string needs here; empty: as many as fit
/// @param catalogue  empty: packing only
CavityPlan plan_cavity(const survey::Job& job, const survey::Cavity& cavity,
                       const std::string& mark, std::optional<int> enough,
                       const survey::Catalogue* catalogue);

/// Adds straps, mounting and gaps to the boxes of a cavity.
void hold_boxes(const survey::Job& job, const survey::Cavity& cavity,
                const survey::Catalogue& catalogue, CavityPlan& plan);

}  // namespace cellstow::plan
