#include "bay_region.hpp"

#include <algorithm>

namespace cellstow::packing {
namespace {

/// More levels than this are no right-angled cavity of a tape measure.
constexpr std::size_t most_levels = 64;

bool right_angled(const region::FreePlan& plan) {
  for (const geometry::Wall& wall : plan.walls(region::Strips::along_x)) {
    for (const geometry::Loop& loop : wall.loops()) {
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const auto &a = loop[i], &b = loop[(i + 1) % loop.size()];
        if (a.s != b.s && a.t != b.t) return false;
      }
    }
  }
  return true;
}

/// Levels moved by the shell either way.
std::vector<Um> shifted(const std::vector<Um>& levels, Um shell) {
  std::vector<Um> lines;
  for (const Um level : levels) lines.insert(lines.end(), {level - shell, level + shell});
  std::sort(lines.begin(), lines.end());
  lines.erase(std::unique(lines.begin(), lines.end()), lines.end());
  return lines;
}

/// Lines of the grid that the region changes at; the rest goes.
BayRegion simplified(const BayRegion& wide, Um& x, Um& y) {
  const auto keeps_column = [&](std::size_t i) {
    for (std::size_t row = 0; row < wide.rows(); ++row) {
      const bool before = i > 0 && wide.is_free(i - 1, row), after = i < wide.columns() && wide.is_free(i, row);
      if (before != after) return true;
    }
    return false;
  };
  const auto keeps_row = [&](std::size_t j) {
    for (std::size_t column = 0; column < wide.columns(); ++column) {
      const bool before = j > 0 && wide.is_free(column, j - 1), after = j < wide.rows() && wide.is_free(column, j);
      if (before != after) return true;
    }
    return false;
  };
  std::vector<std::size_t> at_x, at_y;
  for (std::size_t i = 0; i < wide.x.size(); ++i) if (keeps_column(i)) at_x.push_back(i);
  for (std::size_t j = 0; j < wide.y.size(); ++j) if (keeps_row(j)) at_y.push_back(j);
  BayRegion region;
  x = wide.x[at_x.front()];
  y = wide.y[at_y.front()];
  for (const std::size_t i : at_x) region.x.push_back(wide.x[i] - x);
  for (const std::size_t j : at_y) region.y.push_back(wide.y[j] - y);
  for (std::size_t i = 0; i + 1 < at_x.size(); ++i) {
    for (std::size_t j = 0; j + 1 < at_y.size(); ++j) region.free.push_back(wide.is_free(at_x[i], at_y[j]));
  }
  return region;
}

std::vector<PlacedRegion> connected_parts(const BayRegion& grid) {
  std::vector<int> part(grid.free.size(), -1);
  int count = 0;
  for (std::size_t start = 0; start < part.size(); ++start) {
    if (!grid.free[start] || part[start] >= 0) continue;
    std::vector<std::size_t> open{start};
    part[start] = count;
    const auto go = [&](std::size_t to) {
      if (!grid.free[to] || part[to] >= 0) return;
      part[to] = count;
      open.push_back(to);
    };
    while (!open.empty()) {
      const std::size_t at = open.back(), column = at / grid.rows(), row = at % grid.rows();
      open.pop_back();
      if (column > 0) go(at - grid.rows());
      if (column + 1 < grid.columns()) go(at + grid.rows());
      if (row > 0) go(at - 1);
      if (row + 1 < grid.rows()) go(at + 1);
    }
    ++count;
  }
  std::vector<PlacedRegion> regions;
  for (int k = 0; k < count; ++k) {
    BayRegion one = grid;
    for (std::size_t i = 0; i < part.size(); ++i) one.free[i] = part[i] == k;
    PlacedRegion placed;
    placed.region = simplified(one, placed.x, placed.y);
    regions.push_back(std::move(placed));
  }
  return regions;
}

}  // namespace

std::string BayRegion::key() const {
  std::string key;
  const auto add = [&](Um value) { key.append(reinterpret_cast<const char*>(&value), sizeof value); };
  add(static_cast<Um>(x.size()));
  for (const Um value : x) add(value);
  for (const Um value : y) add(value);
  key.append(free.begin(), free.end());
  return key;
}

BayRegion swapped_region(const BayRegion& region) {
  BayRegion turned{region.y, region.x, {}};
  for (std::size_t j = 0; j < region.rows(); ++j) {
    for (std::size_t i = 0; i < region.columns(); ++i) turned.free.push_back(region.is_free(i, j));
  }
  return turned;
}

std::vector<PlacedRegion> regions_of(const region::FreePlan& plan, Um shell_x, Um shell_y) {
  if (!right_angled(plan)) return {};
  BayRegion grid;
  grid.y = shifted(plan.levels(region::Strips::along_x, most_levels), shell_y);
  grid.x = shifted(plan.levels(region::Strips::along_y, most_levels), shell_x);
  if (grid.x.size() < 2 || grid.y.size() < 2) return {};
  for (std::size_t i = 0; i + 1 < grid.x.size(); ++i) {
    for (std::size_t j = 0; j + 1 < grid.y.size(); ++j) {
      grid.free.push_back(plan.covers(grid.x[i] - shell_x, grid.x[i + 1] + shell_x, grid.y[j] - shell_y, grid.y[j + 1] + shell_y));
    }
  }
  return connected_parts(grid);
}

}  // namespace cellstow::packing
