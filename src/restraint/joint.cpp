#include "cellstow/restraint/joint.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cellstow::restraint {

Newton bolt_proof_load(const survey::FastenerClass& fastener, const survey::Thread& thread) {
  return Newton::of(fastener.proof_stress.value() * thread.stress_area_mm2);
}

Newton bolt_shear_capacity(const survey::FastenerClass& fastener, const survey::Thread& thread,
                           double factor) {
  const bool ductile = fastener.name == "4.6" || fastener.name == "5.6" || fastener.name == "8.8";
  const double share = ductile ? 0.6 : 0.5;
  return Newton::of(share * fastener.ultimate_strength.value() * thread.stress_area_mm2 / factor);
}

Newton bolt_tension_capacity(const survey::FastenerClass& fastener, const survey::Thread& thread,
                             double factor) {
  return Newton::of(0.9 * fastener.ultimate_strength.value() * thread.stress_area_mm2 / factor);
}

double bearing_alpha_end(double end_mm, double hole_mm) { return end_mm / (3 * hole_mm); }

double bearing_alpha_inner(double pitch_mm, double hole_mm) {
  return pitch_mm / (3 * hole_mm) - 0.25;
}

double bearing_k1_edge(double edge_mm, double hole_mm) {
  return std::clamp(2.8 * edge_mm / hole_mm - 1.7, 0.0, 2.5);
}

Newton bearing_capacity(const Plate& plate, const Hole& hole, double alpha_d, double k1,
                        double bolt_ultimate_mpa, double factor) {
  const double alpha = std::min({alpha_d, bolt_ultimate_mpa / plate.ultimate_mpa, 1.0});
  return Newton::of(k1 * alpha * plate.ultimate_mpa * hole.bolt_mm * plate.thickness_mm / factor);
}

Newton sheet_bearing_capacity(const Plate& sheet, double bolt_mm, double factor) {
  const double t = sheet.thickness_mm;
  const double thin = std::min((0.8 * t + 1.5) / 2.5, 1.0);
  return Newton::of(2.5 * thin * sheet.ultimate_mpa * bolt_mm * t / factor);
}

Newton pull_through_capacity(const Plate& plate, double head_mean_mm, double factor) {
  return Newton::of(0.6 * std::numbers::pi * head_mean_mm * plate.thickness_mm *
                    plate.ultimate_mpa / factor);
}

double hexagon_mean_mm(double across_flats_mm) {
  return across_flats_mm * (1 + 2 / std::numbers::sqrt3) / 2;
}

Newton block_tearing_capacity(double tension_mm2, double tension_mpa, double shear_mm2, double shear_mpa, double factor) {
  return Newton::of((tension_mm2 * tension_mpa + shear_mm2 * shear_mpa) / factor);
}

Newton tear_out_capacity(const Plate& plate, double end_mm, double hole_mm, double factor) {
  const double metal_mm = std::max(end_mm - hole_mm / 2, 0.0);
  return block_tearing_capacity(0, plate.ultimate_mpa, 2 * metal_mm * plate.thickness_mm, plate.ultimate_mpa / std::numbers::sqrt3, factor);
}

Newton net_section_capacity(const Plate& plate, double width_mm, double hole_mm, double factor) {
  const double net_mm = std::max(width_mm - hole_mm, 0.0);
  return Newton::of(0.9 * net_mm * plate.thickness_mm * plate.ultimate_mpa / factor);
}

}  // namespace cellstow::restraint
