#pragma once
/// One link of the way a load takes from the cell to the car's own metal.

#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"

namespace cellstow::restraint {

/// A link that can be re-done by hand. `check` holds value, limit (safety factor already in it), use and source.
struct Link {
  std::string part;       ///< "end plate", "strap", "floor", "wall", "bracket", "bolt", "car's own sheet", ...
  std::string load_case;  ///< the worst one; empty when no crash load is in it
  core::Check check;
  std::string formula;    ///< in letters: "sigma = 6 F h / (8 b t^2)"
  std::string numbers;    ///< the letters' values: "F 5297 N, h 207 mm, ..."
  /// How many times the load could grow before the limit is reached.
  double spare() const { return check.value > 0 ? check.limit / check.value : 0; }
};

/// Index of the link with the largest use, counting only limits that may not be passed; -1 without links.
int weakest_link(const std::vector<Link>& links);

}  // namespace cellstow::restraint
