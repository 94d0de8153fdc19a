#pragma once
/// Readings that do not fit the others: slipped, or swapped when they were written down.

#include <vector>

#include "cellstow/measuring/fit.hpp"

namespace cellstow::measuring {

enum class DoubtKind { slipped, swapped };

/// One way in which readings may be wrong.
struct Explanation {
  DoubtKind kind = DoubtKind::slipped;
  std::size_t reading = 0, other = 0;  ///< `other`: the one it was swapped with
  double off_mm = 0;                   ///< slipped: positive reads long, worked out without the reading
  std::vector<Place> points;           ///< where all points lie if it is so
};

/// Readings that contradict each other, with everything that would explain it, most likely first. More than one
/// explanation: the readings there are cannot tell which.
struct Doubt {
  std::vector<Explanation> explanations;
};

/// A reading is doubted when its test is above this: by chance once in 1000.
/// Source: Baarda (1968) (from memory): alpha 0.001, two-sided
inline constexpr double doubt_limit = 3.29;

/// A slip of this many standard deviations over the root of the share is doubted 8 times in 10.
/// Source: Baarda (1968) (from memory): non-centrality 4.13 for alpha 0.001, power 0.8
inline constexpr double slip_found = 4.13;

/// Smallest slip of a reading that shows 8 times in 10, mm; infinite where nothing checks the reading.
double least_slip_mm(const Reading& reading, double share);

/// Data snooping, one doubt after the other, the worst first, each with the earlier ones set right for the search only.
///
/// Two readings of one point, or from one place to two points, that fit when exchanged are told as swapped. Else the
/// reading without which the least misfit is left, and beside it those that leave at most 4 more: the likelihood of the
/// one is then less than e^2 times that of the other.
///
/// @param fit  of all readings; stays as it is
std::vector<Doubt> doubts(const Network& network, const Fit& fit);

}  // namespace cellstow::measuring
