#pragma once
/// The sizes that every part of one box shares. Internal to fabrication.

#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/box/plan_outline.hpp"
#include "cellstow/fabrication/bend.hpp"
#include "cellstow/fabrication/sheet_part.hpp"

namespace cellstow::fabrication {

/// Plays and distances of the shop. All common practice, no source.
namespace shop {
inline constexpr double weld_gap_mm = 0.2;      ///< between parts that are welded together
inline constexpr double tab_play_mm = 0.15;     ///< a notch is wider than its tab by this at each side
inline constexpr double tab_length_mm = 20;
inline constexpr double gasket_mm = 2;          ///< under the lid, pressed
inline constexpr double lid_play_mm = 0.5;      ///< between the walls and a lid's folded edges
inline constexpr double screw_hole_mm = 5.5;    ///< clearance for M5
inline constexpr double nut_hole_mm = 7;        ///< rivet nut M5
inline constexpr double press_nut_hole_mm = 5.4; ///< flush press nut M4
inline constexpr double screw_pitch_mm = 150;   ///< along a flange
}  // namespace shop

/// One straight wall of the box's body, from corner to corner of it.
struct Side {
  FlatPoint from, to;       ///< counter-clockwise from above, outer face, u and v
  FlatPoint along, inward;  ///< unit
  double length = 0;
  box::Face face = box::Face::front;
  int number = 1;
};

struct Shape {
  std::string mark, revision;
  std::vector<core::Point2> outline;  ///< all that the box may take up
  std::vector<core::Point2> body;     ///< outside of the walls
  std::vector<Side> sides;            ///< of the body
  double wall = 0, floor = 0, lid = 0, flange = 0, liner = 0;
  double z_bottom = 0, floor_top = 0, mouth = 0, lid_under = 0, lid_top = 0;  ///< mouth: where the gasket lies on
  bool is_rectangle = false;          ///< body square with the box's own axes
  BendRule bend;                      ///< of the wall sheet
  BendRule lid_bend;
  const survey::Rules* rules = nullptr;

  double perimeter() const;
};

Shape shape_of(const box::Box& box, const survey::Rules& rules, const std::string& revision);

/// From a point of the plan to the nearest point of a side's outer face.
double distance_to(FlatPoint p, const Side& side);

/// Point of the plan as u, v, z.
Space at_height(FlatPoint plan, double z);

/// A part with mark, revision, name, wall material and thickness filled in.
SheetPart new_part(const Shape& shape, const std::string& mark, std::string name, PartKind kind, double thickness);

/// Where a flat plate lies with its top at z, drawn face up, its a along u.
Placement lying(FlatPoint origin, double z_top);

/// Where a plate stands: a along the side from its corner, b up, drawn face outwards.
Placement standing(const Side& side, double from_corner, double z_foot);

/// A plate without bends. Outline and holes in axes of the placement; the flat's lowest corner comes to (0, 0).
void lay_flat(const Path& outline, const std::vector<FlatHole>& holes, const Placement& at, SheetPart& part);

/// "WALL-FRONT-1".
std::string side_mark(const Side& side);
std::string side_name(const Side& side);

/// A step out of (or into) a straight edge: a tab (or notch) of this length about `centre`, measured from the edge's start.
struct Step {
  double centre = 0, length = 0, out = 0;  ///< out: above 0 a tab, below 0 a notch
};

/// Adds the edge from `from` to `to` without its last point; `out` is to the right of it. Steps in rising order.
void add_edge(Path& path, FlatPoint from, FlatPoint to, const std::vector<Step>& steps);

/// Centres of tabs along an edge of this length, none nearer than `margin` to its ends.
std::vector<double> tab_centres(double length, double margin);

}  // namespace cellstow::fabrication
