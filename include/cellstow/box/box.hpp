#pragma once
/// The box as a thing to fill and carry: sizes, heights layer by layer, masses. Its sheet parts: stage fabrication.

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
  Kg mass_cells, mass_sheet, mass_hardware;  ///< hardware: end plates, straps, fittings, liner; sheet as plain plates until take_sheet_mass()
  Kg mass_empty, mass_full;
  Point3 centre_of_gravity;         ///< full; vehicle frame
  std::vector<std::string> cautions;
  std::vector<std::string> notes;
};

}  // namespace cellstow::box
