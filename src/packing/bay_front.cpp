#include "bay_front.hpp"

#include <algorithm>

namespace cellstow::packing {
namespace {

/// Sums of sides from 0 up to `longest`, rising.
std::vector<Um> sums_of(Um longest, Um long_side, Um short_side) {
  std::vector<Um> sums;
  for (Um i = 0; i * long_side <= longest; ++i) {
    for (Um sum = i * long_side; sum <= longest; sum += short_side) sums.push_back(sum);
  }
  std::sort(sums.begin(), sums.end());
  sums.erase(std::unique(sums.begin(), sums.end()), sums.end());
  return sums;
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
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
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

std::size_t slab(const std::vector<Um>& edges, Um at) {
  return static_cast<std::size_t>(std::upper_bound(edges.begin(), edges.end(), at) - edges.begin()) - 1;
}

}  // namespace

BayFrontSearch::BayFrontSearch(const BayRegion& region, Um long_side, Um short_side, int cells)
    : region_(region), long_side_(long_side), short_side_(short_side), cells_(cells),
      sums_(sums_of(std::max(region.x.back(), region.y.back()), long_side, short_side)),
      x_places_(places(region, true, sums_)), y_places_(places(region, false, sums_)) {
  to_waste_ = free_area(0, region.x.back(), 0, region.y.back()) - cells * long_side * short_side;
}

Answer BayFrontSearch::run(long long budget, long long& steps) {
  left_ = budget;
  front_ = {{region_.x.back(), 0}};
  const bool found = to_waste_ >= 0 && fill();
  steps += budget - left_;
  return found ? Answer::reached : left_ > 0 ? Answer::refused : Answer::given_up;
}

Um BayFrontSearch::free_area(Um x_low, Um x_high, Um y_low, Um y_high) const {
  Um area = 0;
  for (std::size_t i = 0; i < region_.columns(); ++i) {
    const Um width = std::min(x_high, region_.x[i + 1]) - std::max(x_low, region_.x[i]);
    if (width <= 0) continue;
    for (std::size_t j = 0; j < region_.rows(); ++j) {
      const Um depth = std::min(y_high, region_.y[j + 1]) - std::max(y_low, region_.y[j]);
      if (depth > 0 && region_.is_free(i, j)) area += width * depth;
    }
  }
  return area;
}

std::size_t BayFrontSearch::lowest() const {
  std::size_t lowest = 0;
  for (std::size_t i = 1; i < front_.size(); ++i) {
    if (front_[i].height < front_[lowest].height) lowest = i;
  }
  return lowest;
}

/// What lies on a wall rises to the wall's far side.
void BayFrontSearch::absorb() {
  for (bool risen = true; risen;) {
    risen = false;
    for (std::size_t at = 0; at < front_.size() && !risen; ++at) {
      const Um y = front_[at].height;
      if (y == region_.y.back()) continue;
      const std::size_t row = slab(region_.y, y);
      for (std::size_t column = slab(region_.x, low_end(at)); column < region_.columns() && region_.x[column] < front_[at].end; ++column) {
        if (region_.is_free(column, row)) continue;
        const Um from = std::max(low_end(at), region_.x[column]), to = std::min(front_[at].end, region_.x[column + 1]);
        if (from > low_end(at)) {
          front_.insert(front_.begin() + static_cast<std::ptrdiff_t>(at), {from, y});
          ++at;
        }
        raise(at, to - from, region_.y[row + 1]);
        risen = true;
        break;
      }
    }
  }
}

bool BayFrontSearch::fill() {
  if (static_cast<int>(placed_.size()) == cells_) return true;
  if (--left_ <= 0) return false;
  absorb();
  if (wastes_too_much() || seen_before()) return false;
  const std::size_t at = lowest();
  if (front_[at].height == region_.y.back()) return false;
  return place(at, true) || place(at, false) || waste(at);
}

/// A cell at the low end of a stretch, long side along the front or square to it.
bool BayFrontSearch::place(std::size_t at, bool along) {
  const Um width = along ? long_side_ : short_side_, depth = along ? short_side_ : long_side_;
  const Um x = low_end(at), y = front_[at].height;
  if (x + width > front_[at].end || y + depth > region_.y.back()) return false;
  if (!std::binary_search(x_places_.begin(), x_places_.end(), x) || !std::binary_search(y_places_.begin(), y_places_.end(), y)) return false;
  if (free_area(x, x + width, y, y + depth) < width * depth) return false;
  const std::vector<Stretch> before = front_;
  placed_.push_back({x, y, along});
  raise(at, width, y + depth);
  if (fill()) return true;
  placed_.pop_back();
  front_ = before;
  return false;
}

/// Nothing stands in the low corner of the stretch: as far as the next places where anything could begin.
bool BayFrontSearch::waste(std::size_t at) {
  const auto next = [](const std::vector<Um>& places, Um here, Um last) {
    const auto found = std::upper_bound(places.begin(), places.end(), here);
    return found == places.end() ? last : std::min(*found, last);
  };
  const Um x = low_end(at), y = front_[at].height;
  const Um x_high = next(x_places_, x, front_[at].end), y_high = next(y_places_, y, region_.y.back());
  const Um area = free_area(x, x_high, y, y_high);
  if (area > to_waste_) return false;
  const std::vector<Stretch> before = front_;
  to_waste_ -= area;
  raise(at, x_high - x, y_high);
  if (fill()) return true;
  front_ = before;
  to_waste_ += area;
  return false;
}

/// The low part of a stretch goes up; stretches of one height become one.
void BayFrontSearch::raise(std::size_t at, Um width, Um to) {
  const Um x = low_end(at);
  if (x + width < front_[at].end) {
    front_.insert(front_.begin() + static_cast<std::ptrdiff_t>(at), {x + width, to});
  } else {
    front_[at].height = to;
  }
  std::size_t kept = 0;
  for (std::size_t i = 1; i < front_.size(); ++i) {
    if (front_[i].height == front_[kept].height) {
      front_[kept].end = front_[i].end;
    } else {
      front_[++kept] = front_[i];
    }
  }
  front_.resize(kept + 1);
}

/// The largest sum of sides that is no more than `length`.
Um BayFrontSearch::floor(Um length) const { return *(std::upper_bound(sums_.begin(), sums_.end(), length) - 1); }

/// What must stay open beyond the front: along every line across it, and along every line with it, only sums of sides can be covered.
bool BayFrontSearch::wastes_too_much() const {
  Um across = 0;
  for (std::size_t at = 0; at < front_.size(); ++at) {
    for (std::size_t column = slab(region_.x, low_end(at)); column < region_.columns() && region_.x[column] < front_[at].end; ++column) {
      const Um width = std::min(front_[at].end, region_.x[column + 1]) - std::max(low_end(at), region_.x[column]);
      Um run = 0;
      for (std::size_t row = 0; row <= region_.rows(); ++row) {
        if (row < region_.rows() && region_.is_free(column, row)) {
          run += std::max(Um{0}, region_.y[row + 1] - std::max(region_.y[row], front_[at].height));
        } else {
          across += width * (run - floor(run));
          run = 0;
        }
      }
    }
  }
  if (across > to_waste_) return true;
  std::vector<Um> levels = region_.y;
  for (const Stretch& stretch : front_) levels.push_back(stretch.height);
  std::sort(levels.begin(), levels.end());
  levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
  Um with = 0;
  for (std::size_t i = slab(levels, front_[lowest()].height); i + 1 < levels.size(); ++i) {
    const std::size_t row = slab(region_.y, levels[i]);
    Um run = 0, wasted = 0;
    const auto end_run = [&] { wasted += run - floor(run); run = 0; };
    std::size_t column = 0;
    for (std::size_t at = 0; at < front_.size(); ++at) {
      if (front_[at].height > levels[i]) {
        end_run();
        column = slab(region_.x, front_[at].end);
        continue;
      }
      for (column = slab(region_.x, low_end(at)); column < region_.columns() && region_.x[column] < front_[at].end; ++column) {
        if (!region_.is_free(column, row)) {
          end_run();
        } else {
          run += std::min(front_[at].end, region_.x[column + 1]) - std::max(low_end(at), region_.x[column]);
        }
      }
    }
    end_run();
    with += wasted * (levels[i + 1] - levels[i]);
  }
  return with > to_waste_;
}

/// This front was looked at with as many cells behind it.
bool BayFrontSearch::seen_before() {
  std::string key;
  for (const Stretch& stretch : front_) {
    for (const Um value : {stretch.end, stretch.height}) {
      const auto small = static_cast<std::int32_t>(value);
      key.append(reinterpret_cast<const char*>(&small), sizeof small);
    }
  }
  const int placed = static_cast<int>(placed_.size());
  const auto [found, added] = seen_.try_emplace(std::move(key), placed);
  if (!added && found->second >= placed) return true;
  found->second = placed;
  return false;
}

}  // namespace cellstow::packing
