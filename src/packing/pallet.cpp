#include "pallet.hpp"

#include <algorithm>
#include <numeric>
#include <optional>

#include "pallet_bound.hpp"
#include "pallet_front.hpp"

namespace cellstow::packing {
namespace {

/// Cuts and fronts to look at for one count, first a little of each, then more.
struct Share { long long cuts, fronts; };
constexpr Share shares[] = {{100'000, 20'000}, {1'000'000, 150'000}, {10'000'000, 1'600'000}};

/// Looking at a front takes about as long as looking at so many cuts.
constexpr long long cuts_a_step = 32;

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

/// One count after the other, from the bound downwards.
class Hunt {
 public:
  explicit Hunt(const std::vector<SmallPallet>& equals) : equals_(equals), pieces_(equals.front()) {}

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
      if (tight.empty()) continue;
      FrontSearch front(tight.front(), cells);
      const Answer told = front.run(effort * share.fronts, steps);
      if (told == Answer::reached) front_ = Placed{tight.front(), front.cells()};
      if (told != Answer::given_up) return told;
    }
    return Answer::given_up;
  }

  const std::vector<SmallPallet>& equals_;
  PieceSearch pieces_;
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
