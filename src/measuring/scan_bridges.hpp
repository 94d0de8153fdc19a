#pragma once
/// Open ends of scanned wall and the straight lines that could join them.

#include "cellstow/measuring/scan_free_space.hpp"

namespace cellstow::measuring::scan {

/// The pieces joined at equal ends.
struct PieceGraph {
  std::vector<PointUm> points;                 ///< rising
  std::vector<std::array<std::size_t, 2>> edges;
  std::vector<std::vector<std::size_t>> edges_at;
  std::vector<std::size_t> component;          ///< one a point: the lowest point it hangs together with

  bool is_open_end(std::size_t point) const { return edges_at[point].size() == 1; }
};

/// @param pieces  none twice
PieceGraph graph_of(std::span<const WallPiece> pieces);

struct PossibleBridge {
  double length_um = 0;
  Bridge line;
  auto operator<=>(const PossibleBridge&) const = default;
};

/// Between open ends, and from each open end to the nearest wall, shortest first. A bridge back to the end's own wall
/// counts only where the way along the wall is clearly longer than the bridge: 1.2 times, or twice for an end that has another end to join.
std::vector<PossibleBridge> possible_bridges(const PieceGraph& graph, double longest_um);

}  // namespace cellstow::measuring::scan
