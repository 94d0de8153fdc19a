#pragma once
/// One sheet part with all that is needed to cut, etch, fold, draw and weigh it.

#include <string>
#include <vector>

#include "cellstow/core/quantity.hpp"
#include "cellstow/fabrication/flat.hpp"
#include "cellstow/fabrication/solid.hpp"

namespace cellstow::fabrication {

enum class PartKind { pan, wrap, floor, wall, end, lid, flange, lid_tab, plate, strap };

/// A part and its mirror image are two parts; most sheet parts have no hand.
enum class Hand { none, left, right };

/// Which way the etched arrow points: along -a towards the front of the car, or along +b upwards.
enum class Arrow { none, front, up };

/// A weld of this part to another, or of two of its own edges.
struct WeldNote {
  std::string what;      ///< "corner seam to TW-WALL-LEFT-1, from outside"
  double length = 0;     ///< mm, one seam
  int quantity = 1;
};

struct SheetPart {
  std::string mark;      ///< stable: hangs on the outline alone, see docs/glossary.md
  std::string revision;  ///< of the job: "A"
  std::string name;      ///< "floor", "lid", "wall, front 1"
  PartKind kind = PartKind::plate;
  std::string material;
  double thickness = 0;  ///< mm
  int quantity = 1;
  Hand hand = Hand::none;
  Arrow arrow = Arrow::none;
  FlatPattern flat;
  std::vector<FoldedSolid> folded;     ///< each piece where it stands: as many as `quantity`
  std::vector<WeldNote> welds;
  std::vector<std::string> notes;      ///< what the shop should read beside the drawing
  core::Kg mass;         ///< one piece, holes taken off
};

std::string to_text(PartKind kind);
std::string to_text(Hand hand);

}  // namespace cellstow::fabrication
