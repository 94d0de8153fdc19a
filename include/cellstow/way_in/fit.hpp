#pragma once
/// Does a shadow of fixed shape fit into an opening by being moved along, and by how much not?

#include <string>
#include <vector>

#include "cellstow/way_in/opening.hpp"

namespace cellstow::way_in {

/// What a body covers of the opening's plane as it moves through: the union of convex figures.
struct Shadow {
  std::vector<Figure> parts;
  bool whole_um = false;      ///< all corners are whole um, so contact is decided exactly
};

/// One bound on the shift t of the shadow: normal * t + margin * |normal| <= limit.
struct Bound {
  Spot normal;
  double limit = 0;
  Spot contact;               ///< where shadow and opening meet when the bound is just kept
  bool moves = true;          ///< contact is a corner of the shadow and moves with it
  int edge = -1;              ///< edge of the opening, or -1
};

/// Where the shadow fits best.
struct Fit {
  bool fits = false;
  /// Least gap all round at the best shift, um; negative where the shadow stands over the edge on both sides.
  double margin_um = 0;
  Spot shift;                 ///< from where the shadow was given
  std::vector<Bound> bounds;  ///< all that hold there; a shift that keeps them with margin 0 fits
};

/// The shift with the largest margin.
///
/// A convex opening gives one linear programme in shift and margin. Material that stands into it must
/// be passed on one side or the other: each side of either figure is a choice, and choices are searched best first until the
/// first complete one, which is the best there is.
///
/// `fits` is exact where `whole_um`; else contact to within 1e-5 um counts as not fitting. A search
/// of more than 20,000 choices is given up as not fitting.
///
/// @param floor_um  a margin below which the caller does not care: the search may stop there
Fit best_fit(const Opening& opening, const Shadow& shadow, double floor_um = -1e18);

/// The margin with the shadow where it is.
double margin_um(const Opening& opening, const Shadow& shadow);

/// Of all shifts that keep the bounds with this gap, the one nearest to none; the fit's own when there is none.
Spot nearest_shift(const Fit& fit, double gap_um);

/// An edge in the way.
struct Blocking { std::string edge; double by_um = 0; Spot contact; };

/// Which edges stand in the way, and how far each would have to move out, with the shadow where these ways
/// add up to least; of such places one with the fewest edges. Most first.
std::vector<Blocking> blocking_edges(const Opening& opening, const Fit& fit);

}  // namespace cellstow::way_in
