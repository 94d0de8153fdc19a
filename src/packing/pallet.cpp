#include "pallet.hpp"

#include <algorithm>
#include <numeric>
#include <optional>

#include "bay_front.hpp"
#include "pallet_bound.hpp"
#include "pallet_front.hpp"

namespace cellstow::packing {
namespace {

/// Cuts to look at for one count, fronts kept side by side to find it, and fronts that it may be refused; first a little of each, then more.
struct Share { long long cuts; std::size_t width; long long fronts; };
constexpr Share shares[] = {{100'000, 10, 20'000}, {1'000'000, 30, 150'000}, {10'000'000, 300, 1'600'000}};
constexpr long long most_fronts = 300'000;   ///< to find a count in one go

/// Looking at a front takes about as long as looking at so many cuts.
constexpr long long cuts_a_step = 32;
/// And as so many fronts led on side by side.
constexpr long long led_on_a_step = 4;

/// Equal pallets whose colours are counted for one count.
constexpr std::size_t colour_looks = 6;

int waste(const SmallPallet& small, int cells) { return small.area() - cells * small.cell_area(); }

/// Packings in the small numbers become packings in um: what stood beside or behind another cell still does, pushed to the
/// low ends. It fits since every row of sides along a line was a partition that both have.
std::vector<PalletCell> in_um(const Pallet& pallet, const SmallPallet& small, const std::vector<SmallCell>& cells) {
  struct Span { int low, high; };
  const auto span_x = [&](const SmallCell& c) { return Span{c.x, c.x + (c.along_length ? small.long_side : small.short_side)}; };
  const auto span_y = [&](const SmallCell& c) { return Span{c.y, c.y + (c.along_length ? small.short_side : small.long_side)}; };
  std::vector<PalletCell> placed(cells.size());
  std::vector<std::size_t> order(cells.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return std::pair(cells[a].x, a) < std::pair(cells[b].x, b); });
  for (const std::size_t i : order) {
    placed[i].along_length = cells[i].along_length;
    for (std::size_t j = 0; j < cells.size(); ++j) {
      if (span_x(cells[j]).high > cells[i].x) continue;
      placed[i].x = std::max(placed[i].x, placed[j].x + (cells[j].along_length ? pallet.long_side : pallet.short_side));
    }
  }
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return std::pair(cells[a].y, a) < std::pair(cells[b].y, b); });
  for (const std::size_t i : order) {
    for (std::size_t j = 0; j < cells.size(); ++j) {
      const Span a = span_x(cells[i]), b = span_x(cells[j]);
      if (span_y(cells[j]).high > cells[i].y || a.high <= b.low || b.high <= a.low) continue;
      placed[i].y = std::max(placed[i].y, placed[j].y + (cells[j].along_length ? pallet.short_side : pallet.long_side));
    }
  }
  return placed;
}

/// The equal pallets that leave least open with this count, and whose squares can be counted.
std::vector<SmallPallet> tightest(const std::vector<SmallPallet>& equals, int cells) {
  std::vector<SmallPallet> some;
  for (const SmallPallet& small : equals) {
    if (std::max(small.length, small.width) <= FrontSearch::longest_side) some.push_back(small);
  }
  std::stable_sort(some.begin(), some.end(), [&](const SmallPallet& a, const SmallPallet& b) { return waste(a, cells) < waste(b, cells); });
  if (some.size() > colour_looks) some.resize(colour_looks);
  return some;
}

bool impossible(const std::vector<SmallPallet>& equals, int cells) {
  return std::any_of(equals.begin(), equals.end(), [&](const SmallPallet& small) { return FrontSearch(small, cells).overdrawn(); });
}

struct Placed { SmallPallet small; std::vector<SmallCell> cells; };

BayRegion region_of(const SmallPallet& small) { return {{0, small.length}, {0, small.width}, {1}}; }

/// One count after the other, from the bound downwards.
class Hunt {
 public:
  explicit Hunt(const std::vector<SmallPallet>& equals)
      : equals_(equals), pieces_(equals.front()), lines_(region_of(equals.front()), equals.front().long_side, equals.front().short_side),
        layers_(lines_, equals.front().long_side, equals.front().short_side) {}

  Placed run(PalletAnswer& answer, int effort) {
    bool sure = true;
    for (int cells = answer.bound; cells > pieces_.reached(); --cells) {
      const std::vector<SmallPallet> tight = tightest(equals_, cells);
      if (impossible(tight, cells)) {
        if (sure) answer.bound = cells - 1;
        continue;
      }
      const Answer told = ask(cells, tight, effort, answer.steps);
      if (told == Answer::reached) break;
      sure = sure && told == Answer::refused;
      if (sure) answer.bound = cells - 1;
    }
    if (front_) return *front_;
    return {equals_.front(), pieces_.cells()};
  }

 private:
  Answer ask(int cells, const std::vector<SmallPallet>& tight, int effort, long long& steps) {
    bool cuts_end = false;
    for (const Share& share : shares) {
      if (!cuts_end) {
        long long cuts = 0;
        const Answer told = pieces_.reach(cells, effort * share.cuts, cuts);
        steps += cuts / cuts_a_step;
        if (told == Answer::reached) return told;
        cuts_end = told == Answer::refused;
      }
      if (find_in_layers(cells, share.width, steps)) return Answer::reached;
      if (tight.empty()) continue;
      FrontSearch front(tight.front(), cells);
      const Answer told = front.run(effort * share.fronts, steps);
      if (told == Answer::reached) front_ = Placed{tight.front(), front.cells()};
      if (told != Answer::given_up) return told;
    }
    return Answer::given_up;
  }

  bool find_in_layers(int cells, std::size_t width, long long& steps) {
    long long led_on = 0;
    const bool found = layers_.run(cells, width, most_fronts, led_on) == Answer::reached;
    steps += led_on / led_on_a_step;
    if (!found) return false;
    front_ = Placed{equals_.front(), {}};
    for (const PalletCell& cell : layers_.cells()) {
      front_->cells.push_back({static_cast<int>(cell.x), static_cast<int>(cell.y), cell.along_length});
    }
    return true;
  }

  const std::vector<SmallPallet>& equals_;
  PieceSearch pieces_;
  BayLines lines_;
  BayFrontSearch layers_;
  std::optional<Placed> front_;
};

int bound_of(const std::vector<SmallPallet>& equals) {
  int bound = pallet_bound(equals.front());
  for (const SmallPallet& small : equals) bound = std::min(bound, barnes_bound(small));
  return bound;
}

}  // namespace

PalletAnswer most_on_pallet(const Pallet& pallet, int effort) {
  PalletAnswer answer;
  const std::vector<SmallPallet> equals = small_equals(pallet);
  if (equals.empty()) {
    answer.bound = bar_bound(partitions(pallet.length, pallet.long_side, pallet.short_side),
                             partitions(pallet.width, pallet.long_side, pallet.short_side));
    return answer;
  }
  answer.bound = bound_of(equals);
  if (answer.bound == 0) return answer;
  const Placed placed = Hunt(equals).run(answer, effort);
  answer.cells = in_um(pallet, placed.small, placed.cells);
  return answer;
}

}  // namespace cellstow::packing
