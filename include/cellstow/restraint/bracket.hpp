#pragma once
/// Brackets: once folded, welded to a wall of the box, from there to one of the car's own fixings.

#include <array>
#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/restraint/link.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::restraint {

using core::Kg;
using core::Length;
using core::Point2;

/// Part of a bracket as it stands in the car: a plan outline between two heights.
struct BracketPiece {
  std::string name;
  std::vector<Point2> outline;
  Length low, high;
};

/// Seen on its wall: the foot stands off the wall at the fixing, the leg lies flat on the wall.
struct Bracket {
  std::string mark;              ///< "TW-BR-T1"
  std::string fixing, wall;      ///< wall as its panel is named: "left 1"
  std::string material;
  Length thickness, bend_radius;
  Length foot, leg;              ///< outside, from the fold: out from the wall; along the wall
  Length width;                  ///< of the leg, along the fold
  Length foot_beyond;            ///< foot wider than the leg by this, towards the bolt; 0 mostly
  bool beyond_is_right = true;   ///< on which side, seen from outside with the foot below
  bool gussets = false;          ///< two flat triangles welded in, one at each side
  Length gusset_out, gusset_up;
  Length doubler;                ///< thickness of a plate welded on the wall behind the leg; 0 for none
  Length hole, hole_out;         ///< bolt hole, and its middle from the wall's face
  Length hole_beside;            ///< its middle from the leg's middle; positive on the side of `beyond_is_right`
  Length slot;                   ///< overall length; equal to `hole` for a round one
  bool slot_out = false;         ///< the slot runs out from the wall; else along the fold
  std::string reach;             ///< how the head is reached
  std::string fold;              ///< "level" or "upright"
  Kg mass;                       ///< with gussets and doubler
  std::vector<BracketPiece> pieces;
  std::vector<Link> links;
};

/// A fixing with the wall that a bracket can start from; local axes: d out from the wall's face, p along the fixing's
/// axis, q along the fold.
struct BracketPlace {
  std::size_t wall = 0;
  std::string wall_name;
  std::array<double, 2> origin_mm{}, along{}, out{};  ///< of the wall, in the box's frame
  bool level_fold = true;             ///< the fixing's axis is upright
  double d_mm = 0, p_mm = 0, q_mm = 0;       ///< the fixing
  double p_low_mm = 0, p_high_mm = 0, q_low_mm = 0, q_high_mm = 0;  ///< face of the wall
  int side = 1;                       ///< of the bolt head and the leg along p: 1 or -1
  double beyond_mm = 0;               ///< how far the fixing lies off the face along p; 0 beside it
};

struct PlaceResult {
  std::vector<BracketPlace> places;   ///< shortest levers first
  std::string why_not;                ///< when empty
};

/// Walls of the box from which a once-folded bracket reaches the fixing without meeting a keep-out.
PlaceResult bracket_places(const box::Box& box, const survey::Cavity& cavity, const survey::Rules& rules,
                           const survey::Fixing& fixing, const survey::Thread& thread);

/// A force of the box on the bolt in one load case, car frame, N.
struct BracketLoad { std::string load_case; std::array<double, 3> force_n{}; };

/// The lightest bracket at one place that holds; when none does, the least overloaded.
///
/// @param round_hole  true for the one bracket of the box whose hole is not slotted
/// @param slot_out    direction of the slot
Bracket design_bracket(const box::Box& box, const survey::Cavity& cavity, const survey::Rules& rules,
                       const survey::Fixing& fixing, const survey::Thread& thread, const BracketPlace& place,
                       const std::vector<BracketLoad>& loads, bool round_hole, bool slot_out);

}  // namespace cellstow::restraint
