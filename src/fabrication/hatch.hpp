#pragma once
/// The hatch in the lid through which the main fuse is reached. Internal to fabrication.

#include <optional>
#include <vector>

#include "cellstow/fabrication/sheet_work.hpp"
#include "shape.hpp"

namespace cellstow::fabrication {

/// Sizes; all common practice, no source.
namespace hatch {
inline constexpr double rim_mm = 18;          ///< the cover reaches over the opening's edge by this
inline constexpr double stud_in_mm = 9;       ///< studs stand half way on it
inline constexpr double stud_hole_mm = 5;     ///< press stud M5, flush below
inline constexpr double screw_clear_mm = 12;  ///< from the cover's edge to the middle of a lid screw
inline constexpr double thin_nut_mm = 2.7;    ///< M5 thin nut, ISO 4035, from memory
inline constexpr double thread_over_mm = 1;
}  // namespace hatch

/// Over the main fuse, as large as it is from above.
struct Hatch {
  FlatPoint low, high;           ///< the opening, u and v
  std::vector<FlatPoint> studs;
};

/// The hatch the rules ask for, with its checks and bought pieces; nothing when they ask for none, there is no fuse, or no room:
/// a check says so.
///
/// @param screws  of the lid, in u, v
std::optional<Hatch> find_hatch(const Shape& shape, const packing::BoxLayout& layout, const std::vector<FlatPoint>& screws, SheetWork& work);

/// What it takes out of the lid, in u, v less `from`.
std::vector<FlatHole> lid_holes(const Hatch& hatch, FlatPoint from);

/// Its cover, lying on its gasket on the lid.
SheetPart hatch_cover(const Shape& shape, const Hatch& hatch);

}  // namespace cellstow::fabrication
