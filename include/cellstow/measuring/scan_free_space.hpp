#pragma once
/// The free space round a point of a section plane, out of the pieces of wall that a scan shows there.

#include <cstddef>
#include <span>
#include <tl/expected.hpp>
#include <vector>

#include "cellstow/measuring/scan_slice.hpp"

namespace cellstow::measuring::scan {

struct FreeRules {
  Um close_um = 0;   ///< open ends of the scanned wall no farther apart are joined by a straight line
  Um dirt_um = 0;    ///< loose pieces smaller than this, both ways, are dirt and left out
};

/// A straight line put where the scan shows nothing.
struct Bridge {
  PointUm from, to;
  auto operator<=>(const Bridge&) const = default;
};

/// A rectangle round a thing in the section plane.
struct Extent {
  PointUm low, high;
  auto operator<=>(const Extent&) const = default;
};

/// All of the plane that can be reached from the inside point without crossing a scanned piece or a bridge.
///
/// Invariant: the outline is simple and counter-clockwise, holes are simple and clockwise and lie inside it; each begins
/// at its lowest corner, holes in the order of their first corners. Where pieces cross between whole micrometres the
/// corner is moved to one on the tight side.
struct FreeSpace {
  Loop outline;
  std::vector<Loop> holes;
  std::vector<Bridge> bridges;                 ///< those that bound it, longest first
  std::vector<Extent> loose;                   ///< scanned edges that end in the open: the convex region round each is not free
  std::vector<Extent> dirt;                    ///< dropped inside the outline, largest first
};

enum class FreeTrouble {
  no_wall,       ///< the scan shows nothing at this station
  on_the_wall,   ///< the inside point lies on a scanned piece, or in the region round a loose one
  outside,       ///< no wall round the inside point, however far the ends are joined
  open,          ///< the wall has a gap wider than may be closed
  torn,          ///< more open ends than a scan of a wall has
  tangled,       ///< pieces so close to one another that whole micrometres do not tell them apart
};

struct FreeFault {
  FreeTrouble trouble{};
  Bridge gap;                                  ///< of open: the gap to be closed, the widest of those needed
  std::size_t count = 0;                       ///< of torn: open ends
};

/// Most open ends of one section.
inline constexpr std::size_t most_open_ends = 5000;

/// @param pieces  as slice() gives them, in any order
/// @param inside  a point known to be free
/// Determinism: the same set of pieces gives the same free space, in whatever order they come.
/// Cost: O(n log n) exact operations for n pieces, and O(n e) plain ones for e open ends
tl::expected<FreeSpace, FreeFault> free_space(std::span<const WallPiece> pieces, PointUm inside, const FreeRules& rules);

/// Whether no piece has a point in the open region between outline and holes. Exact.
///
/// @param outline, holes  simple loops
bool is_clear(const Loop& outline, std::span<const Loop> holes, std::span<const WallPiece> pieces);

}  // namespace cellstow::measuring::scan
