#include "strap_choice.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "cellstow/restraint/joint.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

/// Between two straps over one block. Common practice, no source.
constexpr double between_straps_mm = 5;
/// Bolts a strap's foot may have, smallest first.
constexpr const char* foot_bolts[] = {"M5", "M6", "M8", "M10", "M12"};

/// End distance of the foot's bolt: the regular spacing, twice the hole. Source: EN 1999-1-1
/// Table 8.2, from memory.
double end_distance_mm(double hole_mm) { return std::ceil(2 * hole_mm); }

std::string at_case(const StrapTask& task, const std::string& load_case) {
  return load_case.empty() ? task.where : task.where + ", " + load_case;
}

/// What does not depend on the bolt.
void add_section_checks(const StrapTask& task, const StrapSection& section,
                        const StrapDemand& demand, std::vector<Check>& checks) {
  const survey::Rules& rules = task.rules;
  const double proof_mpa = rules.materials.strap.proof_strength.value() / rules.safety_factor.yield;
  const double area_mm2 = section.width_mm * section.thickness_mm;
  checks.push_back(core::check_at_most(
      "strap leg pulled, full section", at_case(task, demand.leg_case), demand.leg_n,
      area_mm2 * proof_mpa, "N",
      "tension / area, proof strength over the yield factor; EN 1999-1-1 6.2.3", ""));
  checks.push_back(core::check_at_most(
      "strap pulled and bent over the block", at_case(task, demand.section_case),
      100 * demand.section_share, 100, "%",
      "large deflection of a strip (Timoshenko and Woinowsky-Krieger, ch. 1); section after EN "
      "1993-1-1 6.2.9.1, from memory",
      ""));
  checks.push_back(core::check_at_most(rise_check, at_case(task, demand.sag_case), demand.sag_mm,
                                       std::max(rules.headroom.mm() - live_floor_mm, 0.0), "mm",
                                       "large deflection of a strip, ends free to turn and slide; "
                                       "headroom less 5 mm (common practice, no source)",
                                       ""));
  checks.push_back(core::check_at_most("strap thickness in the strap space", task.where,
                                       section.thickness_mm, rules.strap_space.mm(), "mm",
                                       "the shop's own rule strap_space_mm", ""));
  const double needed_mm =
      section.quantity * section.width_mm + (section.quantity - 1) * between_straps_mm;
  checks.push_back(core::check_at_most(
      "straps between the posts", task.where, needed_mm, task.block.post_room_mm, "mm",
      "posts less 10 mm half link and 5 mm bare distance each side (common practice, no source)",
      ""));
}

/// What hangs on the bolt through the foot.
void add_bolt_checks(const StrapTask& task, const StrapSection& section, const StrapDemand& demand,
                     const survey::Thread& thread, std::vector<Check>& checks) {
  const survey::Rules& rules = task.rules;
  const survey::FastenerClass& fastener = rules.materials.fasteners;
  const double factor = rules.safety_factor.ultimate;
  const Plate plate{section.thickness_mm, rules.materials.strap.ultimate_strength.value()};
  const Hole hole{thread.major_diameter.mm(), thread.clearance_hole.mm()};
  const double end_mm = end_distance_mm(hole.hole_mm), edge_mm = section.width_mm / 2;
  const std::string where = at_case(task, demand.leg_case);
  const auto add = [&](const char* name, Newton capacity, const char* source) {
    checks.push_back(
        core::check_at_most(name, where, demand.leg_n, capacity.value(), "N", source, ""));
  };
  add("strap pulled at its bolt hole",
      net_section_capacity(plate, section.width_mm, hole.hole_mm, factor),
      "0.9 net area x ultimate strength over the ultimate factor; EN 1999-1-1 6.2.3, from memory");
  add("bolt bearing on the strap",
      bearing_capacity(plate, hole, bearing_alpha_end(end_mm, hole.hole_mm),
                       bearing_k1_edge(edge_mm, hole.hole_mm), fastener.ultimate_strength.value(),
                       factor),
      "EN 1993-1-8 Table 3.4, same form in EN 1999-1-1");
  add("strap end torn out at the bolt", tear_out_capacity(plate, end_mm, hole.hole_mm, factor),
      "two shear planes, ultimate strength / sqrt(3) over the ultimate factor");
  add("strap bolt in shear", bolt_shear_capacity(fastener, thread, factor),
      "EN 1993-1-8 Table 3.4, threads in the plane");
  checks.push_back(core::check_at_least("bolt hole to the strap's edge", task.where, edge_mm,
                                        1.2 * hole.hole_mm, "mm",
                                        "1.2 holes; EN 1993-1-8 Table 3.3", ""));
}

double worst_use(const std::vector<Check>& checks) {
  double worst = 0;
  for (const Check& check : checks) worst = std::max(worst, check.use);
  return worst;
}

bool all_hold(const std::vector<Check>& checks) {
  return std::all_of(checks.begin(), checks.end(), [](const Check& check) { return check.ok; });
}

struct Foot {
  std::string bolt;
  std::vector<Check> checks;
};

/// The smallest bolt that holds; when none does, the one least overloaded.
Foot choose_foot(const StrapTask& task, const StrapSection& section, const StrapDemand& demand) {
  Foot best;
  for (const char* name : foot_bolts) {
    const auto thread = task.threads.find(name);
    if (thread == task.threads.end()) continue;
    Foot foot{name, {}};
    add_bolt_checks(task, section, demand, thread->second, foot.checks);
    if (all_hold(foot.checks)) return foot;
    if (best.bolt.empty() || worst_use(foot.checks) < worst_use(best.checks))
      best = std::move(foot);
  }
  return best;
}

void set_sizes(const StrapTask& task, const StrapSection& section, Strap& strap) {
  const survey::Thread& thread = task.threads.at(strap.bolt);
  const double end_mm = end_distance_mm(thread.clearance_hole.mm());
  const double t = section.thickness_mm;
  const double radius_mm = bend_radius_mm(task.rules.materials.strap, t);
  const double cut_mm = std::ceil(
      developed_length_mm(task.block.height_mm + t, task.block.span_mm + 2 * t, radius_mm, t));
  strap.bolt_hole = thread.clearance_hole;
  strap.bend_radius = Length::from_mm(radius_mm);
  strap.span = Length::from_mm(task.block.span_mm);
  strap.foot = Length::from_mm(2 * end_mm);
  strap.leg = Length::from_mm(task.block.height_mm) - strap.foot;
  strap.cut_length = Length::from_mm(cut_mm);
  strap.mass =
      Kg::of(section.width_mm * t * cut_mm * 1e-9 * task.rules.materials.strap.density_kg_per_m3);
}

Strap make_candidate(const StrapTask& task, const survey::FlatBar& bar, int quantity) {
  const StrapSection section{bar.width.mm(), bar.thickness.mm(), quantity};
  const StrapDemand demand = strap_demand(task.block, section, task.rules);
  Strap strap;
  strap.mark = task.mark;
  strap.block = task.block.id;
  strap.quantity = quantity;
  strap.material = bar.material;
  strap.width = bar.width;
  strap.thickness = bar.thickness;
  strap.leg_tension = Newton::of(demand.leg_n);
  strap.worst_case = demand.leg_case;
  strap.sag = Length::from_mm_up(demand.sag_mm);
  add_section_checks(task, section, demand, strap.checks);
  Foot foot = choose_foot(task, section, demand);
  strap.bolt = foot.bolt;
  strap.checks.insert(strap.checks.end(), foot.checks.begin(), foot.checks.end());
  set_sizes(task, section, strap);
  strap.checks.push_back(core::check_at_least(
      "room for the foot on the leg", task.where, task.block.height_mm,
      strap.foot.mm() + bend_radius_mm(task.rules.materials.strap, section.thickness_mm), "mm",
      "foot and bend one after the other", ""));
  strap.checks.push_back(core::check_at_most("strap out of one stock bar", task.where,
                                             strap.cut_length.mm(), bar.stock_length.mm(), "mm",
                                             "table of flat bars", ""));
  return strap;
}

auto lightness(const Strap& strap) {
  return std::tuple(strap.mass.value() * strap.quantity, strap.quantity, strap.width,
                    strap.thickness);
}

}  // namespace

double bend_radius_mm(const survey::Material& material, double thickness_mm) {
  return material.min_bend_radius_over_thickness.value_or(2.0) * thickness_mm;
}

double developed_length_mm(double outside_leg_mm, double outside_back_mm, double radius_mm,
                           double thickness_mm) {
  const double k = std::min(0.65 + 0.5 * std::log10(radius_mm / thickness_mm), 1.0);
  const double correction_mm =
      std::numbers::pi / 2 * (radius_mm + k * thickness_mm / 2) - 2 * (radius_mm + thickness_mm);
  return 2 * outside_leg_mm + outside_back_mm + 2 * correction_mm;
}

StrapChoice choose_strap(const StrapTask& task, const survey::Catalogue& catalogue) {
  StrapChoice choice;
  const bool bolts_known =
      std::any_of(std::begin(foot_bolts), std::end(foot_bolts),
                  [&](const char* name) { return task.threads.contains(name); });
  for (const survey::FlatBar& bar : catalogue.flat_bars) {
    if (!bolts_known || bar.material != task.rules.materials.strap.name) continue;
    if (bar.thickness > task.rules.strap_space) continue;
    for (const int quantity : {1, 2})
      choice.candidates.push_back(make_candidate(task, bar, quantity));
  }
  std::stable_sort(choice.candidates.begin(), choice.candidates.end(),
                   [](const Strap& a, const Strap& b) { return lightness(a) < lightness(b); });
  for (std::size_t i = 0; i < choice.candidates.size() && !choice.passes; ++i) {
    const std::vector<Check>& checks = choice.candidates[i].checks;
    choice.passes = all_hold(checks);
    if (choice.passes || worst_use(checks) < worst_use(choice.candidates[choice.chosen].checks))
      choice.chosen = i;
  }
  return choice;
}

}  // namespace cellstow::restraint
