#pragma once
/// Which length is most worth measuring next.

#include <optional>

#include "cellstow/measuring/fit.hpp"

namespace cellstow::measuring {

struct NextReading {
  std::size_t from = 0, to = 0;      ///< places
  double expected_mm = 0;            ///< what the tape should show
  std::size_t point = 0;             ///< the point it is for, its number among the points
  bool makes_checked = false;        ///< a slip in a reading of that point would show then, and does not now
  double least_slip_mm = 0;          ///< makes_checked: the largest that may still pass 2 times in 10
  double before_mm = 0, after_mm = 0;  ///< longer half axis of that point's ellipse
};

/// While a point has readings that nothing checks: the length that leaves the fewest such points, then the one after
/// which slips show soonest. Else the length that shortens the longest ellipse most, if by a tenth or more.
///
/// Covariance with one more reading: inv(N) - (inv(N) a' a inv(N)) / (s^2 + a inv(N) a')
/// Source: Sherman, Morrison, Annals of Mathematical Statistics 21 (1950) 124
///
/// @param give_or_take_mm  of the reading to come
std::optional<NextReading> next_reading(const Network& network, const Fit& fit, double give_or_take_mm);

}  // namespace cellstow::measuring
