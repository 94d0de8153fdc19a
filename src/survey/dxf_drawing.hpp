#pragma once
/// A drawing exchange file taken apart into its pairs of group code and value: what stands on which layer, and in which line.
/// Source: the published DXF reference, group codes in order and by object type (from memory)

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cellstow/measuring/drawn_outline.hpp"
#include "problem_log.hpp"

namespace cellstow::survey {

struct DxfGroup {
  int code = 0;
  std::string value;  ///< without the blanks round it
  int line = 0;       ///< of the value
};

/// A thing drawn: LINE, ARC, ... A POLYLINE has its VERTEX groups behind its own, up to its SEQEND.
struct DxfEntity {
  std::string type, layer = "0";
  int line = 0;
  bool on_paper = false;        ///< stands in the paper's space, not in the drawing's
  std::vector<DxfGroup> groups; ///< the first one is code 0
};

struct DxfDrawing {
  std::optional<int> unit_code;  ///< $INSUNITS; 0 means none
  std::vector<DxfEntity> entities;
};

/// @error E230 not such a file, ends early, a group code that is none; with the line
std::optional<DxfDrawing> parse_dxf(std::string_view bytes, ProblemLog& log);

/// What stands on one layer, in the units of the drawing.
struct LayerPieces {
  std::vector<measuring::DrawnPiece> pieces;
  int arcs = 0;                        ///< pieces that are round
  std::vector<std::string> left_aside; ///< "2 TEXT": lettering and dimensions, which are no outline
};

inline constexpr std::size_t most_pieces = 2000;

/// Lines, arcs, circles and polylines of a layer.
/// @error E230 a number that is none, E232 nothing on the layer, E233 what is no line, arc or polyline, or not flat
std::optional<LayerPieces> pieces_on_layer(const DxfDrawing& drawing, const std::string& layer, ProblemLog& log);

/// Reads entities whose groups have been checked; the values come from the DXF library.
std::vector<measuring::DrawnPiece> drawn_pieces(const std::vector<const DxfEntity*>& entities);

}  // namespace cellstow::survey
