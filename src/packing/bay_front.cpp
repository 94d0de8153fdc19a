#include "bay_front.hpp"

#include <algorithm>

namespace cellstow::packing {
namespace {

/// A front is worth so many shares of a cell less for every stretch: what lies between steps is hard to fill. Of nothing, an eighth and a quarter
/// of a cell, tried on sixteen random regions, the quarter finds as much as the eighth in three quarters of its work, nothing finds less.
constexpr Um cell_shares_a_stretch = 4;

/// The next line at which a cell can begin, the last line when there is none.
Line next_place(const BayAxis& axis, Line line) {
  const Line next = line < axis.last() ? axis.place[index(line) + 1] : no_line;
  return next == no_line ? axis.last() : next;
}

}  // namespace

BayFrontSearch::BayFrontSearch(const BayLines& lines, Um long_side, Um short_side)
    : lines_(lines), long_side_(long_side), short_side_(short_side) {}

Answer BayFrontSearch::run(int cells, std::size_t width, long long budget, long long& steps) {
  if (!first_front(cells)) return Answer::refused;
  left_ = budget;
  bool all_kept = true, reached = false;
  for (int count = 1; count <= cells && !reached; ++count) {
    last_cell_ = count == cells;
    next_.fronts.clear();
    next_.stretches.clear();
    seen_.clear();
    for (const Front& front : layer_.fronts) lead_on(front);
    if (next_.fronts.empty() || left_ <= 0) break;
    all_kept = narrow(width) && all_kept;
    std::swap(layer_, next_);
    reached = last_cell_;
  }
  steps += budget - left_;
  if (reached) tell_cells(layer_.fronts.front().last);
  return reached ? Answer::reached : all_kept && left_ > 0 ? Answer::refused : Answer::given_up;
}

/// False when so many cells are ruled out at once.
bool BayFrontSearch::first_front(int cells) {
  placed_.clear();
  front_ = {{lines_.x().last(), 0}};
  to_waste_ = lines_.free_area(0, lines_.x().last(), 0, lines_.y().last()) - cells * long_side_ * short_side_;
  if (to_waste_ < 0 || !settle(0, lines_.x().last()) || must_waste() > to_waste_) return false;
  layer_.stretches = front_;
  layer_.fronts = {{0, front_.size(), -1, to_waste_, 0}};
  return true;
}

/// Every next cell: at the low end of the lowest stretch, or where nothing is left at that end, at the next one.
void BayFrontSearch::lead_on(const Front& from) {
  const auto begin = layer_.stretches.begin() + static_cast<std::ptrdiff_t>(from.begin);
  std::vector<Stretch> front(begin, begin + static_cast<std::ptrdiff_t>(from.size));
  Um to_waste = from.to_waste;
  const BayAxis &x_lines = lines_.x(), &y_lines = lines_.y();
  while (left_ > 0) {
    front_ = front;
    to_waste_ = to_waste;
    const std::size_t at = lowest();
    const Line x = low_end(at), y = front_[at].height;
    for (const bool along : {true, false}) {
      if (!begins(x, front[at].end, y, along)) continue;
      const Line end = (along ? x_lines.past_long : x_lines.past_short)[index(x)];
      raise(at, end, (along ? y_lines.past_short : y_lines.past_long)[index(y)]);
      keep(from.last, {x_lines.at[index(x)], y_lines.at[index(y)], along}, x, end);
      front_ = front;
      to_waste_ = to_waste;
    }
    --left_;
    const Line end = std::min(next_place(x_lines, x), front_[at].end);
    if (!waste(at, end, next_place(y_lines, y)) || !settle(x, end) || must_waste() > to_waste_) return;
    front = front_;
    to_waste = to_waste_;
  }
}

/// The front just made, unless it leads nowhere or is there already.
void BayFrontSearch::keep(std::int32_t before, const PalletCell& cell, Line low, Line high) {
  --left_;
  if (!last_cell_ && !settle(low, high)) return;
  std::u32string key;
  key.reserve(2 * front_.size());
  for (const Stretch& stretch : front_) {
    key.push_back(static_cast<char32_t>(stretch.end));
    key.push_back(static_cast<char32_t>(stretch.height));
  }
  if (!seen_.insert(std::move(key)).second) return;
  const Um slack = last_cell_ ? to_waste_ : to_waste_ - must_waste();
  if (slack < 0) return;
  next_.fronts.push_back({next_.stretches.size(), front_.size(), static_cast<std::int32_t>(placed_.size()), to_waste_,
                          slack - static_cast<Um>(front_.size()) * long_side_ * short_side_ / cell_shares_a_stretch});
  next_.stretches.insert(next_.stretches.end(), front_.begin(), front_.end());
  placed_.push_back({cell, before});
}

/// Keeps the fronts that promise most, the earlier of equals. False when some had to go.
bool BayFrontSearch::narrow(std::size_t width) {
  if (next_.fronts.size() <= width) return true;
  std::nth_element(next_.fronts.begin(), next_.fronts.begin() + static_cast<std::ptrdiff_t>(width), next_.fronts.end(), [](const Front& a, const Front& b) {
    return a.promise != b.promise ? a.promise > b.promise : a.begin < b.begin;
  });
  next_.fronts.resize(width);
  return false;
}

void BayFrontSearch::tell_cells(std::int32_t last) {
  reached_.clear();
  for (std::int32_t at = last; at >= 0; at = placed_[static_cast<std::size_t>(at)].before) {
    reached_.push_back(placed_[static_cast<std::size_t>(at)].cell);
  }
}

std::size_t BayFrontSearch::lowest() const {
  std::size_t lowest = 0;
  for (std::size_t i = 1; i < front_.size(); ++i) {
    if (front_[i].height < front_[lowest].height) lowest = i;
  }
  return lowest;
}

/// Walls rise, and so does what no cell can begin on. False when that wastes too much, or no room is left.
/// @param low, high  between which lines the front has changed
bool BayFrontSearch::settle(Line low, Line high) {
  for (;;) {
    absorb(low, high);
    const std::size_t at = lowest();
    const Line y = front_[at].height;
    if (y == lines_.y().last()) return false;
    low = low_end(at);
    const Line begin = first_begin(at);
    if (begin == low) return true;
    high = begin == no_line ? front_[at].end : begin;
    if (!waste(at, high, next_place(lines_.y(), y))) return false;
  }
}

/// What lies on a wall rises to the wall's far side.
void BayFrontSearch::absorb(Line low, Line high) {
  for (std::size_t at = 0; at < front_.size() && low_end(at) < high;) {
    at = front_[at].end > low && rise_over_wall(at) ? 0 : at + 1;
  }
}

bool BayFrontSearch::rise_over_wall(std::size_t at) {
  const BayAxis &x = lines_.x(), &y = lines_.y();
  const Line low = low_end(at), end = front_[at].end, height = front_[at].height;
  if (height == y.last() || lines_.is_free(low, end, height, height + 1)) return false;
  const std::size_t row = y.slab[index(height)];
  std::size_t column = x.slab[index(low)];
  while (lines_.region().is_free(column, row)) ++column;
  if (x.edges[column] > low) {
    front_.insert(front_.begin() + static_cast<std::ptrdiff_t>(at), {x.edges[column], height});
    ++at;
  }
  raise(at, std::min(end, x.edges[column + 1]), y.edges[row + 1]);
  return true;
}

/// Is there room for a cell that begins here?
bool BayFrontSearch::begins(Line x, Line x_high, Line y, bool along) const {
  const Line to_x = (along ? lines_.x().past_long : lines_.x().past_short)[index(x)];
  const Line to_y = (along ? lines_.y().past_short : lines_.y().past_long)[index(y)];
  return to_x != no_line && to_x <= x_high && to_y != no_line && lines_.is_free(x, to_x, y, to_y);
}

/// The first place on a stretch where a cell can begin.
Line BayFrontSearch::first_begin(std::size_t at) const {
  const BayAxis& x = lines_.x();
  const Line y = front_[at].height, end = front_[at].end;
  if (!lines_.y().is_place(y)) return no_line;
  for (Line begin = x.place[index(low_end(at))]; begin != no_line && begin < end && x.span(begin, end) >= short_side_; begin = next_place(x, begin)) {
    if (begins(begin, end, y, true) || begins(begin, end, y, false)) return begin;
  }
  return no_line;
}

/// Nothing stands on the low part of a stretch.
bool BayFrontSearch::waste(std::size_t at, Line x_high, Line y_high) {
  to_waste_ -= lines_.free_area(low_end(at), x_high, front_[at].height, y_high);
  if (to_waste_ < 0) return false;
  raise(at, x_high, y_high);
  return true;
}

/// The low part of a stretch goes up; stretches of one height become one.
void BayFrontSearch::raise(std::size_t at, Line x_high, Line to) {
  if (x_high < front_[at].end) {
    front_.insert(front_.begin() + static_cast<std::ptrdiff_t>(at), {x_high, to});
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

/// What must stay open beyond the front: along every line across it, and along every line with it, only sums of sides can be covered. The more of both.
Um BayFrontSearch::must_waste() {
  const BayAxis& x = lines_.x();
  Um across = 0;
  Line highest = 0;
  levels_.clear();
  for (std::size_t at = 0; at < front_.size(); ++at) {
    const auto [end, height] = front_[at];
    highest = std::max(highest, height);
    levels_.push_back(height);
    Line low = low_end(at);
    for (std::size_t column = x.slab[index(low)]; low < end; ++column) {
      const Line high = std::min(end, x.edges[column + 1]);
      across += x.span(low, high) * lines_.open_up(column, height);
      low = high;
    }
  }
  return across > to_waste_ ? across : std::max(across, lines_.open_across(highest) + must_waste_up_to(highest));
}

/// By lines with the front, between its stretches.
Um BayFrontSearch::must_waste_up_to(Line highest) {
  const BayAxis& y = lines_.y();
  const Line low = *std::min_element(levels_.begin(), levels_.end());
  for (const Line edge : y.edges) {
    if (edge > low && edge < highest) levels_.push_back(edge);
  }
  std::sort(levels_.begin(), levels_.end());
  Um with = 0;
  for (std::size_t i = 0; i + 1 < levels_.size() && with <= to_waste_; ++i) {
    if (levels_[i] < levels_[i + 1]) with += left_between_stretches(levels_[i]) * y.span(levels_[i], levels_[i + 1]);
  }
  return with;
}

/// Along a line with the front just above `level`, between stretches that are higher.
Um BayFrontSearch::left_between_stretches(Line level) const {
  const BayAxis& x = lines_.x();
  const std::size_t row = lines_.y().slab[index(level)];
  Um run = 0, open = 0;
  const auto end_run = [&] { open += lines_.sums().left_over(run); run = 0; };
  for (std::size_t at = 0; at < front_.size(); ++at) {
    const auto [end, height] = front_[at];
    Line low = low_end(at);
    if (height > level) {
      end_run();
    } else if (lines_.row_is_free(row)) {
      run += x.span(low, end);
    } else {
      for (std::size_t column = x.slab[index(low)]; low < end; ++column) {
        const Line high = std::min(end, x.edges[column + 1]);
        if (lines_.region().is_free(column, row)) run += x.span(low, high); else end_run();
        low = high;
      }
    }
  }
  end_run();
  return open;
}

}  // namespace cellstow::packing
