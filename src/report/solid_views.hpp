#pragma once
/// Folded parts seen square on from three sides, nearer faces over farther ones. Internal to report.

#include <optional>
#include <vector>

#include "cellstow/fabrication/solid.hpp"
#include "report/paper.hpp"

namespace cellstow::report {

/// In words of the box: u rearward, v to the right.
enum class Aspect { from_left, from_above, from_behind };
std::string to_text(Aspect aspect);

using ViewPoint = fabrication::FlatPoint;   ///< across and up on the view, mm
struct ViewExtent { ViewPoint low, high; double width() const { return high.a - low.a; } double height() const { return high.b - low.b; } };

ViewPoint on_view(Aspect aspect, const fabrication::Space& p);
/// Towards who looks.
double nearness(Aspect aspect, const fabrication::Space& p);

/// One view of any number of solids; a null one is left out, its number stays its own.
class SolidView {
 public:
  SolidView(const std::vector<const fabrication::FoldedSolid*>& solids, Aspect aspect);
  const ViewExtent& extent() const { return extent_; }
  /// @param origin  where the low corner of the extent comes to lie (lower left)
  void draw(Paper& paper, Spot origin, double scale) const;
  /// A point where the solid is seen, on the largest of its faces that are; empty when it is hidden.
  std::optional<ViewPoint> spot(std::size_t solid) const;
  /// Number of the solid seen at a point; empty beside all.
  std::optional<std::size_t> seen_at(ViewPoint p) const;

 private:
  struct Facet {
    std::vector<ViewPoint> corners;
    std::vector<std::vector<ViewPoint>> holes;
    std::vector<std::pair<ViewPoint, ViewPoint>> lines;
    double nearness = 0;
    std::size_t solid = 0;
  };
  static bool covers(const Facet& facet, ViewPoint p);
  std::vector<Facet> facets_;    ///< farthest first
  ViewExtent extent_;
};

}  // namespace cellstow::report
