#include "bay.hpp"

#include <algorithm>
#include <optional>

#include "bay_bound.hpp"
#include "bay_cuts.hpp"
#include "bay_front.hpp"

namespace cellstow::packing {
namespace {

/// Cuts and fronts to look at for one count, first a little of each, then more.
struct Share { long long cuts, fronts; };
constexpr Share shares[] = {{100'000, 2'000}, {400'000, 10'000}, {1'000'000, 40'000}, {1'000'000, 350'000}};

/// Looking at a front takes about as long as looking at so many cuts.
constexpr long long cuts_a_step = 24;
/// Longer than so many short sides, the search does not end.
constexpr Um most_short_sides = 120;

/// A region seen from another side.
struct View {
  BayRegion region;
  bool axes_swapped = false, upside_down = false;

  PalletCell back(const PalletCell& cell, Um long_side, Um short_side) const {
    PalletCell out = cell;
    if (upside_down) out.y = region.y.back() - cell.y - (cell.along_length ? short_side : long_side);
    if (axes_swapped) out = {out.y, out.x, !out.along_length};
    return out;
  }
};

BayRegion turned_over(const BayRegion& region) {
  BayRegion over{region.x, {}, {}};
  for (auto y = region.y.rbegin(); y != region.y.rend(); ++y) over.y.push_back(region.y.back() - *y);
  for (std::size_t i = 0; i < region.columns(); ++i) {
    for (std::size_t j = region.rows(); j-- > 0;) over.free.push_back(region.is_free(i, j));
  }
  return over;
}

/// Does more than half of the region's moment lie below the middle of its height?
bool lies_low(const BayRegion& region) {
  double moment = 0;
  for (std::size_t i = 0; i < region.columns(); ++i) {
    for (std::size_t j = 0; j < region.rows(); ++j) {
      if (!region.is_free(i, j)) continue;
      const auto width = static_cast<double>(region.x[i + 1] - region.x[i]), depth = static_cast<double>(region.y[j + 1] - region.y[j]);
      moment += width * depth * static_cast<double>(region.y[j] + region.y[j + 1] - region.y.back());
    }
  }
  return moment < 0;
}

std::vector<View> views_of(const BayRegion& region) {
  std::vector<View> views{{region, false, false}, {swapped_region(region), true, false}};
  for (View& view : views) {
    if (!lies_low(view.region)) continue;
    view.region = turned_over(view.region);
    view.upside_down = true;
  }
  return views;
}

/// One count after the other, from the bound downwards.
class Hunt {
 public:
  Hunt(const BayRegion& region, Um long_side, Um short_side)
      : region_(region), long_side_(long_side), short_side_(short_side), views_(views_of(region)) {
    const Um longest = std::max(region.x.back(), region.y.back());
    if (!BayCuts::too_fine(longest, long_side, short_side)) cuts_.emplace(longest, long_side, short_side);
  }

  void run(BayAnswer& answer) {
    bool sure = true;
    for (int cells = answer.bound; cells > reached(); --cells) {
      const Answer told = ask(cells, answer.steps);
      if (told == Answer::reached) break;
      sure = sure && told == Answer::refused;
      if (sure) answer.bound = cells - 1;
    }
    answer.cells = front_.empty() && cuts_ ? cuts_->cells(region_) : front_;
  }

 private:
  int reached() { return std::max(static_cast<int>(front_.size()), cuts_ ? cuts_->reached(region_) : 0); }

  Answer ask(int cells, long long& steps) {
    for (const Share& share : shares) {
      if (cuts_) {
        long long spent = 0;
        const bool got_there = cuts_->possible(region_) >= cells && cuts_->reach(region_, cells, share.cuts, spent);
        steps += spent / cuts_a_step;
        if (got_there) return Answer::reached;
      }
      for (const View& view : views_) {
        BayFrontSearch front(view.region, long_side_, short_side_, cells);
        const Answer told = front.run(share.fronts, steps);
        if (told == Answer::given_up) continue;
        for (const PalletCell& cell : front.cells()) {
          if (told == Answer::reached) front_.push_back(view.back(cell, long_side_, short_side_));
        }
        return told;
      }
    }
    return Answer::given_up;
  }

  const BayRegion& region_;
  Um long_side_, short_side_;
  std::vector<View> views_;
  std::optional<BayCuts> cuts_;
  std::vector<PalletCell> front_;
};

}  // namespace

BayAnswer most_in_bay(const BayRegion& region, Um long_side, Um short_side) {
  BayAnswer answer;
  answer.bound = bay_bound({{region, 0, 0}}, long_side, short_side);
  if (answer.bound == 0 || std::max(region.x.back(), region.y.back()) / short_side > most_short_sides) return answer;
  Hunt(region, long_side, short_side).run(answer);
  return answer;
}

}  // namespace cellstow::packing
