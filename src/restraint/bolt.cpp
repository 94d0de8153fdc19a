#include "cellstow/restraint/bolt.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cellstow/restraint/joint.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

/// Flat washer under head or nut, and the isolator under an aluminium bracket. Common practice, no source.
constexpr double washer_mm = 2, isolator_mm = 1;

bool is_inch(const std::string& thread) { return thread.find('-') != std::string::npos; }

/// Next length sold: every 5 mm from 15 on, every 10 mm above 60; inch threads by quarters of an inch. Common practice, no source.
double length_sold_mm(double needed_mm, bool inch) {
  if (inch) return std::ceil(needed_mm / 6.35) * 6.35;
  const double step = needed_mm > 60 ? 10 : 5;
  return std::max(std::ceil(needed_mm / step) * step, 15.0);
}

std::string locking_for(survey::FixingKind kind) {
  switch (kind) {
    case survey::FixingKind::weld_nut: return "medium thread-locking compound on a clean, dry thread, and a paint mark";
    case survey::FixingKind::through_hole: return "new all-metal lock nut (ISO 7042 kind), and a paint mark";
    case survey::FixingKind::stud: return "new all-metal lock nut on the stud, and a paint mark";
  }
  return {};
}

}  // namespace

core::Newton tension_from_torque(core::NewtonMetre torque, double nut_factor, double diameter_mm) {
  return core::Newton::of(torque.value() * 1000 / (nut_factor * diameter_mm));
}

core::NewtonMetre torque_for_tension(core::Newton tension, double nut_factor, double diameter_mm) {
  return core::NewtonMetre::of(nut_factor * tension.value() * diameter_mm / 1000);
}

FixingBolt fixing_bolt(const survey::Fixing& fixing, const survey::Thread& thread,
                       const survey::FastenerClass& fastener, double bracket_mm, double sheet_mm, bool aluminium) {
  FixingBolt out;
  const double d = thread.major_diameter.mm();
  out.fixing = fixing.name;
  out.thread = fixing.thread;
  out.strength_class = fastener.name;
  out.diameter_mm = d;
  out.stress_area_mm2 = thread.stress_area_mm2;
  out.proof_mpa = fastener.proof_stress.value();
  out.ultimate_mpa = fastener.ultimate_strength.value();
  out.head_mean_mm = hexagon_mean_mm(thread.head_width_mm);
  out.sheet_mm = sheet_mm;
  out.stack_mm = washer_mm + bracket_mm + (aluminium ? isolator_mm : 0) + sheet_mm;
  const bool through = fixing.kind == survey::FixingKind::through_hole;
  // A nut is 0.8 d high (ISO 4032, from memory) and two turns stand out of it; a weld nut needs one diameter of thread.
  out.engagement_mm = through ? std::ceil(0.8 * d + 2 * thread.pitch_mm) : d;
  if (through) out.stack_mm += washer_mm;
  if (fixing.kind != survey::FixingKind::stud)
    out.length_mm = length_sold_mm(out.stack_mm + out.engagement_mm, is_inch(fixing.thread));
  out.preload_n = preload_share * bolt_proof_load(fastener, thread).value();
  out.torque_nm = torque_for_tension(core::Newton::of(out.preload_n), nut_factor_as_received, d).value();
  out.torque_oiled_nm = torque_for_tension(core::Newton::of(out.preload_n), nut_factor_oiled, d).value();
  out.locking = locking_for(fixing.kind);
  out.washer = fmt::format("washer {} mm thick, at least {} mm across, under the head", short_number(washer_mm), short_number(std::ceil(3 * d)));
  if (aluminium)
    out.isolation = "aluminium on steel: isolating sheet or two coats of paint under the foot, sealing paste under the washer, zinc-flake or stainless bolt";
  return out;
}

}  // namespace cellstow::restraint
