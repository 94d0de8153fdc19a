#include <algorithm>
#include <array>

#include "report/callout.hpp"
#include "report/page_drawings.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr double sheet = 180;
constexpr double bar_left = 6, bar_right = 38;
constexpr double names_at = 50;
constexpr double line_height = 4.4;

Fill fill_of(const std::string& layer, std::size_t index) {
  if (layer.find("cell") != std::string::npos) return Fill::cell;
  if (layer.find("headroom") != std::string::npos) return Fill::paper;
  return index % 2 == 0 ? Fill::end_plate : Fill::box;
}

/// Name, thickness, top over the floor's underside and over the ground, in columns.
void write_row(Drawing& out, double y, const std::string& name, const std::array<std::string, 3>& figures, bool bold) {
  out.items.emplace_back(Label{{names_at, y}, shortened(name, 28), 3, Anchor::start, bold, false});
  const double columns[] = {116, 146, 176};
  for (std::size_t i = 0; i < 3; ++i) {
    out.items.emplace_back(Label{{columns[i], y}, figures[i], 3, Anchor::end, bold, false});
  }
}

}  // namespace

std::optional<Drawing> stack_drawing(const box::Box& box) {
  if (box.stack.empty()) return std::nullopt;
  const double total = box.stack.back().top.mm();
  if (total <= 0) return std::nullopt;
  const double height = std::max(70.0, line_height * static_cast<double>(box.stack.size()) + 4);
  const double top = 18, bottom = top + height;
  Drawing out{file_part(box.mark) + "-heights", "box " + box.mark + ", stack of heights", sheet, bottom + 10, "", {}};
  out.items.emplace_back(Label{{1, 4}, shortened("Box " + box.mark + ", stack of heights, mm", 60), 4.2, Anchor::start, true, false});
  write_row(out, 9.5, "layer", {"thick", "top over floor", "over ground"}, true);
  const auto y_of = [&](core::Length up) { return bottom - up.mm() / total * height; };
  std::vector<double> wanted, heights;
  for (std::size_t i = box.stack.size(); i-- > 0;) {
    const box::StackLayer& layer = box.stack[i];
    const double low = y_of(layer.top - layer.thickness), high = y_of(layer.top);
    out.items.emplace_back(Stroke{corners({bar_left, high, bar_right, low}), true, Pen::cell, fill_of(layer.name, i)});
    wanted.push_back((low + high) / 2 - line_height / 2);
    heights.push_back(line_height);
  }
  const std::vector<double> tops = stacked(wanted, heights, top - 5, bottom + 6);
  for (std::size_t i = 0; i < tops.size(); ++i) {
    const box::StackLayer& layer = box.stack[box.stack.size() - 1 - i];
    const double middle = tops[i] + line_height / 2;
    out.items.emplace_back(Stroke{{{bar_right, wanted[i] + line_height / 2}, {names_at - 4, middle}, {names_at - 1, middle}}, false, Pen::leader, Fill::none});
    write_row(out, middle, layer.name, {mm_text(layer.thickness), mm_text(layer.top), mm_text(box.layout.z_bottom + layer.top)}, false);
  }
  out.items.emplace_back(Label{{(bar_left + bar_right) / 2, bottom + 4}, "together " + number(total), 3, Anchor::middle, true, false});
  return out;
}

}  // namespace cellstow::report
