#pragma once
/// The fewest fixings that hold a box.

#include <array>
#include <limits>
#include <string>
#include <vector>

#include "mounting_checks.hpp"

namespace cellstow::restraint {

/// A fixing in reach that may carry.
struct Candidate {
  std::size_t index = 0;  ///< place in Cavity::fixings
  std::array<double, 3> at_mm{}, axis{};
  FixingStrength strength;
  std::vector<BracketPlace> places{};  ///< where a bracket to it may stand, shortest levers first
};

/// One load case as a force on the box, N, gravity included.
struct BoxLoad {
  std::string name;
  std::array<double, 3> force_n{};
};

struct MountTask {
  std::vector<Candidate> candidates;  ///< in file order
  std::vector<BoxLoad> loads;
  std::array<double, 3> at_mm{};  ///< the box's centre of gravity, full
  double mass_kg = 0;
};

/// Places in MountTask::candidates, rising, and the largest use of any of them in any load case:
/// infinite when the set cannot hold the box at all.
struct FixingSet {
  std::vector<std::size_t> members;
  double use = std::numeric_limits<double>::infinity();
};

/// Forces on the members of a set under one load; empty when they cannot hold it.
std::vector<BoltForce> set_forces(const MountTask& task, const std::vector<std::size_t>& members,
                                  const BoxLoad& load);

/// Largest use over all members and loads. Stops early, with some value above `stop_above`, once
/// that is passed.
double set_use(const MountTask& task, const std::vector<std::size_t>& members,
               double stop_above = std::numeric_limits<double>::infinity());

/// Two bolts always stand in one line, and cannot hold a moment about it.
constexpr std::size_t least_fixings = 3;

/// The fewest candidates that hold in every load case; among equally few the set with the smallest
/// use, then the first in file order. When none holds: the set with the smallest use.
/// Every subset is tried up to 12 candidates; beyond that, fixings are taken away one by one, the
/// least missed first.
/// @param least  sets smaller than this are not looked at
FixingSet fewest_fixings(const MountTask& task, std::size_t least = least_fixings);

}  // namespace cellstow::restraint
