#include "cellstow/fabrication/bar_stock.hpp"

#include <algorithm>
#include <cstdint>
#include <map>
#include <optional>

namespace cellstow::fabrication {
namespace {

using core::Um;

/// Sets of pieces looked at before the best plan found is taken.
constexpr long long most_sets = 400'000;

/// One piece with the cut behind it, and where it comes from.
struct Item { Um size = 0; std::size_t piece = 0; };

/// Bars as lists of positions in the items.
using Bars = std::vector<std::vector<std::size_t>>;

/// Longest first, each on the first bar with room.
Bars first_fit(const std::vector<Item>& items, Um room) {
  Bars bars;
  std::vector<Um> left;
  for (std::size_t i = 0; i < items.size(); ++i) {
    std::size_t bar = 0;
    while (bar < bars.size() && left[bar] < items[i].size) ++bar;
    if (bar == bars.size()) {
      bars.emplace_back();
      left.push_back(room);
    }
    bars[bar].push_back(i);
    left[bar] -= items[i].size;
  }
  return bars;
}

/// Bars that are needed at least. For every size up to half a bar: pieces that share a bar with no piece of that size or more have one each;
/// what room the other large ones leave may be filled to the last.
int bound_of(const std::vector<Item>& items, Um room) {
  Um all = 0;
  std::vector<Um> sizes{0};
  for (const Item& item : items) {
    all += item.size;
    if (2 * item.size <= room) sizes.push_back(item.size);
  }
  int bound = static_cast<int>((all + room - 1) / room);
  for (const Um least : sizes) {
    Um alone = 0, large = 0, space = 0, small = 0;
    for (const Item& item : items) {
      if (item.size > room - least) {
        ++alone;
      } else if (2 * item.size > room) {
        ++large;
        space += room - item.size;
      } else if (item.size >= least) {
        small += item.size;
      }
    }
    const Um more = std::max<Um>(0, small - space);
    bound = std::max(bound, static_cast<int>(alone + large + (more + room - 1) / room));
  }
  return bound;
}

/// Can the pieces be had from so many bars? One bar after the other, each beginning with the longest piece left.
class BarSearch {
 public:
  BarSearch(const std::vector<Item>& items, Um room, int bars) : items_(items), room_(room), most_(bars), used_(items.size(), false) {
    for (const Item& item : items) to_place_ += item.size;
  }

  std::optional<Bars> run(long long& left) {
    left_ = &left;
    if (fill(0)) return bars_;
    return std::nullopt;
  }

 private:
  bool fill(std::size_t bar) {
    const auto first = std::find(used_.begin(), used_.end(), false);
    if (first == used_.end()) return true;
    if (static_cast<int>(bar) == most_ || to_place_ > static_cast<Um>(most_ - static_cast<int>(bar)) * room_) return false;
    bars_.resize(bar + 1);
    bars_[bar].clear();
    const auto longest = static_cast<std::size_t>(first - used_.begin());
    take(bar, longest);
    const bool found = complete(bar, longest + 1, room_ - items_[longest].size);
    if (!found) give_back(bar, longest);
    return found;
  }

  /// More pieces onto this bar from position `from`; the bar is left when no piece fits any more.
  bool complete(std::size_t bar, std::size_t from, Um room) {
    if (--*left_ <= 0) return false;
    Um last = 0;
    for (std::size_t i = from; i < items_.size(); ++i) {
      if (used_[i] || items_[i].size > room || items_[i].size == last) continue;
      last = items_[i].size;
      take(bar, i);
      if (complete(bar, i + 1, room - items_[i].size)) return true;
      give_back(bar, i);
      if (*left_ <= 0) return false;
    }
    // A bar that could take another piece as it is need not be looked at: putting the piece there never hurts.
    for (std::size_t i = 0; i < items_.size(); ++i) {
      if (!used_[i] && items_[i].size <= room) return false;
    }
    return fill(bar + 1);
  }

  void take(std::size_t bar, std::size_t item) {
    used_[item] = true;
    to_place_ -= items_[item].size;
    bars_[bar].push_back(item);
  }
  void give_back(std::size_t bar, std::size_t item) {
    used_[item] = false;
    to_place_ += items_[item].size;
    bars_.resize(bar + 1);
    bars_[bar].pop_back();
  }

  const std::vector<Item>& items_;
  Um room_, to_place_ = 0;
  int most_;
  std::vector<bool> used_;
  Bars bars_;
  long long* left_ = nullptr;
};

}  // namespace

BarPlan cut_bars(const std::vector<BarPiece>& pieces, Length stock, Length kerf) {
  BarPlan plan;
  // With one kerf more of stock, every piece takes its length and one kerf.
  const Um room = (stock + kerf).um();
  std::vector<Item> items;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (pieces[i].length > stock) {
      plan.too_long.push_back(pieces[i]);
      continue;
    }
    for (int k = 0; k < pieces[i].quantity; ++k) items.push_back({(pieces[i].length + kerf).um(), i});
  }
  std::stable_sort(items.begin(), items.end(), [](const Item& a, const Item& b) { return a.size > b.size; });
  Bars bars = first_fit(items, room);
  plan.bound = bound_of(items, room);
  long long left = most_sets;
  while (plan.bound < static_cast<int>(bars.size())) {
    if (auto found = BarSearch(items, room, plan.bound).run(left)) {
      bars = std::move(*found);
    } else if (left > 0) {
      ++plan.bound;
    } else {
      break;
    }
  }
  for (const auto& bar : bars) {
    CutBar cut;
    Um rest = room;
    for (const std::size_t i : bar) {
      cut.marks.push_back(pieces[items[i].piece].mark);
      cut.lengths.push_back(pieces[items[i].piece].length);
      rest -= items[i].size;
    }
    cut.drop = Length::from_um(std::max<Um>(0, rest - kerf.um()));
    plan.bars.push_back(std::move(cut));
  }
  return plan;
}

}  // namespace cellstow::fabrication
