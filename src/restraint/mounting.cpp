#include "cellstow/restraint/mounting.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>

#include "cellstow/core/quantity.hpp"
#include "bracket_set.hpp"
#include "fixing_search.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

using core::Check;
using core::Point2;

constexpr BodySheet body_sheet;
/// Off a line by less than this share of its length, fixings hold a box about it by next to nothing. Our choice.
constexpr double nearly_one_line = 0.1;
constexpr const char* one_line_cure = "the fixings in use stand nearly in one line, and the box turns about it: find or make one well off that line, on the other side of the box";

double segment_distance_mm(double x, double y, const Point2& from, const Point2& to) {
  const double dx = (to.a - from.a).mm(), dy = (to.b - from.b).mm();
  const double px = x - from.a.mm(), py = y - from.b.mm();
  const double along = std::clamp((px * dx + py * dy) / (dx * dx + dy * dy), 0.0, 1.0);
  return std::hypot(px - along * dx, py - along * dy);
}

/// 0 inside; else to the nearest wall.
double outline_distance_mm(double x, double y, const std::vector<Point2>& outline) {
  bool inside = false;
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point2& p = outline[i];
    const Point2& q = outline[(i + 1) % outline.size()];
    nearest = std::min(nearest, segment_distance_mm(x, y, p, q));
    const bool crosses = (p.b.mm() > y) != (q.b.mm() > y);
    if (crosses && x < p.a.mm() + (y - p.b.mm()) / (q.b - p.b).mm() * (q.a - p.a).mm())
      inside = !inside;
  }
  return inside ? 0 : nearest;
}

double box_distance_mm(const survey::Fixing& fixing, const packing::BoxLayout& layout) {
  const double z = fixing.at.z.mm();
  const double above = std::max({layout.z_bottom.mm() - z, z - layout.lid_top.mm(), 0.0});
  const core::InPlan at = core::to_box(layout.heading, core::InPlan{fixing.at.x.mm(), fixing.at.y.mm()});
  return std::hypot(outline_distance_mm(at.a, at.b, layout.outline), above);
}

/// Why a fixing cannot carry at all; empty when it can.
std::string bar_to_carrying(const survey::Fixing& fixing, const box::Box& box,
                            const survey::Rules& rules, const survey::Catalogue& catalogue) {
  if (fixing.use == survey::FixingUse::never) return "marked never";
  if (fixing.use == survey::FixingUse::locate)
    return "marked locate: it places the box, it carries nothing";
  if (box.layout.outline.empty()) return "no box round these blocks";
  const double away_mm = box_distance_mm(fixing, box.layout);
  if (away_mm > rules.bracket_reach.mm() + 1e-6)
    return fmt::format("{} mm from the box, bracket reach is {} mm",
                       short_number(std::ceil(away_mm)), short_number(rules.bracket_reach.mm()));
  if (!catalogue.threads.contains(fixing.thread))
    return fmt::format("thread \"{}\" is not in the table of threads", fixing.thread);
  return {};
}

MountTask mount_task(const box::Box& box, const survey::Rules& rules) {
  const double weight_n = box.mass_full.value() * core::standard_gravity_m_per_s2;
  const core::Point3& cg = box.centre_of_gravity;
  MountTask task;
  task.at_mm = {cg.x.mm(), cg.y.mm(), cg.z.mm()};
  task.mass_kg = box.mass_full.value();
  for (const survey::LoadCase& one : rules.load_cases.cases)
    task.loads.push_back({one.name,
                          {weight_n * one.accel[0].value(), weight_n * one.accel[1].value(),
                           weight_n * (one.accel[2].value() - 1)}});
  return task;
}

Candidate candidate_for(const survey::Fixing& fixing, std::size_t index, const survey::Rules& rules,
                        const survey::Catalogue& catalogue) {
  return {index,
          {fixing.at.x.mm(), fixing.at.y.mm(), fixing.at.z.mm()},
          fixing.axis,
          fixing_strength(fixing, catalogue.threads.at(fixing.thread), rules, body_sheet),
          {}};
}

/// Worst of every check of one member over all load cases, and the fixing's own summary.
void judge_member(const MountTask& task, const FixingSet& set, std::size_t place,
                  const std::string& where, FixingUseResult& result, std::vector<Check>& checks) {
  const Candidate& candidate = task.candidates[set.members[place]];
  std::vector<Check> worst;
  result.carries = true;
  for (const BoxLoad& load : task.loads) {
    const BoltForce force = set_forces(task, set.members, load)[place];
    std::vector<Check> now = fixing_checks(candidate.strength, force.shear_n, force.tension_n);
    worst.resize(now.size());
    for (std::size_t i = 0; i < now.size(); ++i) {
      now[i].where = fmt::format("{}, fixing {}, {}", where, result.fixing, load.name);
      if (now[i].use > result.use) {
        result.use = now[i].use;
        result.governs = now[i].name;
        result.worst_case = load.name;
        result.shear_n = force.shear_n;
        result.tension_n = std::abs(force.tension_n);
      }
      if (worst[i].name.empty() || now[i].use > worst[i].use) worst[i] = now[i];
    }
  }
  checks.insert(checks.end(), worst.begin(), worst.end());
}

/// How far the set stands off one line, as a share of the line's length: the one through the two farthest apart.
double off_one_line(const MountTask& task, const FixingSet& set) {
  const auto at = [&](std::size_t i) { return Eigen::Vector3d(task.candidates[set.members[i]].at_mm.data()); };
  Eigen::Vector3d from = at(0), line = Eigen::Vector3d::Zero();
  for (std::size_t i = 0; i < set.members.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if ((at(i) - at(j)).norm() > line.norm()) from = at(j), line = at(i) - at(j);
  double off_mm = 0;
  for (std::size_t i = 0; i < set.members.size(); ++i) off_mm = std::max(off_mm, (at(i) - from).cross(line.normalized()).norm());
  return off_mm / line.norm();
}

/// What would hold, in numbers: use grows as load over count, and as load over metal.
std::string mounting_cure(const MountTask& task, const FixingSet& set, const Mounting& mounting) {
  const auto worst = std::max_element(
      mounting.fixings.begin(), mounting.fixings.end(),
      [](const FixingUseResult& a, const FixingUseResult& b) { return a.use < b.use; });
  if (off_one_line(task, set) < nearly_one_line) return one_line_cure;
  const int used = static_cast<int>(set.members.size());
  const int needed = static_cast<int>(std::ceil(used * set.use - 1e-9));
  std::string cure = fmt::format("needs about {} like these, there are {} in use",
                                 counted(needed, "fixing"), used);
  cure += fmt::format("; or a box of no more than {:.0f} kg", std::floor(task.mass_kg / set.use));
  if (worst->governs.find("sheet") == std::string::npos) {
    if (worst->governs.starts_with("bolt")) cure += "; or a larger thread or a higher bolt class";
    return cure;
  }
  const auto member = std::find_if(set.members.begin(), set.members.end(), [&](std::size_t m) {
    return task.candidates[m].index == static_cast<std::size_t>(worst - mounting.fixings.begin());
  });
  const double sheet_mm = task.candidates[*member].strength.sheet_mm;
  return cure +
         fmt::format("; or spreader plates, so that {} mm of metal stands at each instead of {} mm",
                     short_number(std::ceil(sheet_mm * set.use * 10) / 10), short_number(sheet_mm));
}

struct FarFixing {
  std::string name;
  double away_mm = 0;
};

/// When no set of fixings holds at all: how many there are, and which lie just out of reach.
Check too_few_check(const MountTask& task, const box::Box& box, const survey::Cavity& cavity,
                    const survey::Rules& rules) {
  if (task.candidates.size() >= 3)
    return count_check("fixings off one line", box.name, 0, 1, "fixings",
                       "a box held along one line turns about it",
                       "find or make one more fixing off the line of the others");
  std::vector<FarFixing> far;
  for (const survey::Fixing& fixing : cavity.fixings) {
    if (fixing.use != survey::FixingUse::carry || box.layout.outline.empty()) continue;
    const double away_mm = box_distance_mm(fixing, box.layout);
    if (away_mm > rules.bracket_reach.mm()) far.push_back({fixing.name, away_mm});
  }
  std::stable_sort(far.begin(), far.end(),
                   [](const auto& a, const auto& b) { return a.away_mm < b.away_mm; });
  if (far.size() > 3) far.resize(3);
  std::string cure = "find or make more fixings for this box";
  for (const FarFixing& one : far)
    cure +=
        fmt::format("; {} is {} mm away, bracket reach is {} mm", one.name,
                    short_number(std::ceil(one.away_mm)), short_number(rules.bracket_reach.mm()));
  return count_check("fixings that can carry the box", box.name,
                     static_cast<int>(task.candidates.size()), 3, "fixings",
                     "three fixings not in one line hold a rigid box", cure);
}

/// The group without one of its bolts: which of the others is then worst off.
Loss without(const MountTask& task, const FixingSet& set, std::size_t away, const Mounting& mounting) {
  const auto name_of = [&](std::size_t member) { return mounting.fixings[task.candidates[member].index].fixing; };
  Loss out{name_of(set.members[away]), true, {}, {}, 0};
  std::vector<std::size_t> rest = set.members;
  rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(away));
  for (const BoxLoad& load : task.loads) {
    const std::vector<BoltForce> forces = set_forces(task, rest, load);
    if (forces.empty()) return {out.fixing, false, {}, {}, 0};
    for (std::size_t i = 0; i < rest.size(); ++i) {
      for (const Check& check : fixing_checks(task.candidates[rest[i]].strength, forces[i].shear_n, forces[i].tension_n)) {
        if (check.use <= out.use) continue;
        out.use = check.use;
        out.worst = name_of(rest[i]);
        out.governs = check.name;
      }
    }
  }
  return out;
}

/// What if one nut pulls out: an old weld nut may let go first.
void note_losses(const MountTask& task, const FixingSet& set, Mounting& mounting) {
  for (std::size_t away = 0; away < set.members.size(); ++away)
    mounting.losses.push_back(without(task, set, away, mounting));
  const auto worst = std::max_element(mounting.losses.begin(), mounting.losses.end(), [](const Loss& a, const Loss& b) {
    return a.holds_together != b.holds_together ? a.holds_together : a.use < b.use;
  });
  if (worst == mounting.losses.end()) return;
  if (!worst->holds_together)
    mounting.notes.push_back(fmt::format("If {} let go, the others could not hold the box.", worst->fixing));
  else
    mounting.notes.push_back(fmt::format(
        "If {} let go, the worst of the others would be used to {:.0f} %.", worst->fixing, worst->use * 100));
}

void add_cautions(const MountTask& task, const FixingSet& set, const survey::Cavity& cavity,
                  Mounting& mounting) {
  std::vector<std::string>& cautions = mounting.cautions;
  cautions.push_back(
      "A first check for discussion with the certifier, not an approval: local codes and a "
      "licensed engineer decide.");
  cautions.push_back(
      "Never carry a box on seat-belt, seat, suspension, steering or brake fixings.");
  cautions.push_back(
      "Prying under bracket feet, and the car's own structure behind each fixing, are not covered; "
      "look at each for rust and cracks.");
  for (const std::size_t member : set.members) {
    const survey::Fixing& fixing = cavity.fixings[task.candidates[member].index];
    if (fixing.limit) continue;
    if (!fixing.sheet)
      cautions.push_back(
          fmt::format("{}: sheet thickness not given, {} mm assumed (old floor sheet is 0.8 to 1.2 "
                      "mm: common practice, no source). Measure it.",
                      fixing.name, short_number(body_sheet.assumed_thickness_mm)));
    say_once(cautions,
             "Body sheet counts with 270 MPa (DC01) and sound metal for at least three bolt "
             "diameters round every hole.");
    if (fixing.kind == survey::FixingKind::weld_nut)
      say_once(cautions, "A weld nut may be weaker than the bolt in it; its weld is not checked.");
  }
}

void report_set(const MountTask& task, const BracketSet& chosen, const box::Box& box,
                Mounting& mounting) {
  const FixingSet& set = chosen.fixings;
  for (std::size_t place = 0; place < set.members.size(); ++place)
    judge_member(task, set, place, box.name,
                 mounting.fixings[task.candidates[set.members[place]].index], mounting.checks);
  const std::string cure = mounting_cure(task, set, mounting);
  for (Check& check : mounting.checks)
    if (!check.ok) check.cure = cure;
  const std::string others = brackets_hold(chosen) ? fmt::format("not needed: {} hold the box", set.members.size())
                                                   : "in reach, but the box is held better without it";
  for (const Candidate& candidate : task.candidates) {
    FixingUseResult& result = mounting.fixings[candidate.index];
    if (!result.carries) result.why_not = others;
  }
  mounting.notes.push_back(
      "Box taken as rigid, every fixing as equally stiff; 1 g of gravity is added to every load "
      "case; "
      "push and pull along a bolt count alike.");
  note_losses(task, set, mounting);
}

/// Thicker brackets would not help.
void cure_by_one_off_the_line(Mounting& mounting) {
  const auto tell = [](Check& check) {
    if (!check.ok) check.cure = one_line_cure;
  };
  for (Check& check : mounting.checks) tell(check);
  for (Bracket& bracket : mounting.brackets)
    for (Link& link : bracket.links) tell(link.check);
}

}  // namespace

Mounting mount_box(const box::Box& box, const survey::Cavity& cavity, const survey::Rules& rules,
                   const survey::Catalogue& catalogue) {
  Mounting mounting;
  mounting.box_mark = box.mark;
  MountTask task = mount_task(box, rules);
  for (std::size_t i = 0; i < cavity.fixings.size(); ++i) {
    const survey::Fixing& fixing = cavity.fixings[i];
    FixingUseResult result;
    result.fixing = fixing.name;
    result.why_not = bar_to_carrying(fixing, box, rules, catalogue);
    if (result.why_not.empty()) {
      PlaceResult places = bracket_places(box, cavity, rules, fixing, catalogue.threads.at(fixing.thread));
      result.why_not = places.why_not;
      if (!places.places.empty()) {
        task.candidates.push_back(candidate_for(fixing, i, rules, catalogue));
        task.candidates.back().places = std::move(places.places);
      }
    }
    mounting.fixings.push_back(std::move(result));
  }
  if (cavity.fixings.empty()) {
    mounting.notes.push_back(
        "No fixings are given for this cavity: the mounting is not worked out.");
    return mounting;
  }
  BracketSet chosen = fixings_with_brackets({box, cavity, rules, catalogue}, task);
  const FixingSet set = chosen.fixings;
  if (set.members.empty()) {
    if (!box.layout.outline.empty())
      mounting.checks.push_back(too_few_check(task, box, cavity, rules));
    for (const Candidate& candidate : task.candidates)
      mounting.fixings[candidate.index].why_not = "in reach, but too few are";
  } else {
    report_set(task, chosen, box, mounting);
    add_brackets(std::move(chosen), task, {box, cavity, rules, catalogue}, mounting);
    if (off_one_line(task, set) < nearly_one_line) cure_by_one_off_the_line(mounting);
  }
  add_cautions(task, set, cavity, mounting);
  return mounting;
}

}  // namespace cellstow::restraint
