#include "share.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

namespace cellstow::plan {
namespace {

/// More ways than this are not listed one by one; steps between counts grow instead.
constexpr double most_ways = 20'000;

void enumerate(const std::vector<Offer>& offers, std::size_t index, int left, int step,
               std::vector<int>& cells, std::vector<std::vector<int>>& ways) {
  if (index + 1 == offers.size()) {
    const Offer& last = offers[index];
    if (left < last.least || left > last.most) return;
    cells.push_back(left);
    ways.push_back(cells);
    cells.pop_back();
    return;
  }
  for (int here = std::min(left, offers[index].most); here >= offers[index].least; here -= step) {
    cells.push_back(here);
    enumerate(offers, index + 1, left - here, step, cells, ways);
    cells.pop_back();
  }
  // A cavity may always stay empty.
  if (offers[index].least == 0 && std::min(left, offers[index].most) % step != 0) {
    cells.push_back(0);
    enumerate(offers, index + 1, left, step, cells, ways);
    cells.pop_back();
  }
}

std::vector<balance::Lump> lumps_of(const std::vector<Offer>& offers, const std::vector<int>& cells) {
  std::vector<balance::Lump> lumps;
  for (std::size_t i = 0; i < offers.size(); ++i) {
    const Offer& offer = offers[i];
    lumps.push_back({"box", core::Kg::of(offer.kg_per_cell * cells[i]), offer.x_mm, offer.y_mm, offer.z_mm});
  }
  return lumps;
}

}  // namespace

std::vector<Split> rank_splits(
    const std::vector<Offer>& offers, int cells, int parallel,
    const std::optional<survey::ShareTarget>& target,
    const std::function<std::optional<double>(const std::vector<balance::Lump>&)>& front_share) {
  double ways_about = 1;
  for (std::size_t i = 0; i + 1 < offers.size(); ++i) ways_about *= offers[i].most / parallel + 1;
  const int step = parallel * std::max(1, static_cast<int>(std::ceil(ways_about / most_ways)));
  std::vector<std::vector<int>> ways;
  std::vector<int> chosen;
  if (!offers.empty()) enumerate(offers, 0, cells, step, chosen, ways);
  std::vector<Split> splits;
  for (const std::vector<int>& way : ways) {
    Split split;
    split.cells = way;
    for (std::size_t i = 0; i < way.size(); ++i) split.boxes += way[i] > 0 ? offers[i].boxes : 0;
    split.front_share = front_share(lumps_of(offers, way));
    split.meets_target = target && split.front_share && *split.front_share >= target->min &&
                         *split.front_share <= target->max;
    splits.push_back(std::move(split));
  }
  const auto off_middle = [&](const Split& split) {
    return target && split.front_share ? std::abs(*split.front_share - (target->min + target->max) / 2) : 0.0;
  };
  std::stable_sort(splits.begin(), splits.end(), [&](const Split& a, const Split& b) {
    if (a.meets_target != b.meets_target) return a.meets_target;
    if (!a.meets_target && target && off_middle(a) != off_middle(b)) return off_middle(a) < off_middle(b);
    return std::tuple(a.boxes, off_middle(a)) < std::tuple(b.boxes, off_middle(b));
  });
  return splits;
}

}  // namespace cellstow::plan
