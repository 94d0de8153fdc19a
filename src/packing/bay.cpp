#include "bay.hpp"

#include <algorithm>

#include "bay_bound.hpp"
#include "bay_front.hpp"

namespace cellstow::packing {
namespace {

/// One round of asking for a count: fronts to look at that it may be refused, and how many are kept side by side to find it.
struct Round { long long fronts; std::size_t width; };
constexpr Round rounds[] = {{8'000, 10}, {30'000, 30}, {120'000, 100}, {500'000, 300}};
constexpr long long most_fronts = 300'000;   ///< to find a count in one go

/// Sides (by views_of) to refuse a count from, and what part of a round's fronts each gets; sides to find it from, in this order.
struct Refuser { std::size_t side; long long part; };
constexpr Refuser refusers[] = {{0, 1}, {1, 4}};
constexpr std::size_t finders[] = {1, 3, 0, 2};

/// A step of work is so many fronts.
constexpr long long fronts_a_step = 4;
/// Longer than so many short sides, the search does not end.
constexpr Um most_short_sides = 120;

/// A region seen from another side.
struct View {
  BayLines lines;
  bool axes_swapped = false, upside_down = false;

  PalletCell back(const PalletCell& cell, Um long_side, Um short_side) const {
    PalletCell out = cell;
    if (upside_down) out.y = lines.region().y.back() - cell.y - (cell.along_length ? short_side : long_side);
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

/// The sides to fill from; first those where less of the region lies.
std::vector<View> views_of(const BayRegion& region, Um long_side, Um short_side) {
  std::vector<View> views;
  for (const bool low : {true, false}) {
    for (const bool swapped : {false, true}) {
      const BayRegion seen = swapped ? swapped_region(region) : region;
      const bool over = lies_low(seen) == low;
      views.push_back({BayLines(over ? turned_over(seen) : seen, long_side, short_side), swapped, over});
    }
  }
  return views;
}

/// One count after the other, from the bound downwards.
class Hunt {
 public:
  Hunt(const BayRegion& region, Um long_side, Um short_side)
      : long_side_(long_side), short_side_(short_side), views_(views_of(region, long_side, short_side)) {
    for (const View& view : views_) searches_.emplace_back(view.lines, long_side, short_side);
  }

  void run(BayAnswer& answer) {
    bool sure = true;
    for (int cells = answer.bound; cells > 0; --cells) {
      const Answer told = ask(cells, answer);
      if (told == Answer::reached) return;
      sure = sure && told == Answer::refused;
      if (sure) answer.bound = cells - 1;
    }
  }

 private:
  Answer ask(int cells, BayAnswer& answer) {
    for (const Round& round : rounds) {
      for (const auto& [side, part] : refusers) {
        const Answer told = run(side, cells, BayFrontSearch::any_width, round.fronts / part, answer);
        if (told != Answer::given_up) return told;
      }
      for (const std::size_t side : finders) {
        const Answer told = run(side, cells, round.width, most_fronts, answer);
        if (told != Answer::given_up) return told;
      }
    }
    return Answer::given_up;
  }

  Answer run(std::size_t side, int cells, std::size_t width, long long budget, BayAnswer& answer) {
    long long fronts = 0;
    const Answer told = searches_[side].run(cells, width, budget, fronts);
    answer.steps += fronts / fronts_a_step;
    if (told == Answer::reached) {
      for (const PalletCell& cell : searches_[side].cells()) answer.cells.push_back(views_[side].back(cell, long_side_, short_side_));
    }
    return told;
  }

  Um long_side_, short_side_;
  std::vector<View> views_;
  std::vector<BayFrontSearch> searches_;
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
