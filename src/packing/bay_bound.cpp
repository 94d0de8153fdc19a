#include "bay_bound.hpp"

#include <algorithm>
#include <map>

#include "pallet_bound.hpp"

namespace cellstow::packing {
namespace {

/// Free runs of the lines along x, or along y, and over what depth there are such lines.
using Runs = std::map<Um, Um>;

Runs runs_of(const std::vector<PlacedRegion>& regions, bool along_x) {
  Runs runs;
  for (const PlacedRegion& placed : regions) {
    const BayRegion& region = placed.region;
    const std::vector<Um> &along = along_x ? region.x : region.y, &across = along_x ? region.y : region.x;
    const auto free = [&](std::size_t i, std::size_t slab) { return along_x ? region.is_free(i, slab) : region.is_free(slab, i); };
    for (std::size_t slab = 0; slab + 1 < across.size(); ++slab) {
      for (std::size_t i = 0, from = 0; i + 1 < along.size(); ++i) {
        if (!free(i, slab)) {
          from = i + 1;
        } else if (i + 2 == along.size() || !free(i + 1, slab)) {
          runs[along[i + 1] - along[from]] += across[slab + 1] - across[slab];
        }
      }
    }
  }
  return runs;
}

__extension__ typedef __int128 Wide;

/// of_along (cells along the line) + of_across (cells across it) <= most.
struct Inequality { Wide of_along, of_across, most; };

std::vector<Inequality> inequalities(const Runs& runs, Um long_side, Um short_side) {
  std::vector<std::pair<Partitions, Um>> lines;
  std::vector<std::pair<long long, long long>> weights;
  for (const auto& [length, depth] : runs) {
    lines.emplace_back(partitions(length, long_side, short_side), depth);
    for (const LineWeights& edge : hull_edges(lines.back().first)) weights.emplace_back(edge.of_long, edge.of_short);
  }
  std::sort(weights.begin(), weights.end());
  weights.erase(std::unique(weights.begin(), weights.end()), weights.end());
  std::vector<Inequality> all;
  for (const auto& [of_long, of_short] : weights) {
    Inequality one{Wide{of_long} * short_side, Wide{of_short} * long_side, 0};
    for (const auto& [pairs, depth] : lines) {
      long long most = 0;
      for (const auto& [i, j] : pairs) most = std::max(most, of_long * i + of_short * j);
      one.most += Wide{most} * depth;
    }
    all.push_back(one);
  }
  return all;
}

}  // namespace

int bay_bound(const std::vector<PlacedRegion>& regions, Um long_side, Um short_side) {
  const auto x_lines = inequalities(runs_of(regions, true), long_side, short_side);
  const auto y_lines = inequalities(runs_of(regions, false), long_side, short_side);
  const auto keeps = [](const std::vector<Inequality>& lines, int along, int across) {
    return std::all_of(lines.begin(), lines.end(), [&](const Inequality& line) {
      return line.of_along * along + line.of_across * across <= line.most;
    });
  };
  if (x_lines.empty() || y_lines.empty()) return 0;
  int cells = 0;
  for (int along_x = 0; keeps(x_lines, along_x, 0) && keeps(y_lines, 0, along_x); ++along_x) {
    for (int along_y = std::max(0, cells + 1 - along_x); keeps(x_lines, along_x, along_y) && keeps(y_lines, along_y, along_x); ++along_y) {
      cells = std::max(cells, along_x + along_y);
    }
  }
  return cells;
}

}  // namespace cellstow::packing
