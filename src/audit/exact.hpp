#pragma once
/// Exact plane figures (CGAL's exact kernel). Only the .cpp files that decide include this.

#include <CGAL/Bbox_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>

#include <optional>
#include <string>
#include <vector>

#include "clearance.hpp"
#include "plan_file.hpp"

namespace cellstow::audit {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Number = Kernel::FT;
using ExactPoint = Kernel::Point_2;
using ExactEdge = Kernel::Segment_2;

/// Integers up to 2^53 pass through double without loss.
inline Number exact(Tick ticks) { return Number(static_cast<double>(ticks)); }

/// A closed ring of edges, or one stroke, with a box round every edge to skip far ones.
struct Figure {
  std::vector<ExactPoint> corners;
  std::vector<ExactEdge> edges;
  std::vector<CGAL::Bbox_2> boxes;
  CGAL::Bbox_2 box;
};

Figure make_figure(std::vector<ExactPoint> corners);
Figure make_figure(const Ring& ring);

/// Something a figure may not come near.
struct Material {
  Figure shape;
  Side side = Side::inside;
  std::string name;
};

/// As ring_conflict().
std::optional<Conflict> conflict(const Figure& figure, const Material& material,
                                 const Number& clearance);

/// With a round disc: none when the centre is `radius + clearance` away.
std::optional<Conflict> disc_conflict(const Figure& figure, const ExactPoint& centre,
                                      const Number& radius, const Number& clearance);

/// The conflict with the larger shortfall.
void keep_worse(std::optional<Conflict>& worst, std::optional<Conflict> other);

enum class Where { inside, on_edge, outside };
/// Where a point lies to a closed ring (even-odd rule).
Where locate(const ExactPoint& point, const Figure& ring);

}  // namespace cellstow::audit
