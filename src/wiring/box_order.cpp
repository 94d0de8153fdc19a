#include "box_order.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <numeric>
#include <tuple>

#include "post_room.hpp"

namespace cellstow::wiring {
namespace {

using packing::BoxLayout;

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

bool has_main_fuse(const BoxLayout& layout) {
  return std::any_of(layout.fittings.begin(), layout.fittings.end(),
                     [](const auto& fitting) { return lower(fitting.name).find("main fuse") != std::string::npos; });
}

/// Middle of the cells, car frame, mm.
Spot middle_in_car(const BoxLayout& layout) {
  Spot at;
  const double share = 2000.0 * static_cast<double>(std::max<std::size_t>(layout.cells.size(), 1));
  for (const packing::PlacedCell& cell : layout.cells) {
    at.u += static_cast<double>(cell.body.low.x.um() + cell.body.high.x.um()) / share;
    at.v += static_cast<double>(cell.body.low.y.um() + cell.body.high.y.um()) / share;
    at.z += static_cast<double>(cell.body.low.z.um() + cell.body.high.z.um()) / share;
  }
  const core::InPlan car = core::to_car(layout.heading, {at.u, at.v});
  return {car.a, car.b, at.z};
}

Spot in_frame_of(const BoxLayout& layout, const Spot& car) {
  const core::InPlan box = core::to_box(layout.heading, {car.u, car.v});
  return {box.a, box.b, car.z};
}

std::tuple<int, std::int64_t> cost_of(const std::vector<BoxOfCells>& boxes, const std::vector<Spot>& middles, const std::vector<int>& order) {
  std::int64_t length = 0;
  for (std::size_t i = 1; i < order.size(); ++i) {
    length += distance_um(middles[static_cast<std::size_t>(order[i - 1])], middles[static_cast<std::size_t>(order[i])]);
  }
  return {has_main_fuse(*boxes[static_cast<std::size_t>(order.back())].layout) ? 0 : 1, length};
}

}  // namespace

const packing::PlacedFitting* fuse_of(const BoxLayout& layout) {
  const auto fuse = std::find_if(layout.fittings.begin(), layout.fittings.end(), packing::is_fuse);
  return fuse == layout.fittings.end() ? nullptr : &*fuse;
}

std::vector<int> order_boxes(const std::vector<BoxOfCells>& boxes) {
  std::vector<int> order(boxes.size());
  std::iota(order.begin(), order.end(), 0);
  if (boxes.size() < 2 || boxes.size() > 7) return order;
  std::vector<Spot> middles;
  for (const BoxOfCells& box : boxes) middles.push_back(middle_in_car(*box.layout));
  std::vector<int> best = order;
  while (std::next_permutation(order.begin(), order.end())) {
    if (cost_of(boxes, middles, order) < cost_of(boxes, middles, best)) best = order;
  }
  return best;
}

std::vector<BoxTask> tasks_of(const survey::Cell& cell, const survey::Rules& rules, const std::vector<BoxOfCells>& boxes, const std::vector<int>& order) {
  std::vector<BoxTask> tasks;
  int before = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const BoxLayout& layout = *boxes[static_cast<std::size_t>(order[i])].layout;
    BoxTask task{&layout, facings_of(cell, rules, layout), {}, {}, before};
    if (i > 0) task.near_first = in_frame_of(layout, middle_in_car(*boxes[static_cast<std::size_t>(order[i - 1])].layout));
    if (i + 1 < order.size()) task.near_last = in_frame_of(layout, middle_in_car(*boxes[static_cast<std::size_t>(order[i + 1])].layout));
    if (const packing::PlacedFitting* fuse = fuse_of(layout)) {
      const auto half = [](core::Length low, core::Length high) { return static_cast<double>(low.um() + high.um()) / 2000.0; };
      task.near_last = Spot{half(fuse->body.low.x, fuse->body.high.x), half(fuse->body.low.y, fuse->body.high.y),
                            half(fuse->body.low.z, fuse->body.high.z)};
    }
    before += static_cast<int>(layout.cells.size());
    tasks.push_back(task);
  }
  return tasks;
}

}  // namespace cellstow::wiring
