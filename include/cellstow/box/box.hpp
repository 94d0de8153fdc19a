#pragma once
/// The box as a thing to make: sizes, heights layer by layer, panels, masses.

#include <array>
#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"
#include "cellstow/core/frame.hpp"
#include "cellstow/core/quantity.hpp"
#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::box {

using core::Kg;
using core::Length;
using core::Point2;
using core::Point3;

/// A round hole in a flat panel, from the panel's datum corner.
struct Hole { Point2 centre; Length diameter; std::string what; };

/// A flat sheet part. Local axes: a to the right, b up on the drawing, datum corner at (0, 0),
/// seen from the outside of the box (floor and lid from above, a along u, b along v: rearward and to the car's right in
/// a box that is not turned).
struct Panel {
  std::string mark;                 ///< stable part mark, see docs/glossary.md
  std::string name;                 ///< "floor", "lid", "wall, front 1"
  std::vector<Point2> outline;      ///< closed, counter-clockwise
  std::vector<Hole> holes;
  Length thickness;
  std::string material;
  int quantity = 1;
  Kg mass;                          ///< one piece
};

/// One layer of the stack of heights, from the floor's underside up.
struct StackLayer { std::string name; Length thickness; Length top; };  ///< top: above the floor's underside

struct Box {
  std::string mark;                 ///< "TW", "TW2": from the cavity's name
  std::string name;                 ///< "tank well", "tank well, box 2"
  std::string cavity;
  packing::BoxLayout layout;
  std::array<Length, 3> inside;     ///< along u, along v, up: bounding sizes between walls, floor and lid
  std::array<Length, 3> outside;
  std::vector<StackLayer> stack;
  std::vector<Panel> panels;
  Kg mass_cells, mass_sheet, mass_hardware;  ///< hardware: end plates, straps, fittings, liner
  Kg mass_empty, mass_full;
  Point3 centre_of_gravity;         ///< full; vehicle frame
  std::vector<std::string> cautions;
  std::vector<std::string> notes;   ///< e.g. construction by pan depth
};

}  // namespace cellstow::box
