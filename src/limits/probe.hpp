#pragma once
/// Packing asked again with one thing changed. Internal to limits.

#include <optional>
#include <vector>

#include "cellstow/core/side_by_side.hpp"
#include "cellstow/limits/limits.hpp"

namespace cellstow::limits {

struct Answer {
  int more = 0;            ///< cells more than as things are; 0: none found
  bool ruled_out = false;  ///< none, and rows cannot hold more (at the floor height asked about)
  std::optional<Length> found_at;  ///< underside of the boxes found
  long long steps = 0;
  int probes = 0;
};

/// What is asked about one cavity. Values only: may be used from several threads at once.
struct Prober {
  Situation as_is;         ///< rules in rows: what the probes look at
  survey::Cell cell;
  int cells = 0;           ///< most cells as things are
  std::size_t unplaced = 0;  ///< fittings without place as things are
  long long probe_budget = 0;
  const std::atomic<bool>* stop = nullptr;

  /// The most cells more in a changed situation: at one floor height, or (empty) at all.
  Answer most(const Situation& changed, const std::optional<Length>& floor) const;
  /// Does the changed situation hold at least `more` cells more?
  Answer holds(const Situation& changed, int more, const std::optional<Length>& floor) const;
};

/// Underside of the boxes of a packing; empty when there are none. Boxes of one packing stand at one height.
std::optional<Length> floor_of(const packing::CavityPacking& packing);

/// Least amount, to 0.1 mm, at which the change gives `more` cells to boxes at the floor height where it was found (which rises with less of the change when it `follows`). Sought between two amounts
/// of which the first does not and the second does; `hints` (um) are tried first. Adds its work to `work`.
Length least_amount(const Prober& prober, const Change& change, int more, Length fails, Length does,
                    Length floor, bool follows, const std::vector<core::Um>& hints, Answer& work);

}  // namespace cellstow::limits
