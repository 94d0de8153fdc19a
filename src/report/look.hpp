#pragma once
/// How the car's three directions fall on paper, and the bodies of a cavity as flat shapes.
/// Internal to report.

#include <string>
#include <vector>

#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"
#include "report/drawing.hpp"

namespace cellstow::report {

/// From above: front to the left, the car's right upward. From the left: front to the left.
/// From behind: the car's left on the left. Arranged as third-angle views would be.
enum class Look { from_above, from_left, from_behind };

/// A point of the view, car mm: a to the right on paper, b up.
struct Flat { double a = 0, b = 0; };

/// Extents in the view, car mm.
struct Extent {
  double a_low = 0, a_high = 0, b_low = 0, b_high = 0;
  bool empty = true;
  void take(const Flat& p);
  Extent grown(double by) const;
};

Flat seen(Look look, double x, double y, double z);
Flat seen(Look look, const core::Point3& p);

/// A cuboid's rectangle in the view, counter-clockwise.
std::vector<Flat> seen(Look look, const packing::Cuboid& body);

/// The same for a body of a box that is turned: from above the turned rectangle (corners at low u low v, high u
/// low v, high u high v, low u high v), else the upright rectangle that hides all of it.
std::vector<Flat> seen(Look look, const packing::Cuboid& body, core::Heading heading);

/// The cuboid of the car's frame round a body of a box.
packing::Cuboid around(const packing::Cuboid& body, core::Heading heading);

/// How near to the eye: larger is nearer.
double nearness(Look look, const packing::Cuboid& body);

/// A measured section in the view: its outline where it is seen square on, else the line it makes.
struct SeenSection {
  std::string label;                 ///< "z 330"
  bool square_on = false;
  std::vector<Flat> outline;         ///< closed when square_on, else two ends
  std::vector<std::vector<Flat>> holes;
  std::vector<Flat> measured;        ///< every measured vertex
};
SeenSection seen(Look look, core::Axis across, const survey::Section& section);

/// Shadow of a keep-out in the view, convex or as drawn. Round bodies are circumscribed by 24-sided figures.
std::vector<Flat> seen(Look look, const survey::KeepOut& keep_out);

/// The cuboid round a keep-out, car frame.
packing::Cuboid around(const survey::KeepOut& keep_out);

/// The part of a polygon inside a rectangle (Sutherland and Hodgman, Reentrant Polygon Clipping,
/// Communications of the ACM 17 (1974) 32-42).
std::vector<Flat> clipped(std::vector<Flat> polygon, const Extent& window);

/// A counter-clockwise polygon with every edge moved inward by `by`.
std::vector<Flat> inset(const std::vector<Flat>& polygon, double by);

/// Nearest point of a polyline or polygon.
struct Nearest { Flat at; double distance = 0; bool found = false; };
Nearest nearest_on(const std::vector<Flat>& line, bool closed, const Flat& from);

const char* spoken(Look look);       ///< "from above"
const char* short_name(Look look);   ///< "plan", "side", "end"
const char* across_name(Look look);  ///< car axis to the right on paper: "x" or "y"
const char* up_name(Look look);      ///< "y" or "z"

}  // namespace cellstow::report
