#pragma once
/// What packing hands on: where cells, blocks, fittings and the box around them stand.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "cellstow/core/length.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::packing {

using core::Heading;
using core::Length;
using core::Point2;
using core::Point3;
using survey::Stance;

/// An axis of the box's own frame. At heading 0: u along +x (rearward), v along +y (right); else turned by
/// the heading, see core/frame.hpp.
enum class Run { u, v };

/// A box-shaped body given by its corners in the frame of its box: x, y, z hold u, v, z. Those of a box that
/// is square with the car are the vehicle's own.
struct Cuboid {
  Point3 low, high;
  auto operator<=>(const Cuboid&) const = default;
};

struct PlacedCell {
  Cuboid body;        ///< the case; live metal may stand above it
  Stance stance = Stance::upright;
  int block = 0;      ///< id of its block
  int place = 0;      ///< 1 ... n along the block, rising u or v
};

/// Cells in a straight line along their thickness, between two end plates.
struct Block {
  int id = 0;         ///< 1 ... in one box, ordered by low corner (v, then u, at the low corner)
  int cells = 0;
  Run runs = Run::u;
  Stance stance = Stance::upright;
  Cuboid body;        ///< with end plates and strap space, from the liner up to the case tops
};

struct PlacedFitting {
  std::string name;
  survey::FittingPlace place = survey::FittingPlace::beside;
  Cuboid body;
};

/// A fitting with "fuse" in its name.
bool is_fuse(const PlacedFitting& fitting);

/// One box with all that is in it.
///
/// All of it lies in the box's own frame (u, v, z), on the whole-um grid; `heading` says how that is turned
/// against the car (core::to_car, core::to_box).
///
/// Invariant: the layout keeps every rule of docs/legal-layout.md; `outline` is counter-clockwise,
/// no three corners in line, first corner the lowest (u, then v); empty for the rule "loose".
struct BoxLayout {
  std::vector<Point2> outline;   ///< outside of the walls, in (u, v)
  Length z_bottom, lid_top;      ///< underside of the floor, top of the lid
  std::vector<Block> blocks;
  std::vector<PlacedCell> cells; ///< ordered by block, then place
  std::vector<PlacedFitting> fittings;
  Heading heading{};
};

/// Why a row does not hold one more cell: "needs 464 mm, there are 415".
struct RowShortfall {
  Length at;            ///< middle of the row across the strips (v for rows along u, u along v)
  Run along = Run::u;   ///< direction of the strip
  int cells = 0;        ///< cells in the longest free run of this row
  Length needed;        ///< run length that one more cell needs
  Length available;     ///< longest free run there is
  bool whole_row = false;  ///< true: not one more cell, but one more row of `cells`; needed/available are across the rows
  std::string limited_by;  ///< wall or keep-out nearest to the short end; may be empty
  Heading heading{};    ///< of the box
  Length middle;        ///< middle of that run along the strip, with `at` a point of the box's frame
};

/// The packing of one cavity under one reading between the sections.
struct CavityPacking {
  std::vector<BoxLayout> boxes;
  int cells = 0;
  int bound = 0;                 ///< no legal arrangement holds more
  bool proven = false;           ///< cells == bound
  std::vector<std::string> notes;       ///< what was left untried, and why
  std::vector<RowShortfall> shortfalls; ///< most telling first
  std::vector<std::string> fittings_without_place;
  long long steps = 0;           ///< work done, in strip evaluations: the same on every run
};

/// How many cells hang on the reading between two sections.
struct ReadingComparison {
  int common_cells = 0;
  std::optional<int> straight_cells;    ///< empty where outlines do not match vertex by vertex
  std::string why_not;                  ///< when empty
  std::optional<Length> measure_at;     ///< station where one more section would decide most
  int decided_there = 0;                ///< cells more, if its walls are straight
  bool least = false;                   ///< the reading that the sections do not ask for may hold more than its count
};

}  // namespace cellstow::packing
