#pragma once
/// Which candidates nothing beats, and what beats the others.

#include <vector>

#include "cellstow/choosing/choose.hpp"

namespace cellstow::choosing {

/// Marks every candidate. Only those with the most cells of their format and stances (`fullest`) can be best: leaving cells out is always
/// possible, and would make every count the best of its energy.
///
/// One beats another when it is no worse in anything compared and better in something: limits gone past, energy, mass of the boxes, boxes,
/// front share outside the target, height of the centre of gravity, cost (where every candidate has one). Figures are compared as they are
/// printed: energy to 0.1 kWh, mass to 1 kg, share to 0.1 point, height to 20 mm, cost to 1; so that nothing is best by a hair.
/// `beaten_by` names, of the best ones that beat it, that with most energy, then least mass, then the first.
///
/// Cost: O(n^2).
void mark_best(std::vector<Candidate>& candidates);

/// What the first has over the second: "0.5 kWh more, 14 kg lighter, 1 box fewer".
std::string what_it_has_over(const Candidate& better, const Candidate& worse, bool with_cost);

}  // namespace cellstow::choosing
