#pragma once
/// The two cables of every box: which wall, how far along, how high, how they bend.

#include "cellstow/wiring/cabling.hpp"
#include "cellstow/wiring/exit.hpp"
#include "cellstow/wiring/wiring.hpp"

namespace cellstow::wiring {

/// One end of the string's part in a box.
struct BoxExit {
  int box = 0;                       ///< index of the box as given
  int cell = 0;                      ///< number
  Pole pole = Pole::minus;
  bool by_fuse = false;              ///< the cable leaves from the fuse of the box
  std::optional<Exit> way;           ///< empty when none was found, or none looked for: why_not
  std::string wall;                  ///< "rear wall"
  std::string from_corner;           ///< "left": along_mm is counted from the wall's end on this side
  double along_mm = 0, z_mm = 0;     ///< centre of the gland: along the wall's outer face, above the ground
  std::string why_not;
};

struct Exits {
  std::vector<BoxExit> exits;        ///< two a box, in string order
  std::vector<core::Check> checks;   ///< that the cable passes between the cases and the lid, one a box
  std::vector<std::string> notes;
};

/// Cables run over the cases, under the lid; out through a wall, never through the lid.
/// @pre wiring made from the same boxes; cabling has a cable
Exits find_exits(const survey::Cell& cell, const survey::Rules& rules, const std::vector<BoxOfCells>& boxes, const Wiring& wiring,
                 const CableChoice& cable);

}  // namespace cellstow::wiring
