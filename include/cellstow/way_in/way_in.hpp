#pragma once
/// How each finished box gets into the car, and lid and cells out of it again.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"
#include "cellstow/way_in/cells_in.hpp"

namespace cellstow::way_in {

/// The way that is advised.
enum class Way {
  whole,             ///< the finished box in one piece, upright
  whole_tilted,      ///< the finished box, tilted
  empty_then_cells,  ///< the empty box without its lid, then the cells one by one
  cells_only,        ///< no box: cells one by one
  none,              ///< none of these
};

/// One body through every opening and to its place.
struct BodyWay {
  std::string what;                    ///< "finished box, lid on"
  double mass_kg = 0;
  std::vector<Pass> passes;            ///< one an opening, in order
  Passage passage;                     ///< looked at only when every opening is passed
  bool passes_openings() const;
  bool gets_in() const { return passes_openings() && passage.room != Room::blocked; }
  bool upright() const;                ///< no tilt in any opening
  bool decided() const { return passage.room != Room::not_decided; }
};

struct BoxWay {
  std::string mark;
  Way way = Way::none;
  bool decided = true;                 ///< false: passes its openings, the way to its place could not be followed
  std::optional<BodyWay> whole, empty;
  CellsIn cells;
  LiftOut lid;
  CellsOut cells_out;
  core::Check check;                   ///< "way in": mm by which the best way is blocked, limit 0
  std::vector<std::string> sentences;  ///< for the fabricator, the answer first
  std::vector<std::string> cautions, notes;
  /// The body and way that the drawing shows.
  const BodyWay* shown() const;
};

/// @param box     finished box; its lid lies on the walls
/// @param cavity  with at least one opening
/// @param extra   more pieces of the finished box, in their places: brackets, glands. What is not given is not counted, and a
///                note says so
BoxWay find_way_in(const box::Box& box, const survey::Cavity& cavity, const survey::Cell& cell,
                   const survey::Rules& rules, const std::vector<Piece>& extra = {});

}  // namespace cellstow::way_in
