#include "pallet_bound.hpp"

#include <algorithm>

namespace cellstow::packing {
namespace {

long long worth(const LineWeights& weights, const std::pair<int, int>& pair) {
  return weights.of_long * pair.first + weights.of_short * pair.second;
}

int barnes_waste(const SmallPallet& pallet, int bar) {
  const int r = pallet.length % bar, s = pallet.width % bar;
  return std::min(r * s, (bar - r) * (bar - s));
}

}  // namespace

std::vector<LineWeights> hull_edges(const Partitions& pairs) {
  std::vector<LineWeights> edges{{1, 0, pairs.back().first}, {0, 1, pairs.front().second}};
  for (std::size_t a = 0; a < pairs.size(); ++a) {
    for (std::size_t b = a + 1; b < pairs.size(); ++b) {
      LineWeights weights{pairs[a].second - pairs[b].second, pairs[b].first - pairs[a].first, 0};
      weights.most = worth(weights, pairs[a]);
      const bool holds = std::none_of(pairs.begin(), pairs.end(),
                                      [&](const auto& pair) { return worth(weights, pair) > weights.most; });
      if (holds) edges.push_back(weights);
    }
  }
  return edges;
}

int barnes_bound(const SmallPallet& pallet) {
  const int waste = std::max(barnes_waste(pallet, pallet.long_side), barnes_waste(pallet, pallet.short_side));
  return (pallet.area() - waste) / pallet.cell_area();
}

int bar_bound(const Partitions& of_length, const Partitions& of_width) {
  const std::vector<LineWeights> along = hull_edges(of_length), across = hull_edges(of_width);
  const auto keeps_all = [&](long long h, long long v) {
    for (const LineWeights& f : along) {
      for (const LineWeights& g : across) {
        if (h * f.of_long * g.of_short + v * f.of_short * g.of_long > f.most * g.most) return false;
      }
    }
    return true;
  };
  // Either way round alone holds no more than this.
  const int most_h = of_length.back().first * of_width.front().second;
  const int most_v = of_length.front().second * of_width.back().first;
  int cells = 0;
  for (int h = 0; h <= most_h; ++h) {
    int v = std::max(0, cells + 1 - h);
    while (v <= most_v && keeps_all(h, v)) cells = std::max(cells, h + v++);
  }
  return cells;
}

int pallet_bound(const SmallPallet& pallet) {
  const Partitions of_length = partitions(pallet.length, pallet.long_side, pallet.short_side);
  const Partitions of_width = partitions(pallet.width, pallet.long_side, pallet.short_side);
  return std::min(barnes_bound(pallet), bar_bound(of_length, of_width));
}

}  // namespace cellstow::packing
