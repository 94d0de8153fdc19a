#pragma once
/// The box in plywood: which pieces to saw, and each of them printed at true size over as many sheets as it takes.
/// Internal to report.

#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "report/drawing_sheet.hpp"
#include "report/look.hpp"
#include "report/tables.hpp"

namespace cellstow::report {

/// A flat piece of plywood, mm, lower left corner of its smallest upright rectangle at (0, 0).
struct PlyPiece {
  struct Hole { Flat centre; double diameter = 0; std::string what; };
  std::string mark, name;
  std::vector<Flat> outline;
  std::vector<Hole> holes;
  double width = 0, height = 0;
};

/// Floor, walls and lid of a box whose outer faces are those of the metal box. The walls stand on the floor and carry
/// the lid; where two meet at a corner one is shortened by the plywood's thickness, as box/plan_outline.hpp tells.
/// Empty for cells laid loose.
std::vector<PlyPiece> ply_pieces(const plan::BoxPlan& box, const survey::Rules& rules, double ply_mm);

/// One printed sheet of a piece.
struct Tile {
  std::string name;      ///< "B3": row letter from the top, column number from the left
  int row = 1, column = 1;
  Patch part;            ///< what of the piece it shows, piece mm with y downward from its upper edge
};

/// How a piece is spread over sheets of paper, overlaps included; sheets without any of the piece are left out.
struct Tiling {
  double paper_width = 0, paper_height = 0;
  int rows = 0, columns = 0;
  std::vector<Tile> tiles;
};

inline constexpr double tile_overlap = 10, check_bar = 100;   ///< mm

Tiling tiles_of(const PlyPiece& piece, survey::TilePaper paper);

/// A sheet that shows how the tiles go together, then the tiles.
DrawingSet mock_up_sheets(const survey::Job& job, const PlyPiece& piece);

/// All pieces of all boxes.
std::vector<DrawingSet> mock_ups(const survey::Job& job, const plan::Plan& plan);

/// box, mark, piece, length, width, thickness, quantity, shape
Table ply_list(const survey::Job& job, const plan::Plan& plan);

}  // namespace cellstow::report
