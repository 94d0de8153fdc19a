#pragma once
/// A folded part as faces hung on each other by bends: flat pattern and solid come from the same faces, so they cannot
/// part company. Internal to fabrication.

#include <cstddef>
#include <string>
#include <vector>

#include "cellstow/fabrication/bend.hpp"
#include "cellstow/fabrication/sheet_part.hpp"

namespace cellstow::fabrication {

struct Fold;

/// A flat face in axes of its own, seen from the drawn face. Outline counter-clockwise. Of a face that is folded onto
/// another, the first edge, from (0, 0) along +a, is where its bend ends.
struct Face {
  Path outline;
  std::vector<FlatHole> holes;
  std::vector<Fold> folds;
};

/// A face hung on one straight edge of another: from outline[edge] to outline[edge + 1], as long as the child's first
/// edge. Seen from the parent, the child's a runs back along that edge and its b away from it.
struct Fold {
  std::size_t edge = 0;
  double angle_deg = 90;
  bool up = true;        ///< towards who looks at the drawn face of the parent
  std::string what;
  Face face;
};

/// Adds outline, holes and bends of the flat and the folded solid to the part; the flat's lowest corner comes to (0, 0).
///
/// @param at  where the root face lies: its drawn face at 0, metal below
void fold_up(const Face& root, const Placement& at, const BendRule& bend, SheetPart& part);

/// Rectangle from (0, 0).
Path rectangle(double width, double height);

}  // namespace cellstow::fabrication
