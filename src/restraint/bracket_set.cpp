#include "bracket_set.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "words.hpp"

namespace cellstow::restraint {
namespace {

double worst_use(const Bracket& bracket) {
  double worst = 0;
  for (const Link& link : bracket.links) worst = std::max(worst, link.check.use);
  return worst;
}

double worst_use(const BracketSet& set) {
  double worst = set.fixings.members.empty() ? 1e300 : set.fixings.use;
  for (const Bracket& bracket : set.brackets) worst = std::max(worst, worst_use(bracket));
  return worst;
}

std::vector<BracketLoad> loads_on(const MountTask& task, const FixingSet& set, std::size_t place) {
  std::vector<BracketLoad> out;
  for (const BoxLoad& load : task.loads) out.push_back({load.name, set_forces(task, set.members, load)[place].force_n});
  return out;
}

double largest_shear(const MountTask& task, const FixingSet& set, std::size_t place) {
  double worst = 0;
  for (const BoxLoad& load : task.loads) worst = std::max(worst, set_forces(task, set.members, load)[place].shear_n);
  return worst;
}

/// The slot runs the way of the round hole: off the wall, or along the fold, whichever is more.
bool slot_runs_out(const MountPlace& at, const Candidate& candidate, const BracketPlace& place, const Candidate& round) {
  const double dx = candidate.at_mm[0] - round.at_mm[0], dy = candidate.at_mm[1] - round.at_mm[1], dz = candidate.at_mm[2] - round.at_mm[2];
  const core::InPlan plan = core::to_box(at.box.layout.heading, core::InPlan{dx, dy});
  const double out = std::abs(plan.a * place.out[0] + plan.b * place.out[1]);
  const double fold = place.level_fold ? std::abs(plan.a * place.along[0] + plan.b * place.along[1]) : std::abs(dz);
  return out > fold;
}

Bracket bracket_for(const MountPlace& at, const MountTask& task, const FixingSet& set, std::size_t member, std::size_t round) {
  const Candidate& candidate = task.candidates[set.members[member]];
  const survey::Fixing& fixing = at.cavity.fixings[candidate.index];
  const std::vector<BracketLoad> loads = loads_on(task, set, member);
  std::optional<Bracket> best;
  for (const BracketPlace& place : candidate.places) {
    const bool out = slot_runs_out(at, candidate, place, task.candidates[set.members[round]]);
    Bracket one = design_bracket(at.box, at.cavity, at.rules, fixing, at.catalogue.threads.at(fixing.thread), place, loads, member == round, out);
    const bool better = !best || (worst_use(*best) > 1 && worst_use(one) < worst_use(*best));
    if (better) best = std::move(one);
    if (worst_use(*best) <= 1) break;
  }
  return *best;
}

BracketSet with_brackets(const MountPlace& at, const MountTask& task, FixingSet fixings) {
  BracketSet out;
  out.fixings = std::move(fixings);
  for (std::size_t i = 1; i < out.fixings.members.size(); ++i)
    if (largest_shear(task, out.fixings, i) > largest_shear(task, out.fixings, out.round) + 1e-6) out.round = i;
  for (std::size_t i = 0; i < out.fixings.members.size(); ++i) out.brackets.push_back(bracket_for(at, task, out.fixings, i, out.round));
  return out;
}

/// The sets one step away: one member more, one less, or one in place of another.
std::vector<std::vector<std::size_t>> neighbours(const std::vector<std::size_t>& members, std::size_t candidates) {
  std::vector<std::size_t> others;
  for (std::size_t i = 0; i < candidates; ++i)
    if (std::find(members.begin(), members.end(), i) == members.end()) others.push_back(i);
  std::vector<std::vector<std::size_t>> out;
  for (const std::size_t other : others) {
    out.push_back(members);
    out.back().push_back(other);
  }
  for (std::size_t away = 0; away < members.size(); ++away) {
    std::vector<std::size_t> rest = members;
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(away));
    if (rest.size() >= least_fixings) out.push_back(rest);
    for (const std::size_t other : others) {
      out.push_back(rest);
      out.back().push_back(other);
    }
  }
  for (std::vector<std::size_t>& set : out) std::sort(set.begin(), set.end());
  return out;
}

/// The best of the sets one step away, if it is less overloaded than `from`.
std::optional<BracketSet> better_neighbour(const MountPlace& at, const MountTask& task, const BracketSet& from) {
  std::optional<BracketSet> best;
  double least = worst_use(from);
  for (std::vector<std::size_t>& members : neighbours(from.fixings.members, task.candidates.size())) {
    const double use = set_use(task, members, least);
    if (use >= least) continue;
    BracketSet now = with_brackets(at, task, {std::move(members), use});
    if (worst_use(now) >= least) continue;
    least = worst_use(now);
    best = std::move(now);
  }
  return best;
}

}  // namespace

bool brackets_hold(const BracketSet& set) { return worst_use(set) <= 1; }

BracketSet fixings_with_brackets(const MountPlace& at, const MountTask& task) {
  BracketSet best = with_brackets(at, task, fewest_fixings(task));
  if (best.fixings.members.empty()) return best;
  // More fixings, each less loaded: one more may be no better and two more may hold.
  for (std::size_t tried = best.fixings.members.size(); tried < task.candidates.size() && worst_use(best) > 1;) {
    BracketSet now = with_brackets(at, task, fewest_fixings(task, tried + 1));
    tried = std::max(tried + 1, now.fixings.members.size());
    if (worst_use(now) < worst_use(best)) best = std::move(now);
  }
  while (worst_use(best) > 1) {
    std::optional<BracketSet> next = better_neighbour(at, task, best);
    if (!next) break;
    best = std::move(*next);
  }
  return best;
}

void add_brackets(BracketSet chosen, const MountTask& task, const MountPlace& at, Mounting& mounting) {
  const bool aluminium = at.rules.materials.wall.density_kg_per_m3 < 4000;
  for (std::size_t i = 0; i < chosen.brackets.size(); ++i) {
    const Candidate& candidate = task.candidates[chosen.fixings.members[i]];
    const survey::Fixing& fixing = at.cavity.fixings[candidate.index];
    Bracket& bracket = chosen.brackets[i];
    for (const Link& link : bracket.links) mounting.checks.push_back(link.check);
    mounting.bolts.push_back(fixing_bolt(fixing, at.catalogue.threads.at(fixing.thread), at.rules.materials.fasteners, bracket.thickness.mm(), candidate.strength.sheet_mm, aluminium));
    if (i == chosen.round) mounting.round_hole = fixing.name;
    if (bracket.gussets == false && bracket.foot > Length{} && bracket.reach.starts_with("no socket"))
      say_once(mounting.cautions, fmt::format("{}: {}.", bracket.mark, bracket.reach));
    mounting.brackets.push_back(std::move(bracket));
  }
  double brackets_kg = 0;
  for (const Bracket& bracket : mounting.brackets) brackets_kg += bracket.mass.value();
  if (brackets_kg > 0) mounting.notes.push_back(fmt::format("The brackets weigh {:.1f} kg together, counted with the sheet of the box.", brackets_kg));
  say_once(mounting.cautions,
           "Tack the brackets with the box in the car and every bolt started by hand; only then take it out and weld. Bracket feet lie on the car's own metal: "
           "look that it is flat there, and as wide as the foot.");
  if (aluminium)
    say_once(mounting.cautions, "Aluminium brackets on the steel of the car: isolating sheet or two coats of paint under every foot, sealing paste under every washer, no bare steel washer on wet aluminium.");
}

}  // namespace cellstow::restraint
