#include "fixing_search.hpp"

#include <algorithm>
#include <numeric>

namespace cellstow::restraint {
namespace {

constexpr std::size_t every_subset_up_to = 12;

/// Moves on to the next subset of the same size in lexicographic order; false after the last.
bool next_subset(std::vector<std::size_t>& members, std::size_t count) {
  const std::size_t size = members.size();
  for (std::size_t i = size; i-- > 0;) {
    if (members[i] + (size - i) >= count) continue;
    ++members[i];
    std::iota(members.begin() + static_cast<std::ptrdiff_t>(i) + 1, members.end(), members[i] + 1);
    return true;
  }
  return false;
}

FixingSet best_of_size(const MountTask& task, std::size_t size) {
  FixingSet best;
  std::vector<std::size_t> members(size);
  std::iota(members.begin(), members.end(), std::size_t{0});
  do {
    const double use = set_use(task, members, best.use);
    if (use < best.use) best = {members, use};
  } while (next_subset(members, task.candidates.size()));
  return best;
}

FixingSet try_every_subset(const MountTask& task, std::size_t least) {
  FixingSet best;
  for (std::size_t size = least; size <= task.candidates.size(); ++size) {
    FixingSet of_size = best_of_size(task, size);
    if (of_size.use < best.use) best = std::move(of_size);
    if (best.use <= 1) break;
  }
  return best;
}

FixingSet least_missed_away(const MountTask& task, const FixingSet& from) {
  FixingSet best;
  for (std::size_t away = 0; away < from.members.size(); ++away) {
    std::vector<std::size_t> rest = from.members;
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(away));
    const double use = set_use(task, rest, best.use);
    if (use < best.use) best = {std::move(rest), use};
  }
  return best;
}

FixingSet take_away_one_by_one(const MountTask& task, std::size_t least) {
  FixingSet set;
  set.members.resize(task.candidates.size());
  std::iota(set.members.begin(), set.members.end(), std::size_t{0});
  set.use = set_use(task, set.members);
  while (set.members.size() > least) {
    FixingSet fewer = least_missed_away(task, set);
    const bool as_good = set.use <= 1 ? fewer.use <= 1 : fewer.use < set.use;
    if (!as_good) break;
    set = std::move(fewer);
  }
  return set;
}

}  // namespace

std::vector<BoltForce> set_forces(const MountTask& task, const std::vector<std::size_t>& members,
                                  const BoxLoad& load) {
  std::vector<std::array<double, 3>> bolts, axes;
  for (const std::size_t member : members) {
    bolts.push_back(task.candidates[member].at_mm);
    axes.push_back(task.candidates[member].axis);
  }
  return bolt_group(bolts, axes, load.force_n, task.at_mm);
}

double set_use(const MountTask& task, const std::vector<std::size_t>& members, double stop_above) {
  double worst = 0;
  for (const BoxLoad& load : task.loads) {
    const std::vector<BoltForce> forces = set_forces(task, members, load);
    if (forces.empty()) return std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < members.size(); ++i)
      worst = std::max(worst, fixing_use(task.candidates[members[i]].strength, forces[i].shear_n,
                                         forces[i].tension_n));
    if (worst > stop_above) return worst;
  }
  return worst;
}

FixingSet fewest_fixings(const MountTask& task, std::size_t least) {
  least = std::max(least, least_fixings);
  if (task.candidates.size() < least) return {};
  return task.candidates.size() <= every_subset_up_to ? try_every_subset(task, least)
                                                      : take_away_one_by_one(task, least);
}

}  // namespace cellstow::restraint
