#pragma once
/// The fewest fixings that hold, with brackets that hold as well.

#include <vector>

#include "fixing_search.hpp"

namespace cellstow::restraint {

struct MountPlace {
  const box::Box& box;
  const survey::Cavity& cavity;
  const survey::Rules& rules;
  const survey::Catalogue& catalogue;
};

struct BracketSet {
  FixingSet fixings;
  std::vector<Bracket> brackets;  ///< in the order of the members
  std::size_t round = 0;          ///< member whose hole is round: the one with the largest shear
};

/// fewest_fixings(), then a bracket to each. When one of the brackets does not hold: more fixings, up to all there are; then, as long as
/// that takes load off the worst part, one fixing more, one less, or one in place of another.
BracketSet fixings_with_brackets(const MountPlace& place, const MountTask& task);

/// Whether every fixing and every bracket of the set holds.
bool brackets_hold(const BracketSet& set);

/// Brackets, their checks, bolts and cautions into the result.
void add_brackets(BracketSet chosen, const MountTask& task, const MountPlace& place, Mounting& mounting);

}  // namespace cellstow::restraint
