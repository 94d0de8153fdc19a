#include "share.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

namespace cellstow::plan {
namespace {

/// More ways than this are not listed one by one; steps between counts grow instead.
constexpr double most_ways = 20'000;

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
  std::vector<Split> splits;
  for_each_split(offers, cells, step, [&](const std::vector<int>& way) {
    Split split;
    split.cells = way;
    for (std::size_t i = 0; i < way.size(); ++i) split.boxes += way[i] > 0 ? offers[i].boxes : 0;
    split.front_share = front_share(lumps_of(offers, way));
    split.meets_target = target && split.front_share && *split.front_share >= target->min &&
                         *split.front_share <= target->max;
    splits.push_back(std::move(split));
  });
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
