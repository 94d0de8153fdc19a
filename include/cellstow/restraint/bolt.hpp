#pragma once
/// Bolts as bought and tightened: length from the stack, torque, locking.

#include <string>

#include "cellstow/core/quantity.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::restraint {

/// Share of the proof load to which a bolt that comes apart again is tightened.
/// Source: Shigley, Mechanical Engineering Design, 9th ed., 8-9; read in secondary texts.
inline constexpr double preload_share = 0.75;
/// Nut factor of bolts as received, and oiled. Give or take a third. Source: Shigley, 9th ed., Table 8-15; secondary texts.
inline constexpr double nut_factor_as_received = 0.20, nut_factor_oiled = 0.15;

/// Tension from a torque: F = T / (K d).
core::Newton tension_from_torque(core::NewtonMetre torque, double nut_factor, double diameter_mm);
/// Torque for a tension: T = K F d.
core::NewtonMetre torque_for_tension(core::Newton tension, double nut_factor, double diameter_mm);

/// How one of the car's fixings is bolted.
struct FixingBolt {
  std::string fixing, thread, strength_class;
  double stack_mm = 0;        ///< what the bolt clamps: washer, bracket, isolator, spreader, sheet
  double engagement_mm = 0;   ///< thread that must be in the nut, at least one diameter
  double length_mm = 0;       ///< next length sold; 0 for a stud of the car: measure that
  double preload_n = 0, torque_nm = 0, torque_oiled_nm = 0;
  double diameter_mm = 0, stress_area_mm2 = 0, proof_mpa = 0, ultimate_mpa = 0, head_mean_mm = 0, sheet_mm = 0;
  std::string locking;        ///< "all-metal lock nut", ...
  std::string washer, isolation;
};

/// @param bracket_mm  thickness of bracket and what lies with it on the fixing
/// @param aluminium   the bracket is of aluminium, the car of steel
FixingBolt fixing_bolt(const survey::Fixing& fixing, const survey::Thread& thread,
                       const survey::FastenerClass& fastener, double bracket_mm, double sheet_mm, bool aluminium);

}  // namespace cellstow::restraint
