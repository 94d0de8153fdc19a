#include "cellstow/restraint/hold_down.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/restraint/joint.hpp"
#include "cellstow/restraint/plate.hpp"
#include "cellstow/restraint/strip.hpp"
#include "strap_demand.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

/// Vents of cells that stand upright are taken in the middle of the top, this far to each side; and the bar keeps 5 mm from
/// links 10 mm to each side of the posts. Common practice, no source.
constexpr double half_vent_mm = 20, half_link_mm = 10, beside_link_mm = 5;
/// Insulation under and over the bar. Common practice, no source.
constexpr double sleeve_mm = 2;
constexpr double live_floor_mm = 5;

/// Where a bar may lie across the cells' width, from their middle outward; `pair` when it is on both sides.
struct Lane { double from_mm = 0, to_mm = 0; bool pair = false; };

Lane lane_of(const packing::Block& block, const survey::Cell& cell, double breadth_mm) {
  if (block.stance != survey::Stance::upright || !cell.terminal_offset) return {-breadth_mm / 2, breadth_mm / 2, false};
  return {half_vent_mm, cell.terminal_offset->mm() - half_link_mm - beside_link_mm, true};
}

struct Lift { double force_n = 0; std::string load_case; };

Lift worst_lift(const StrappedBlock& block, const survey::Rules& rules) {
  Lift worst;
  const double weight_n = block.mass_kg * core::standard_gravity_m_per_s2;
  for (const survey::LoadCase& one : rules.load_cases.cases) {
    const double along_g = std::abs(one.accel[0].value() * block.along.a + one.accel[1].value() * block.along.b);
    const double net_n = weight_n * (one.accel[2].value() - 1);
    // Turning over the lower edge asks twice its leg force of a bar held at both ends.
    const double tip_n = 2 * (weight_n * along_g * (block.height_mm / 2) / block.span_mm + std::min(net_n, 0.0) / 2);
    const double lift_n = std::max({net_n, tip_n, 0.0});
    if (lift_n > worst.force_n) worst = {lift_n, one.name};
  }
  return worst;
}

struct Task {
  const box::Box& box;
  const survey::Rules& rules;
  const survey::Catalogue& catalogue;
  StrappedBlock block;
  Lane lane;
  Lift lift;
  const Strap* strap = nullptr;
};

double strap_share(const Task& task, double bar_stiffness) {
  if (task.strap == nullptr) return 0;
  return strap_share_of_lift(task.lift.force_n, task.block.span_mm, bar_stiffness,
                             task.strap->width.mm() * task.strap->quantity, task.strap->thickness.mm(),
                             task.rules.materials.strap.elastic_modulus.value(), 2 * task.block.height_mm);
}

HoldDown candidate(const Task& task, const survey::FlatBar& bar, const survey::Thread& thread) {
  const survey::Material& material = task.rules.materials.hold_down;
  const double b = bar.width.mm(), t = bar.thickness.mm(), span = task.block.span_mm - task.rules.end_plate.mm();
  HoldDown out;
  out.mark = fmt::format("{}-H-B{}", task.box.mark, task.block.id);
  out.block = task.block.id;
  out.quantity = task.lane.pair ? 2 : 1;
  out.material = bar.material;
  out.width = bar.width;
  out.thickness = bar.thickness;
  // Past the end plates as far as the screw's hole needs, in the room of the strap's legs.
  const double wanted_mm = 1.2 * thread.clearance_hole.mm(), at_plate_mm = task.rules.end_plate.mm() / 2;
  const double past_mm = std::clamp(wanted_mm - at_plate_mm, 0.0, task.rules.strap_space.mm());
  out.cut_length = Length::from_mm(std::ceil(task.block.span_mm + 2 * past_mm));
  out.beside = task.lane.pair ? Length::from_mm((task.lane.from_mm + task.lane.to_mm) / 2) : Length{};
  out.screw = thread.name;
  out.screw_hole = thread.clearance_hole;
  out.worst_case = task.lift.load_case;
  const double stiffness = material.elastic_modulus.value() * b * t * t * t / 12;
  out.strap_share = strap_share(task, out.quantity * stiffness);
  const double lift_n = task.lift.force_n * (1 - out.strap_share) / out.quantity;
  out.lift = Newton::of(lift_n);
  const BeamState state = beam_even(lift_n / span, span, stiffness, BeamEnds::hinged);
  out.sag = Length::from_mm_up(state.sag_mm);
  out.mass = Kg::of(b * t * out.cut_length.mm() * 1e-9 * material.density_kg_per_m3);
  const std::string where = fmt::format("{}, block {}, {}", task.box.name, task.block.id, task.lift.load_case);
  const double yield_mpa = material.proof_strength.value() / task.rules.safety_factor.yield;
  const double net_modulus = flat_modulus_mm3(b, t);
  out.checks = {
      core::check_at_most("hold-down bent", where, state.moment_n_mm / net_modulus, yield_mpa, "MPa",
                          "bar on two end plates under an even load, w L^2 / 8", ""),
      core::check_at_most("rise of the hold-down", where, state.sag_mm,
                          std::max(task.rules.headroom.mm() - live_floor_mm - sleeve_mm, 0.0), "mm",
                          "5 w L^4 / (384 E I); headroom less sleeve and 5 mm (common practice, no source)", ""),
      core::check_at_most("hold-down between vents and links", where, b + 2 * sleeve_mm, task.lane.to_mm - task.lane.from_mm, "mm",
                          "vents 20 mm to each side of the middle, links 10 mm to each side of the posts and 5 mm from them (common practice, no source)", ""),
      core::check_at_most("hold-down screw pulled", where, lift_n / 2,
                          bolt_proof_load(task.rules.materials.fasteners, thread).value() / task.rules.safety_factor.yield, "N",
                          "proof load of ISO 898-1 over the yield factor", ""),
      core::check_at_least("hold-down screw hole to the bar's edge", where, b / 2, 1.2 * thread.clearance_hole.mm(), "mm",
                           "1.2 holes; EN 1993-1-8 Table 3.3", ""),
      core::check_at_least("hold-down screw hole to the bar's end", where, at_plate_mm + (out.cut_length.mm() - task.block.span_mm) / 2, wanted_mm, "mm",
                           "1.2 holes; EN 1993-1-8 Table 3.3", "")};
  return out;
}

bool holds(const HoldDown& bar) {
  return std::all_of(bar.checks.begin(), bar.checks.end(), [](const Check& check) { return check.ok; });
}

double worst_use(const HoldDown& bar) {
  double worst = 0;
  for (const Check& check : bar.checks) worst = std::max(worst, check.use);
  return worst;
}

/// The lightest that passes; when none does, the one least overloaded.
std::optional<HoldDown> choose(const Task& task) {
  std::optional<HoldDown> best;
  for (const survey::FlatBar& bar : task.catalogue.flat_bars) {
    if (bar.material != task.rules.materials.hold_down.name) continue;
    for (const char* screw : {"M5", "M6", "M8"}) {
      const auto thread = task.catalogue.threads.find(screw);
      // A screw into the end plate's edge leaves three times its diameter of plate. Common practice, no source.
      if (thread == task.catalogue.threads.end() || 2 * thread->second.major_diameter.mm() > task.rules.end_plate.mm()) continue;
      HoldDown one = candidate(task, bar, thread->second);
      const bool better = !best || (holds(one) != holds(*best) ? holds(one)
                                    : holds(one) ? one.mass * one.quantity < best->mass * best->quantity
                                                 : worst_use(one) < worst_use(*best));
      if (better) best = std::move(one);
    }
  }
  return best;
}

void add_block(const Task& task, HoldDownPlan& plan) {
  std::optional<HoldDown> bar = choose(task);
  const std::string where = fmt::format("{}, block {}", task.box.name, task.block.id);
  const char* cure = "fewer cells in the block, more headroom, thicker end plates, or a wider strap space so that straps hold it";
  if (!bar) {
    plan.checks.push_back(count_check("stock bars for the hold-down", where, 0, 1, "bars", "table of flat bars",
                                      fmt::format("no flat bar of {} goes there, or the end plates are too thin for screws in their edge", task.rules.materials.hold_down.name)));
    return;
  }
  for (Check& check : bar->checks)
    if (!check.ok) check.cure = cure;
  plan.checks.insert(plan.checks.end(), bar->checks.begin(), bar->checks.end());
  if (task.strap != nullptr)
    plan.notes.push_back(fmt::format("Block {}: strap and hold-down rise together; the strap takes {:.0f} % of the lift, the bars the rest.", task.block.id, 100 * bar->strap_share));
  plan.bars.push_back(std::move(*bar));
}

bool strap_passes(const Strap& strap) {
  return std::all_of(strap.checks.begin(), strap.checks.end(), [](const Check& check) { return check.ok; });
}

}  // namespace

double strap_share_of_lift(double lift_n, double span_mm, double bar_stiffness, double width_mm, double thickness_mm,
                           double modulus_mpa, double legs_mm) {
  const Strip strip{width_mm, thickness_mm, span_mm, modulus_mpa};
  double low = 0, high = 1;
  for (int step = 0; step < 60; ++step) {
    const double share = (low + high) / 2;
    const double strap_rise = strip_under_load(strip, share * lift_n / span_mm, StripEnds::hinged, legs_mm).sag_mm;
    const double bar_rise = beam_even((1 - share) * lift_n / span_mm, span_mm, bar_stiffness, BeamEnds::hinged).sag_mm;
    (strap_rise < bar_rise ? low : high) = share;
  }
  return (low + high) / 2;
}

HoldDownPlan design_hold_downs(const box::Box& box, const survey::Cell& cell, const survey::Rules& rules,
                               const survey::Catalogue& catalogue, const StrapPlan& straps) {
  HoldDownPlan plan;
  for (const packing::Block& block : box.layout.blocks) {
    const auto strap = std::find_if(straps.straps.begin(), straps.straps.end(), [&](const Strap& one) { return one.block == block.id; });
    if (strap != straps.straps.end() && strap_passes(*strap)) continue;
    Task task{box, rules, catalogue, strapped_block(block, box.layout.heading, cell, rules), {}, {}, nullptr};
    task.lane = lane_of(block, cell, task.block.breadth_mm);
    task.lift = worst_lift(task.block, rules);
    if (strap != straps.straps.end()) task.strap = &*strap;
    if (task.lift.force_n > 0) add_block(task, plan);
  }
  if (plan.bars.empty() && plan.checks.empty() && !straps.straps.empty())
    plan.notes.push_back("The straps hold every block down: no hold-down bars are needed.");
  if (!plan.bars.empty())
    plan.cautions.push_back("Sleeve every hold-down bar, keep it 10 mm clear over vents and off posts and links; look where the vents of the cells really are: "
                            "here they are taken in the middle of the top.");
  return plan;
}

}  // namespace cellstow::restraint
