#pragma once
/// An opening made ready for fitting shadows into it.

#include <string>
#include <vector>

#include "cellstow/geometry/wall.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::way_in {

/// A point or direction in an opening's plane, um, in the order of Point2. Whole numbers are held exactly.
struct Spot { double a = 0, b = 0; };

/// A convex figure, counter-clockwise.
using Figure = std::vector<Spot>;

/// One side of a convex figure: normal * p <= limit on the figure's own side. The normal is the side turned
/// by a quarter, so it is as long as the side.
struct Side {
  Spot normal;
  double limit = 0;
  int edge = -1;    ///< edge of the opening's outline that it is, or -1
};

/// The opening's outline as a convex hull less what stands into it.
///
/// Invariant: a shadow lies in the opening exactly when it lies in the hull and shares no area with any of `material`.
class Opening {
 public:
  explicit Opening(const survey::WayIn& way);

  const survey::WayIn& way() const { return way_; }
  const geometry::Loop& outline() const { return outline_; }
  const std::vector<Side>& hull() const { return hull_; }
  /// Convex pieces of hull less outline.
  struct Material { Figure figure; std::vector<Side> sides; };
  const std::vector<Material>& material() const { return material_; }

  /// "rear edge", "left edge", "upper edge": the way the edge looks from the opening's middle. An edge
  /// that shares its name with another also says where it is.
  std::string edge_name(int edge) const;
  /// Edge of the outline nearest to a point of the plane.
  int nearest_edge(Spot p) const;

 private:
  survey::WayIn way_;
  geometry::Loop outline_;
  std::vector<Side> hull_;
  std::vector<Material> material_;
};

/// Names of the plane's two axes: "x" and "y" for an opening across z.
std::pair<const char*, const char*> axis_names(core::Axis across);

}  // namespace cellstow::way_in
