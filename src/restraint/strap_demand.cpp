#include "strap_demand.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/core/quantity.hpp"
#include "cellstow/restraint/strip.hpp"

namespace cellstow::restraint {
namespace {

/// Half of a link's width over a post, and the bare distance beside it. Common practice, no source.
constexpr double half_link_mm = 10, beside_link_mm = 5;

double post_room_mm(const packing::Block& block, const survey::Cell& cell, double breadth_mm) {
  if (block.stance != survey::Stance::upright || !cell.terminal_offset) return breadth_mm;
  return 2 * (cell.terminal_offset->mm() - half_link_mm - beside_link_mm);
}

struct CaseForces {
  double lift_n = 0, tip_n = 0;
};

/// Lift: what is left of the upward load when the block's own weight is taken off. Tip: tension of
/// the far leg that keeps the block from turning over its lower near edge, beyond what lift asks:
///   T_far * span = m g a h_cg + m g (a_z - 1) span / 2
CaseForces forces_on(const StrappedBlock& block, const survey::LoadCase& load_case) {
  const double weight_n = block.mass_kg * core::standard_gravity_m_per_s2;
  const double along_g = std::abs(load_case.accel[0].value() * block.along.a +
                                  load_case.accel[1].value() * block.along.b);
  const double net_up_n = weight_n * (load_case.accel[2].value() - 1);
  const double tip_n = weight_n * along_g * (block.height_mm / 2) / block.span_mm;
  if (net_up_n > 0) return {net_up_n, tip_n};
  return {0, std::max(tip_n + net_up_n / 2, 0.0)};
}

/// Bending and tension together on a full rectangular section, as a share of what it takes:
/// (N / N_pl)^2 + M / M_pl, M_pl = 1.5 times the elastic moment.
/// Source: EN 1993-1-1 6.2.9.1, rectangular section, from memory.
double section_share(const StripState& state, double design_proof_mpa) {
  const double pull = state.membrane_mpa / design_proof_mpa;
  return pull * pull + state.bending_mpa / (1.5 * design_proof_mpa);
}

void take_lift(const StripState& hinged, const StripState& clamped_slipping,
               const StripState& clamped_fast, double design_proof_mpa, const std::string& name,
               StrapDemand& demand) {
  if (hinged.sag_mm > demand.sag_mm) {
    demand.sag_mm = hinged.sag_mm;
    demand.sag_case = name;
  }
  for (const StripState& state : {hinged, clamped_slipping, clamped_fast}) {
    const double share = section_share(state, design_proof_mpa);
    if (share <= demand.section_share) continue;
    demand.section_share = share;
    demand.section_case = name;
  }
}

}  // namespace

StrappedBlock strapped_block(const packing::Block& block, core::Heading heading,
                             const survey::Cell& cell, const survey::Rules& rules) {
  const bool along_x = block.runs == packing::Run::u;
  const core::Point3 low = block.body.low, high = block.body.high;
  const double length_mm = (along_x ? high.x - low.x : high.y - low.y).mm();
  StrappedBlock out;
  out.id = block.id;
  out.cells = block.cells;
  out.along = core::to_car(heading, along_x ? core::InPlan{1, 0} : core::InPlan{0, 1});
  out.breadth_mm = (along_x ? high.y - low.y : high.x - low.x).mm();
  out.height_mm = (high.z - low.z).mm();
  out.span_mm = length_mm - 2 * rules.strap_space.mm();
  const double plates_mm3 = 2 * rules.end_plate.mm() * out.breadth_mm * out.height_mm;
  out.mass_kg =
      block.cells * cell.mass.value() + plates_mm3 * 1e-9 * rules.materials.wall.density_kg_per_m3;
  out.posts_known = block.stance != survey::Stance::upright || cell.terminal_offset.has_value();
  out.post_room_mm = post_room_mm(block, cell, out.breadth_mm);
  return out;
}

StrappedBlock shortened(const StrappedBlock& block, int cells, const survey::Cell& cell,
                        const survey::Rules& rules) {
  StrappedBlock out = block;
  const int fewer = block.cells - cells;
  out.cells = cells;
  out.mass_kg -= fewer * cell.mass.value();
  out.span_mm -= fewer * (cell.thickness + rules.between_cells).mm();
  return out;
}

StrapDemand strap_demand(const StrappedBlock& block, const StrapSection& section,
                         const survey::Rules& rules) {
  const survey::Material& material = rules.materials.strap;
  const double design_proof_mpa = material.proof_strength.value() / rules.safety_factor.yield;
  const Strip strip{section.width_mm, section.thickness_mm, block.span_mm,
                    material.elastic_modulus.value()};
  const double legs_mm = 2 * block.height_mm;
  StrapDemand demand;
  for (const survey::LoadCase& load_case : rules.load_cases.cases) {
    const CaseForces forces = forces_on(block, load_case);
    const double lift_n = forces.lift_n / section.quantity;
    const double load_n_per_mm = lift_n / block.span_mm;
    const StripState hinged = strip_under_load(strip, load_n_per_mm, StripEnds::hinged, legs_mm);
    const StripState slipping = strip_under_load(strip, load_n_per_mm, StripEnds::clamped, legs_mm);
    const StripState fast = strip_under_load(strip, load_n_per_mm, StripEnds::clamped);
    take_lift(hinged, slipping, fast, design_proof_mpa, load_case.name, demand);
    const double leg_n = forces.tip_n / section.quantity +
                         std::max({lift_n / 2, hinged.tension_n, slipping.tension_n});
    if (leg_n <= demand.leg_n) continue;
    demand.leg_n = leg_n;
    demand.leg_case = load_case.name;
  }
  return demand;
}

}  // namespace cellstow::restraint
