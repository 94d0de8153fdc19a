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

/// Connected parts; no way leads over the walls to the left of the grid rectangles named in `walled`.
std::vector<PlacedRegion> parts(const BayRegion& grid, const std::vector<char>& walled) {
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
      if (column > 0 && !walled[at]) go(at - grid.rows());
      if (column + 1 < grid.columns() && !walled[at + grid.rows()]) go(at + grid.rows());
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

/// The column that holds `at` is parted there.
BayRegion with_line(const BayRegion& region, Um at, std::size_t& column) {
  BayRegion grid = region;
  const auto next = std::lower_bound(grid.x.begin(), grid.x.end(), at);
  column = static_cast<std::size_t>(next - grid.x.begin());
  if (*next == at) return grid;
  const auto rows = static_cast<std::ptrdiff_t>(grid.rows());
  const auto from = grid.free.begin() + static_cast<std::ptrdiff_t>(column - 1) * rows;
  const std::vector<char> copy(from, from + rows);
  grid.x.insert(next, at);
  grid.free.insert(from, copy.begin(), copy.end());
  return grid;
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
  return parts(grid, std::vector<char>(grid.free.size(), 0));
}

std::vector<std::pair<PlacedRegion, PlacedRegion>> cut_along(const BayRegion& region, Um at, bool swapped) {
  if (swapped) {
    auto cuts = cut_along(swapped_region(region), at, false);
    for (auto& [one, other] : cuts) {
      for (PlacedRegion* part : {&one, &other}) *part = {swapped_region(part->region), part->y, part->x};
    }
    return cuts;
  }
  std::size_t column = 0;
  const BayRegion grid = with_line(region, at, column);
  std::vector<std::pair<PlacedRegion, PlacedRegion>> cuts;
  std::vector<char> all(grid.free.size(), 0), run = all;
  const auto crossed = [&](std::size_t row) { return grid.is_free(column - 1, row) && grid.is_free(column, row); };
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    if (!crossed(row)) continue;
    all[column * grid.rows() + row] = run[column * grid.rows() + row] = 1;
    if (row + 1 < grid.rows() && crossed(row + 1)) continue;
    auto two = parts(grid, run);
    if (two.size() == 2) cuts.emplace_back(std::move(two[0]), std::move(two[1]));
    std::fill(run.begin(), run.end(), 0);
  }
  if (!cuts.empty()) return cuts;
  auto two = parts(grid, all);
  if (two.size() == 2) cuts.emplace_back(std::move(two[0]), std::move(two[1]));
  return cuts;
}

std::optional<PlacedCutPiece> as_piece(const BayRegion& region) {
  const int X = static_cast<int>(region.x.back()), Y = static_cast<int>(region.y.back());
  if (region.free.size() == 1) return PlacedCutPiece{{X, Y, X, Y}, {}};
  if (region.columns() != 2 || region.rows() != 2) return std::nullopt;
  for (std::size_t i = 0; i < 2; ++i) {
    for (std::size_t j = 0; j < 2; ++j) {
      const int missing = static_cast<int>(std::count(region.free.begin(), region.free.end(), 0));
      if (missing != 1 || region.is_free(i, j)) continue;
      const int x = static_cast<int>(region.x[1]), y = static_cast<int>(region.y[1]);
      const Frame frame{i == 1 ? 0 : X, j == 1 ? 0 : Y, i == 1 ? 1 : -1, j == 1 ? 1 : -1};
      return PlacedCutPiece{{X, Y, i == 1 ? x : X - x, j == 1 ? y : Y - y}, frame};
    }
  }
  return std::nullopt;
}

}  // namespace cellstow::packing
