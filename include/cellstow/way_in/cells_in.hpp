#pragma once
/// Cells one by one into a box that already stands in the car; lid and cells out of it again.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/way_in/passage.hpp"

namespace cellstow::way_in {

/// A cell that something overhangs.
struct UnderRoof {
  int block = 0, place = 0;
  double slide_mm = 0;        ///< how far it is pushed along inside the box; 0 when it cannot be
  std::string towards;        ///< "front", "rear", "left", "right"
  std::string what;           ///< what overhangs it
};

/// Where each cell of a box comes from, with the lid off.
struct CellsIn {
  bool looked_at = false;     ///< only where the last opening is passed downward
  std::vector<Pass> passes;   ///< one cell through every opening
  int from_above = 0;         ///< cells that drop straight to their places
  std::vector<UnderRoof> pushed;   ///< first these, in this order
  std::vector<UnderRoof> cannot;
  std::vector<std::string> take_out;  ///< removable keep-outs over places
  bool all_in() const;
};

/// Order of cells: the column over a cell's place, from its foot up to the opening, is either free, and the cell drops straight in; or
/// overhung, and then it must be let down beside the overhang and pushed along at its own height, in a straight line along or across the
/// box, inside it. Overhung cells go in before all others, the farthest to be pushed first.
CellsIn cells_in(const box::Box& box, const survey::Cavity& cavity, const survey::Cell& cell,
                 const survey::Rules& rules);

/// Room for lifting something off.
struct LiftOut {
  bool looked_at = false;
  double needed_mm = 0;
  std::optional<double> room_mm;      ///< empty: open as far as the opening
  std::vector<std::string> take_out;  ///< removable keep-outs that must be out first
  std::string limited_by;
  bool ok() const { return looked_at && (!room_mm || *room_mm >= needed_mm); }
};

/// Over the lid there must be its own thickness and the height of the posts over the case.
LiftOut lid_out(const box::Box& box, const survey::Cavity& cavity, const survey::Cell& cell,
                const survey::Rules& rules);

/// A cell comes out over the box's mouth: its whole height with posts must be clear above the lid's underside, over its own place.
struct CellsOut {
  bool looked_at = false;
  int can = 0;
  std::vector<UnderRoof> cannot;      ///< slide_mm not used
  double needed_mm = 0, least_room_mm = 0;  ///< room of the worst cell
};
CellsOut cells_out(const box::Box& box, const survey::Cavity& cavity, const survey::Cell& cell,
                   const survey::Rules& rules);

}  // namespace cellstow::way_in
