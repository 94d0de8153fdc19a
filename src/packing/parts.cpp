#include "parts.hpp"

#include <algorithm>
#include <numeric>

namespace cellstow::packing {
namespace {

constexpr Um slab_um = 4'000;

int root(std::vector<int>& parent, int i) {
  while (parent[i] != i) i = parent[i] = parent[parent[i]];
  return i;
}

}  // namespace

Parts::Parts(const region::FreePlan& plan, Strips strips, Um neck) {
  const SpanUm extent = plan.extent(strips);
  for (Um level = extent.low; level < extent.high; level += slab_um) levels_.push_back(level);
  levels_.push_back(extent.high);
  std::vector<int> parent;
  std::vector<SpanUm> free;
  for (std::size_t i = 0; i + 1 < levels_.size(); ++i) {
    plan.free_spans(strips, levels_[i], levels_[i + 1], free);
    std::vector<Piece> slab;
    for (const SpanUm& run : free) {
      const int id = static_cast<int>(parent.size());
      parent.push_back(id);
      slab.push_back({run, id});
      if (slabs_.empty()) continue;
      for (const Piece& below : slabs_.back()) {
        const Um overlap = std::min(run.high, below.run.high) - std::max(run.low, below.run.low);
        if (overlap > neck) parent[root(parent, id)] = root(parent, below.part);
      }
    }
    slabs_.push_back(std::move(slab));
  }
  std::vector<int> number(parent.size(), -1);
  for (auto& slab : slabs_) {
    for (Piece& piece : slab) {
      int& part = number[root(parent, piece.part)];
      if (part < 0) part = count_++;
      piece.part = part;
    }
  }
}

bool Parts::Only::keeps(const SpanUm& run, Um t_low, Um t_high) const {
  // The slab in the middle of the strip; a run that spans parts belongs to all of them (best case).
  const Um middle = t_low + (t_high - t_low) / 2;
  const auto above = std::upper_bound(parts_.levels_.begin(), parts_.levels_.end(), middle);
  if (above == parts_.levels_.begin() || above == parts_.levels_.end()) return false;
  const auto& slab = parts_.slabs_[static_cast<std::size_t>(above - parts_.levels_.begin() - 1)];
  return std::any_of(slab.begin(), slab.end(), [&](const Piece& piece) {
    return piece.part == part_ && piece.run.low < run.high && run.low < piece.run.high;
  });
}

}  // namespace cellstow::packing
