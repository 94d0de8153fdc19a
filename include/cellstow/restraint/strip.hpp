#pragma once
/// A strap over a block as a strip: pushed from below, held at both ends, bent and pulled at once.

namespace cellstow::restraint {

/// A flat strip between two edges.
struct Strip {
  double width_mm = 0, thickness_mm = 0, span_mm = 0, modulus_mpa = 0;
};

/// How the strip is held where it goes over the edge. The ends never come nearer together than
/// the stretch of the strip allows.
enum class StripEnds { clamped, hinged };

struct StripState {
  double u = 0;            ///< sqrt(tension * span^2 / (4 E I)): how far from plain bending
  double tension_n = 0;    ///< along the span
  double sag_mm = 0;       ///< rise of the middle
  double moment_n_mm = 0;  ///< largest: at the ends when clamped, in the middle when hinged
  double membrane_mpa = 0, bending_mpa = 0;
};

/// Large-deflection state of a strip under an even load.
///
/// The load's share carried by bending and the share carried by tension settle where the strip's
/// stretch, tension * (span + slip) / (E A), equals its arc's surplus length, 1/2 integral(w'^2):
///
///   (E b t^4 / (load * span^4))^2 * (1 + slip / span) = U(u),   tension = 4 u^2 E I / span^2
///
/// @param load_n_per_mm  even load along the span, >= 0; 0 gives an idle strip
/// @param slip_mm        length beyond the span that stretches along, as when a strap slides freely
///                       over its corners and its legs give too; 0 for ends that cannot move
/// @pre   all sizes and the modulus above 0
/// Accuracy: tension, sag and moment within 0.5 % of an independent numerical solution
/// (tests/restraint/strip_test.cpp).
/// Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., ch. 1,
/// cylindrical bending with simply supported and with built-in edges; a strip, so E in place of E /
/// (1 - nu^2).
StripState strip_under_load(const Strip& strip, double load_n_per_mm, StripEnds ends,
                            double slip_mm = 0);

}  // namespace cellstow::restraint
