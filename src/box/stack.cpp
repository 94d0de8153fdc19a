#include "cellstow/box/stack.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

namespace cellstow::box {
namespace {

/// Builds layers upwards; a level not above the last adds nothing, so the sum cannot go wrong.
class Stack {
 public:
  explicit Stack(Length bottom) : bottom_(bottom) {}
  Length top() const { return layers_.empty() ? bottom_ : bottom_ + layers_.back().top; }
  void up_to(std::string name, Length level) {
    if (level > top()) layers_.push_back({std::move(name), level - top(), level - bottom_});
  }
  std::vector<StackLayer> take() { return std::move(layers_); }

 private:
  Length bottom_;
  std::vector<StackLayer> layers_;
};

struct Span {
  Length low, high;
};

void add_cells(Stack& stack, const packing::BoxLayout& layout, const survey::Cell& cell) {
  std::map<Length, Length> tiers;  // underside -> highest case top
  Length live_top = stack.top();
  for (const packing::PlacedCell& placed : layout.cells) {
    Length& top = tiers[placed.body.low.z];
    top = std::max(top, placed.body.high.z);
    live_top = std::max(live_top, placed.body.high.z + live_metal_above_case(cell, placed.stance));
  }
  int tier = 0;
  for (const auto& [low, high] : tiers) {
    stack.up_to(tier == 0 ? "spare height under the cells" : "between tiers", low);
    ++tier;
    stack.up_to(tiers.size() == 1 ? "cell case" : "cell case, tier " + std::to_string(tier), high);
  }
  stack.up_to("live metal above the case", live_top);
}

/// The fittings that stand over everything below, if any.
std::optional<Span> fittings_above(const packing::BoxLayout& layout, Length over) {
  std::optional<Span> span;
  for (const packing::PlacedFitting& fitting : layout.fittings) {
    if (fitting.place != survey::FittingPlace::above || fitting.body.low.z < over) continue;
    if (!span) span = Span{fitting.body.low.z, fitting.body.high.z};
    span->low = std::min(span->low, fitting.body.low.z);
    span->high = std::max(span->high, fitting.body.high.z);
  }
  return span;
}

}  // namespace

Length live_metal_above_case(const survey::Cell& cell, survey::Stance stance) {
  if (stance != survey::Stance::upright) return {};
  return std::max(Length(), cell.terminal_top - cell.height);
}

std::vector<StackLayer> stack_of_heights(const packing::BoxLayout& layout, const survey::Cell& cell,
                                         const survey::Rules& rules) {
  const bool loose = layout.outline.empty();
  const Length lid_underside = loose ? layout.lid_top : layout.lid_top - rules.lid;
  Stack stack(layout.z_bottom);
  if (!loose) {
    stack.up_to("floor sheet", layout.z_bottom + rules.floor);
    stack.up_to("liner", layout.z_bottom + rules.floor + rules.liner);
  }
  add_cells(stack, layout, cell);
  const std::optional<Span> above = fittings_above(layout, stack.top());
  stack.up_to("headroom",
              std::min(stack.top() + rules.headroom, above ? above->low : lid_underside));
  if (above) {
    stack.up_to("spare height under the fitting", above->low);
    stack.up_to("fitting above", above->high);
  }
  stack.up_to("spare height", lid_underside);
  stack.up_to("lid", layout.lid_top);
  return stack.take();
}

}  // namespace cellstow::box
