#include "bay_lines.hpp"

#include <algorithm>

namespace cellstow::packing {
namespace {

void keep_once(std::vector<Um>& values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
}

/// So far from a wall, on the side of it that is free.
std::vector<Um> sums_from_walls(const BayRegion& region, bool on_x, const std::vector<Um>& sums, bool up) {
  const std::vector<Um> &along = on_x ? region.x : region.y, &across = on_x ? region.y : region.x;
  const auto free = [&](std::size_t i, std::size_t j) {
    return i < along.size() - 1 && (on_x ? region.is_free(i, j) : region.is_free(j, i));
  };
  std::vector<Um> all;
  for (std::size_t i = 0; i < along.size(); ++i) {
    bool wall = false;
    for (std::size_t j = 0; j + 1 < across.size(); ++j) {
      const bool below = i > 0 && free(i - 1, j), above = free(i, j);
      wall |= up ? above && !below : below && !above;
    }
    if (!wall) continue;
    for (const Um sum : sums) {
      const Um at = up ? along[i] + sum : along[i] - sum;
      if (at >= 0 && at <= along.back()) all.push_back(at);
    }
  }
  keep_once(all);
  return all;
}

/// Where cells can begin when those that begin below some line are pushed down the axis and the others up it. The line is put where fewest
/// places are left.
std::vector<Um> places(const BayRegion& region, bool on_x, const std::vector<Um>& sums) {
  const std::vector<Um> down = sums_from_walls(region, on_x, sums, true), up = sums_from_walls(region, on_x, sums, false);
  std::vector<Um> lines = down;
  lines.insert(lines.end(), up.begin(), up.end());
  std::sort(lines.begin(), lines.end());
  std::vector<Um> best = down;
  for (const Um line : lines) {
    std::vector<Um> here(down.begin(), std::lower_bound(down.begin(), down.end(), line));
    here.insert(here.end(), std::lower_bound(up.begin(), up.end(), line), up.end());
    if (here.size() < best.size()) best = std::move(here);
  }
  return best;
}

BayAxis axis(const BayRegion& region, bool on_x, const std::vector<Um>& sums, Um long_side, Um short_side) {
  const std::vector<Um>& edges = on_x ? region.x : region.y;
  const std::vector<Um> begins = places(region, on_x, sums);
  BayAxis axis;
  axis.at = edges;
  for (const Um at : begins) {
    for (const Um line : {at, at + short_side, at + long_side}) {
      if (line <= edges.back()) axis.at.push_back(line);
    }
  }
  keep_once(axis.at);
  const auto line_at = [&](Um at) {
    const auto found = std::lower_bound(axis.at.begin(), axis.at.end(), at);
    return found == axis.at.end() || *found != at ? no_line : static_cast<Line>(found - axis.at.begin());
  };
  for (const Um edge : edges) axis.edges.push_back(line_at(edge));
  axis.place.assign(axis.at.size(), no_line);
  Line next = no_line;
  for (std::size_t i = axis.at.size(); i-- > 0;) {
    if (std::binary_search(begins.begin(), begins.end(), axis.at[i])) next = static_cast<Line>(i);
    axis.place[i] = next;
  }
  for (const Um at : axis.at) {
    const auto beyond = static_cast<std::size_t>(std::upper_bound(edges.begin(), edges.end(), at) - edges.begin());
    const auto before = static_cast<std::size_t>(std::lower_bound(edges.begin(), edges.end(), at) - edges.begin());
    axis.slab.push_back(std::min(beyond, edges.size() - 1) - 1);
    axis.slab_before.push_back(std::max<std::size_t>(before, 1) - 1);
    axis.past_long.push_back(line_at(at + long_side));
    axis.past_short.push_back(line_at(at + short_side));
  }
  return axis;
}

}  // namespace

SideSums::SideSums(Um longest, Um long_side, Um short_side) : stretch_(std::max<Um>(1, short_side / 8)) {
  for (Um i = 0; i * long_side <= longest; ++i) {
    for (Um sum = i * long_side; sum <= longest; sum += short_side) sums_.push_back(sum);
  }
  keep_once(sums_);
  std::size_t last = 0;
  for (Um begin = 0; begin <= longest; begin += stretch_) {
    while (last + 1 < sums_.size() && sums_[last + 1] <= begin) ++last;
    last_.push_back(last);
  }
}

Um SideSums::left_over(Um length) const {
  std::size_t last = last_[static_cast<std::size_t>(length / stretch_)];
  while (last + 1 < sums_.size() && sums_[last + 1] <= length) ++last;
  return length - sums_[last];
}

BayLines::BayLines(const BayRegion& region, Um long_side, Um short_side)
    : region_(region), sums_(std::max(region.x.back(), region.y.back()), long_side, short_side),
      x_(axis(region, true, sums_.all(), long_side, short_side)), y_(axis(region, false, sums_.all(), long_side, short_side)) {
  for (std::size_t row = 0; row < region.rows(); ++row) {
    free_rows_.push_back(1);
    for (std::size_t column = 0; column < region.columns(); ++column) free_rows_.back() &= region.is_free(column, row);
  }
  walls_.assign((region.columns() + 1) * (region.rows() + 1), 0);
  const auto walls = [&](std::size_t i, std::size_t j) -> int& { return walls_[i * (region.rows() + 1) + j]; };
  for (std::size_t i = 0; i < region.columns(); ++i) {
    for (std::size_t j = 0; j < region.rows(); ++j) {
      walls(i + 1, j + 1) = walls(i, j + 1) + walls(i + 1, j) - walls(i, j) + (region.is_free(i, j) ? 0 : 1);
    }
  }
  list_open_up();
  list_open_across();
}

void BayLines::list_open_up() {
  for (std::size_t column = 0; column < region_.columns(); ++column) {
    for (const Um from : y_.at) {
      Um open = 0, run = 0;
      for (std::size_t row = 0; row <= region_.rows(); ++row) {
        if (row < region_.rows() && region_.is_free(column, row)) {
          run += std::max(Um{0}, region_.y[row + 1] - std::max(region_.y[row], from));
        } else {
          open += sums_.left_over(run);
          run = 0;
        }
      }
      open_up_.push_back(open);
    }
  }
}

void BayLines::list_open_across() {
  std::vector<Um> in_row;   // um a line
  for (std::size_t row = 0; row < region_.rows(); ++row) {
    Um open = 0, run = 0;
    for (std::size_t column = 0; column <= region_.columns(); ++column) {
      if (column < region_.columns() && region_.is_free(column, row)) {
        run += region_.x[column + 1] - region_.x[column];
      } else {
        open += sums_.left_over(run);
        run = 0;
      }
    }
    in_row.push_back(open);
  }
  open_across_.assign(y_.at.size(), 0);
  for (std::size_t i = y_.at.size() - 1; i-- > 0;) {
    open_across_[i] = open_across_[i + 1] + in_row[y_.slab[i]] * (y_.at[i + 1] - y_.at[i]);
  }
}

Um BayLines::free_area(Line x_low, Line x_high, Line y_low, Line y_high) const {
  if (is_free(x_low, x_high, y_low, y_high)) return x_.span(x_low, x_high) * y_.span(y_low, y_high);
  const Um from_x = x_.at[index(x_low)], to_x = x_.at[index(x_high)];
  const Um from_y = y_.at[index(y_low)], to_y = y_.at[index(y_high)];
  Um area = 0;
  for (std::size_t i = x_.slab[index(x_low)]; i <= x_.slab_before[index(x_high)]; ++i) {
    const Um width = std::min(to_x, region_.x[i + 1]) - std::max(from_x, region_.x[i]);
    for (std::size_t j = y_.slab[index(y_low)]; j <= y_.slab_before[index(y_high)]; ++j) {
      if (region_.is_free(i, j)) area += width * (std::min(to_y, region_.y[j + 1]) - std::max(from_y, region_.y[j]));
    }
  }
  return area;
}

bool BayLines::is_free(Line x_low, Line x_high, Line y_low, Line y_high) const {
  const std::size_t rows = region_.rows() + 1;
  const std::size_t i = x_.slab[index(x_low)] * rows, k = (x_.slab_before[index(x_high)] + 1) * rows;
  const std::size_t j = y_.slab[index(y_low)], m = y_.slab_before[index(y_high)] + 1;
  return walls_[k + m] - walls_[i + m] - walls_[k + j] + walls_[i + j] == 0;
}

}  // namespace cellstow::packing
