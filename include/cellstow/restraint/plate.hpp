#pragma once
/// Sheet as floor and wall: nets, plates and yield lines; beams.

namespace cellstow::restraint {

/// Bending moment and sag of a beam under an even load w (N/mm) or a middle force P (N).
/// Source: handbook cases; Roark's Formulas for Stress and Strain, Table 8.1, from memory.
struct BeamState { double moment_n_mm = 0, sag_mm = 0; };
enum class BeamEnds { hinged, clamped };
BeamState beam_even(double load_n_per_mm, double span_mm, double stiffness_n_mm2, BeamEnds ends);
BeamState beam_middle(double force_n, double span_mm, double stiffness_n_mm2, BeamEnds ends);
BeamState cantilever_end(double force_n, double length_mm, double stiffness_n_mm2);

/// Section modulus b t^2 / 6.
double flat_modulus_mm3(double width_mm, double thickness_mm);

/// A sheet that hangs like a net between two held edges: pull a mm of edge under an even pressure.
///   bulge f = q L^2 / (8 S),   stretch = 8/3 (f / L)^2
/// Source: parabola under an even load, statics; shallow, so f is small against L.
struct Net { double bulge_mm = 0, stretch = 0; };
Net net_under_pressure(double pressure_mpa, double span_mm, double pull_n_per_mm);
/// The same as a cable: pull at the lowest point and at the ends, N, for a sag given.
double cable_pull_n(double load_n_per_mm, double span_mm, double sag_mm);
double cable_end_pull_n(double load_n_per_mm, double span_mm, double sag_mm);

/// Largest force that two rims of a strap over a corner can differ by friction: e^(mu beta).
double capstan_ratio(double friction, double wrap_rad);

/// Force on a small spot of a sheet far from its edges at which it yields in a fan: P = 2 pi (m + m'),
/// m = f t^2 / 4 under the spot, m' round the fan. Source: K. W. Johansen, yield-line theory, from memory.
double fan_force_n(double strength_mpa, double rim_strength_mpa, double squared_thickness_mm2);

/// Clamped and simply supported rectangular plate under even pressure, short side a, long side b:
///   largest sag alpha q a^4 / (E t^3), largest stress beta q a^2 / t^2 (edge middle when clamped, middle when supported)
/// Source: Roark's Formulas for Stress and Strain, 7th ed., Table 11.4 cases 1 and 8, nu = 0.3, from memory.
struct PlateFactors { double alpha = 0, beta = 0; };
PlateFactors plate_factors(double long_over_short, BeamEnds edges);

}  // namespace cellstow::restraint
