#pragma once
/// Formulas in letters for checks that are made elsewhere in this stage.

#include <string>

namespace cellstow::restraint {

/// Empty for checks of room, count and distance, which carry no load.
std::string formula_of(const std::string& check_name);

/// The load case that ends a check's place: "tank well, fixing T6, 20 g forward" -> "20 g forward".
std::string case_in(const std::string& where);

}  // namespace cellstow::restraint
