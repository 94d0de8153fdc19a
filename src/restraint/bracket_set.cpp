#include "bracket_set.hpp"

#include <algorithm>
#include <cmath>

#include "words.hpp"

namespace cellstow::restraint {
namespace {

constexpr int most_rounds = 4;
constexpr std::size_t most_added = 3;

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

}  // namespace

BracketSet fixings_with_brackets(const MountPlace& at, const MountTask& task) {
  BracketSet best = with_brackets(at, task, fewest_fixings(task));
  // More fixings, each less loaded ...
  for (std::size_t more = 1; more <= most_added && worst_use(best) > 1 && !best.fixings.members.empty(); ++more) {
    FixingSet larger = fewest_fixings(task, best.fixings.members.size() + 1);
    if (larger.members.empty()) break;
    BracketSet now = with_brackets(at, task, std::move(larger));
    if (worst_use(now) < worst_use(best)) best = std::move(now);
    else break;
  }
  // ... or others than the one whose bracket is worst off.
  MountTask left = task;
  std::vector<std::size_t> names(task.candidates.size());
  for (std::size_t i = 0; i < names.size(); ++i) names[i] = i;
  BracketSet last = best;
  for (int round = 0; round < most_rounds && worst_use(best) > 1 && !last.brackets.empty(); ++round) {
    const auto worst = std::max_element(last.brackets.begin(), last.brackets.end(), [](const Bracket& a, const Bracket& b) { return worst_use(a) < worst_use(b); });
    if (worst_use(*worst) <= 1) break;
    const auto away = std::find(names.begin(), names.end(), last.fixings.members[static_cast<std::size_t>(worst - last.brackets.begin())]) - names.begin();
    names.erase(names.begin() + away);
    left.candidates.erase(left.candidates.begin() + away);
    FixingSet fixings = fewest_fixings(left);
    for (std::size_t& member : fixings.members) member = names[member];
    last = with_brackets(at, task, std::move(fixings));
    if (worst_use(last) < worst_use(best)) best = last;
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
