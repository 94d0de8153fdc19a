#include "pallet_front.hpp"

#include <algorithm>
#include <numeric>

namespace cellstow::packing {

Colouring::Colouring(int factor, int colours, const SmallPallet& pallet, int cells)
    : factor_(factor), left_(static_cast<std::size_t>(colours), -cells * (pallet.cell_area() / colours)) {
  for (int x = 0; x < pallet.length; ++x) {
    for (int y = 0; y < pallet.width; ++y) ++left_[colour(x, y)];
  }
}

bool Colouring::overdrawn() const {
  return std::any_of(left_.begin(), left_.end(), [](int left) { return left < 0; });
}

FrontSearch::FrontSearch(const SmallPallet& pallet, int cells)
    : swapped_(pallet.length > pallet.width),
      pallet_{std::min(pallet.length, pallet.width), std::max(pallet.length, pallet.width), pallet.long_side, pallet.short_side},
      reach_(pallet_, pallet_.width), cells_(cells), to_waste_(pallet.area() - cells * pallet.cell_area()) {
  for (const int colours : {pallet_.long_side, pallet_.short_side}) {
    for (int factor = 1; factor <= std::max(1, colours - 1); ++factor) {
      if (std::gcd(factor, colours) == 1) colourings_.emplace_back(factor, colours, pallet_, cells);
    }
  }
}

Answer FrontSearch::run(long long budget, long long& steps) {
  left_ = budget;
  front_ = {{pallet_.length, 0}};
  const bool found = !overdrawn() && fill();
  steps += budget - left_;
  return found ? Answer::reached : left_ > 0 ? Answer::refused : Answer::given_up;
}

std::vector<SmallCell> FrontSearch::cells() const {
  std::vector<SmallCell> cells = placed_;
  if (!swapped_) return cells;
  for (SmallCell& cell : cells) cell = {cell.y, cell.x, !cell.along_length};
  return cells;
}

bool FrontSearch::overdrawn() const {
  return to_waste_ < 0 || std::any_of(colourings_.begin(), colourings_.end(), [](const Colouring& c) { return c.overdrawn(); });
}

bool FrontSearch::fill() {
  if (static_cast<int>(placed_.size()) == cells_) return true;
  if (--left_ <= 0) return false;
  if (wastes_too_much() || seen_before()) return false;
  std::size_t lowest = 0;
  for (std::size_t i = 1; i < front_.size(); ++i) {
    if (front_[i].height < front_[lowest].height) lowest = i;
  }
  return place(lowest, true) || place(lowest, false) || waste(lowest);
}

/// A cell at the low end of a stretch, long side along the front or square to it.
bool FrontSearch::place(std::size_t at, bool along) {
  const int width = along ? pallet_.long_side : pallet_.short_side;
  const int depth = pallet_.long_side + pallet_.short_side - width;
  const int x = low_end(at), y = front_[at].height;
  if (x + width > front_[at].end || y + depth > pallet_.width) return false;
  const std::vector<Stretch> before = front_;
  placed_.push_back({x, y, along});
  raise(at, width, y + depth);
  if (fill()) return true;
  placed_.pop_back();
  front_ = before;
  return false;
}

/// Nothing stands in the low corner of the stretch: as far as the next places where anything could begin.
bool FrontSearch::waste(std::size_t at) {
  const int x = low_end(at), y = front_[at].height;
  const int x_high = std::min(front_[at].end, next_sum(x)), y_high = next_sum(y);
  const std::vector<Stretch> before = front_;
  bool found = false;
  if (y_high <= pallet_.width && spend(x, x_high, y, y_high)) {
    raise(at, x_high - x, y_high);
    found = fill();
    if (!found) {
      front_ = before;
      give_back(x, x_high, y, y_high);
    }
  }
  return found;
}

int FrontSearch::next_sum(int length) const {
  const auto& sums = reach_.sums();
  const auto next = std::upper_bound(sums.begin(), sums.end(), length);
  return next == sums.end() ? pallet_.width + 1 : *next;
}

/// Takes the squares from what may be wasted; nothing is taken when they are not to be had.
bool FrontSearch::spend(int x_low, int x_high, int y_low, int y_high) {
  const int squares = (x_high - x_low) * (y_high - y_low);
  if (squares > to_waste_) return false;
  to_waste_ -= squares;
  bool enough = true;
  for (Colouring& colouring : colourings_) {
    for (int x = x_low; x < x_high; ++x) {
      for (int y = y_low; y < y_high; ++y) {
        colouring.waste(x, y, 1);
        enough = enough && colouring.left(x, y) >= 0;
      }
    }
  }
  if (!enough) give_back(x_low, x_high, y_low, y_high);
  return enough;
}

void FrontSearch::give_back(int x_low, int x_high, int y_low, int y_high) {
  to_waste_ += (x_high - x_low) * (y_high - y_low);
  for (Colouring& colouring : colourings_) {
    for (int x = x_low; x < x_high; ++x) {
      for (int y = y_low; y < y_high; ++y) colouring.waste(x, y, -1);
    }
  }
}

/// The low part of a stretch goes up; stretches of one height become one.
void FrontSearch::raise(std::size_t at, int width, int to) {
  const auto where = front_.begin() + static_cast<std::ptrdiff_t>(at);
  const int x = low_end(at);
  const bool joins = at > 0 && front_[at - 1].height == to;
  if (x + width == front_[at].end) {
    front_[at].height = to;
    if (at + 1 < front_.size() && front_[at + 1].height == to) {
      front_[at].end = front_[at + 1].end;
      front_.erase(where + 1);
    }
    if (joins) {
      front_[at - 1].end = front_[at].end;
      front_.erase(front_.begin() + static_cast<std::ptrdiff_t>(at));
    }
  } else if (joins) {
    front_[at - 1].end = x + width;
  } else {
    front_.insert(where, {x + width, to});
  }
}

/// What must stay open beyond the front: along every line across it, and along every line with it, only sums of cell sides can be
/// covered.
bool FrontSearch::wastes_too_much() const {
  int across = 0;
  for (std::size_t i = 0; i < front_.size(); ++i) {
    const int depth = pallet_.width - front_[i].height;
    across += (front_[i].end - low_end(i)) * (depth - reach_.floor(depth));
  }
  return across > to_waste_ || wasted_in_bays() > to_waste_;
}

/// A bay between two higher stretches is filled up to the lower of the two, grows wider, and so on up to the far side.
int FrontSearch::wasted_in_bays() const {
  struct Bay { int low_end, level; };
  std::vector<Bay> open{{0, front_.front().height}};   // falling levels
  int wasted = 0;
  const auto rise = [&](int high_end, int height) {
    while (!open.empty() && open.back().level < height) {
      const Bay bay = open.back();
      open.pop_back();
      const int up_to = open.empty() ? height : std::min(height, open.back().level);
      wasted += (high_end - bay.low_end - reach_.floor(high_end - bay.low_end)) * (up_to - bay.level);
      if (open.empty() || open.back().level > up_to) open.push_back({bay.low_end, up_to});
    }
  };
  for (std::size_t i = 1; i < front_.size(); ++i) {
    rise(low_end(i), front_[i].height);
    if (open.back().level > front_[i].height) open.push_back({low_end(i), front_[i].height});
  }
  rise(pallet_.length, pallet_.width);
  return wasted;
}

/// A front or its mirror image, with as many cells behind it.
bool FrontSearch::seen_before() {
  std::string one, other;
  for (std::size_t i = 0; i < front_.size(); ++i) {
    const Stretch& high = front_[front_.size() - 1 - i];
    const int from_high_end = pallet_.length - low_end(front_.size() - 1 - i);
    one.append({static_cast<char>(front_[i].end), static_cast<char>(front_[i].height)});
    other.append({static_cast<char>(from_high_end), static_cast<char>(high.height)});
  }
  const int placed = static_cast<int>(placed_.size());
  const auto [found, added] = seen_.try_emplace(std::min(one, other), placed);
  if (!added && found->second >= placed) return true;
  found->second = placed;
  return false;
}

}  // namespace cellstow::packing
