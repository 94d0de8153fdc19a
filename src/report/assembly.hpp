#pragma once
/// All that makes up a box as solids where they stand, with names and colours. Internal to report.

#include <string>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "cellstow/fabrication/solid.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

/// What a part is there for: decides its colour.
enum class Substance { cell, sheet, lid, end_plate, strap, fitting };

/// Shares of red, green and blue, 0 to 1. Told apart by lightness too.
struct Colour {
  double red = 0, green = 0, blue = 0;
};
Colour colour_of(Substance substance);

struct AssemblyPart {
  std::string name;                      ///< part mark; "cell 12"; name of a fitting
  Substance substance = Substance::sheet;
  fabrication::FoldedSolid solid;        ///< frame of the box
};

struct Assembly {
  std::string name;                      ///< mark of the box
  core::Heading heading;                 ///< of its frame against the car's
  std::vector<AssemblyPart> parts;       ///< sheet parts, cells, end plates, straps, fittings
};

/// Cells are their cases, without posts. A strap is drawn closely round its block, with its corners bent sharp: what its inside
/// radius needs is on its drawing. Liner, gasket, screws and cables are left out.
Assembly assembly_of(const plan::BoxPlan& box, const survey::Job& job);

}  // namespace cellstow::report
