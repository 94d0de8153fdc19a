#pragma once
/// How sure it is that the cut box goes in, given how far off the measured points may be.

#include <optional>
#include <string>

#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::limits {

using core::Length;

/// A share that was counted, with the give-or-take of the counting.
struct Counted {
  double share = 0, low = 0, high = 1;
};

/// `hits` of `samples`, with the 95 % interval of Wilson's score:
///
///   (p + z2/2n +- z sqrt(p (1 - p)/n + z2/4n2)) / (1 + z2/n),  z = 1.959964, z2 its square
///
/// Source: Wilson, J. Am. Stat. Assoc. 22 (1927) 209-212; NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1.
/// @pre samples > 0
Counted counted_share(int hits, int samples);

struct Fit {
  Length give_or_take;     ///< of every measured point; nothing: it was not given, and nothing more is said
  /// Farthest that every measured point may be off, all in the worst way at once, before anything can touch the box; at most
  /// 50 mm; 0.1 mm down.
  Length nothing_touches_up_to;
  bool certain = false;    ///< give_or_take is no more than that: nothing was left to chance
  int samples = 0;         ///< 0 when certain
  Counted chance;          ///< that the box touches nothing
  std::string touched_most;        ///< "cavity wall, rear side of the box"; empty when nothing touched
  int touches = 0;         ///< samples in which that was touched
  std::optional<Length> shrink;    ///< least, in 0.5 mm steps, that each side of the box must come in for 99 in 100; empty: none up to 15 mm does
  std::optional<int> cells_at_shrink;  ///< cells that were found when every box of the cavity comes in that far; empty: not asked
};

struct FitOptions {
  std::uint32_t seed = 0;
  int samples = 2'000;
};

/// Model: every measured corner of every section is off by a vector spread evenly over a disc of the give-or-take in the section's plane, every
/// keep-out as a whole by one spread evenly over a ball of it, all independent. A corner on an edge shorter than four
/// times that is off by no more than a quarter of the edge. Stations are exact. The box is cut true and stands where it is planned. It fits when
/// its outside, without any clearance, touches nothing: clearance is there for this. Same draws on every run, and for every shrink.
///
/// @pre the box has an outline
Fit chance_of_fit(const survey::Cavity& cavity, const packing::BoxLayout& box, const FitOptions& options = {});

}  // namespace cellstow::limits
