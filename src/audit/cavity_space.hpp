#pragma once
/// The cavity as measured, and what of it stands in the way of a body of a given height span.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "clearance.hpp"
#include "plan_file.hpp"

namespace cellstow::audit {

/// A body seen from above with the heights it spans.
struct Upright { Ring plan; Span height; };

/// The sections of one cavity. Walls between two stations:
///   common    material of either neighbouring section is material all the way between them
///   straight  corners move in straight lines from station to station; looked at on both ends and
///             on nine levels in between. Holes that do not match are read as common.
class CavitySpace {
 public:
  explicit CavitySpace(const CavityJob& job);
  ~CavitySpace();
  CavitySpace(const CavitySpace&) = delete;
  CavitySpace& operator=(const CavitySpace&) = delete;

  /// The worst conflict with walls of a plan figure whose columns span `height`: every plan point
  /// nearer to it than `clearance` must have its whole open column inside the cavity.
  std::optional<Conflict> worst_wall(const Ring& figure, Span height, Tick clearance);

  /// Lowest and highest station of sections across z, outside which nothing is free.
  std::optional<Span> measured_height() const;

 private:
  struct Walls;
  std::unique_ptr<Walls> walls_;
};

/// A conflict with one keep-out. `vertical_short_mm` is how far it would have to move up or down.
struct KeepOutConflict { Conflict plan; double vertical_short_mm = 0; };

/// What of the keep-out lies within the open span from `clearance` below the body to `clearance`
/// above it must stay `clearance` away in the plan. Slanted cylinders are taken as a slightly
/// smaller body of 256 flats inside them, so that what is found is true.
std::optional<KeepOutConflict> keep_out_conflict(const Upright& body, const KeepOut& keep_out,
                                                 Tick clearance);

/// True for a cylinder that is neither upright nor level.
bool is_slanted(const KeepOut& keep_out);

}  // namespace cellstow::audit
