#include <algorithm>

#include "report/page_drawings.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

std::string devices(const std::vector<wiring::CountLimit>& limits, int count_there) {
  std::string out;
  for (const wiring::CountLimit& limit : limits) {
    if (limit.count == count_there) out += (out.empty() ? "" : ", ") + limit.device;
  }
  return out.empty() ? "no device" : out;
}

}  // namespace

std::optional<Drawing> window_drawing(const plan::Plan& plan) {
  if (!plan.string) return std::nullopt;
  const wiring::CountWindow& window = plan.string->window;
  const int count_now = plan.string->series;
  if (window.highest <= 0 && window.lowest <= 1) return std::nullopt;
  const int last_known = window.highest > 0 ? window.highest : std::max(window.lowest, count_now) + 4;
  const int from = std::max(0, std::min({window.lowest, last_known, count_now}) - 3);
  const int to = std::max({window.lowest, last_known, count_now}) + 3;
  const double left = 14, right = 166, y = 18, half = 3.5;
  const auto x_of = [&](double n) { return left + (n - from) / (to - from) * (right - left); };

  Drawing out{"string-window", "cells in series that the drive allows", 180, 40, "", {}};
  const Patch allowed{x_of(window.lowest - 0.4), y - half, x_of(last_known + 0.4), y + half};
  out.items.emplace_back(Stroke{{{left, y}, {right, y}}, false, Pen::dimension, Fill::none});
  if (!window.empty) out.items.emplace_back(Stroke{corners(allowed), true, Pen::wall, Fill::window});
  const int step = std::max(1, (to - from + 24) / 25);
  for (int n = from; n <= to; n += step) {
    out.items.emplace_back(Stroke{{{x_of(n), y + half}, {x_of(n), y + half + 1.2}}, false, Pen::dimension, Fill::none});
    out.items.emplace_back(Label{{x_of(n), y + half + 3.2}, std::to_string(n), 2.8, Anchor::middle, false, false});
  }
  out.items.emplace_back(Stroke{{{x_of(count_now), y - half - 2}, {x_of(count_now), y + half}}, false, Pen::wall, Fill::none});
  out.items.emplace_back(arrow_head({x_of(count_now), y - half}, 0, 1, 2.6, Pen::inner));
  out.items.emplace_back(Label{{x_of(count_now), y - half - 5}, "this plan: " + std::to_string(count_now), 3.6, Anchor::middle, true, false});
  const std::string low = "lowest " + std::to_string(window.lowest) + ": " + devices(window.lowest_by, window.lowest);
  const std::string high = window.highest > 0 ? "highest " + std::to_string(window.highest) + ": " + devices(window.highest_by, window.highest)
                                              : "no highest count known";
  out.items.emplace_back(Label{{left, 31}, shortened(low, 75), 3, Anchor::start, false, false});
  out.items.emplace_back(Label{{left, 35.5}, shortened(high + (window.empty ? "; no count suits all" : ""), 75), 3, Anchor::start, false, false});
  return out;
}

}  // namespace cellstow::report
