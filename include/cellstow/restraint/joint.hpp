#pragma once
/// What one bolt and the metal round its hole carry.

#include "cellstow/core/quantity.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::restraint {

using core::Newton;

/// A bolt through a hole in a plate or strap.
struct Hole {
  double bolt_mm = 0, hole_mm = 0;
};
struct Plate {
  double thickness_mm = 0, ultimate_mpa = 0;
};

/// Proof load: proof stress * stress area. Source: ISO 898-1.
Newton bolt_proof_load(const survey::FastenerClass& fastener, const survey::Thread& thread);

/// One shear plane, threads in the plane: a * f_ub * A_s / factor, a = 0.6 for 4.6, 5.6 and 8.8,
/// 0.5 for every other class. Source: EN 1993-1-8 Table 3.4 (there the factor is 1.25).
Newton bolt_shear_capacity(const survey::FastenerClass& fastener, const survey::Thread& thread,
                           double factor);

/// 0.9 f_ub A_s / factor. Source: EN 1993-1-8 Table 3.4.
Newton bolt_tension_capacity(const survey::FastenerClass& fastener, const survey::Thread& thread,
                             double factor);

/// alpha_d of EN 1993-1-8 Table 3.4, for the hole next to the end and for one with a neighbour
/// before it.
double bearing_alpha_end(double end_mm, double hole_mm);
double bearing_alpha_inner(double pitch_mm, double hole_mm);
/// k_1 of the same table for a hole next to the edge; never above 2.5, never below 0.
double bearing_k1_edge(double edge_mm, double hole_mm);

/// k_1 min(alpha_d, f_ub / f_u, 1) f_u d t / factor. f_u is the plate's, never the bolt's.
/// Source: EN 1993-1-8 Table 3.4; EN 1999-1-1 Table 8.5 has the same form.
Newton bearing_capacity(const Plate& plate, const Hole& hole, double alpha_d, double k1,
                        double bolt_ultimate_mpa, double factor);

/// Thin sheet, hole at least three bolt diameters from any edge:
/// 2.5 k_t f_u d t / factor, k_t = (0.8 t + 1.5) / 2.5 up to 1.25 mm, then 1.
/// Source: EN 1993-1-3 Table 8.4, from memory.
Newton sheet_bearing_capacity(const Plate& sheet, double bolt_mm, double factor);

/// The bolt head or nut pulled through: 0.6 pi d_m t f_u / factor, d_m the mean of the widths
/// across flats and across corners. Source: EN 1993-1-8 Table 3.4 (punching).
Newton pull_through_capacity(const Plate& plate, double head_mean_mm, double factor);

/// Mean of width across flats and across corners of a hexagon.
double hexagon_mean_mm(double across_flats_mm);

/// A piece of plate torn out whole: (A_t f_t + A_v f_v) / factor, A_t the area pulled, A_v the area sheared.
/// Source: EN 1993-1-8 3.10.2 and AISC 360 J4.3 have this form, with their own strengths and factors.
Newton block_tearing_capacity(double tension_mm2, double tension_mpa, double shear_mm2, double shear_mpa, double factor);

/// Block tearing of a single bolt, where no plane is pulled: torn out of the end along two shear planes: 2 a t f_u / sqrt(3) / factor,
/// a the metal left between hole and end. Source: Shigley, Mechanical Engineering Design, 9th ed.,
/// Example 8-6 (form).
Newton tear_out_capacity(const Plate& plate, double end_mm, double hole_mm, double factor);

/// 0.9 (width - hole) t f_u / factor. Source: EN 1993-1-1 6.2.3, EN 1999-1-1 6.2.3.
Newton net_section_capacity(const Plate& plate, double width_mm, double hole_mm, double factor);

}  // namespace cellstow::restraint
