#include "report/chart.hpp"

#include <algorithm>
#include <cmath>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr double left_room = 20, right_room = 6, top_room = 11, bottom_room = 17;
constexpr double letters = 2.9;

/// 1, 2 or 5 times a power of ten, at least `least`.
double round_step(double least) {
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * power >= least * (1 - 1e-9)) return factor * power;
  }
  return 10 * power;
}

}  // namespace

Axis axis_for(std::string label, const std::vector<double>& values, int ticks, double least_tick) {
  Axis axis{std::move(label), 0, 1, 1, 0};
  if (values.empty()) return axis;
  const auto [low, high] = std::minmax_element(values.begin(), values.end());
  const double span = std::max(*high - *low, std::max(1e-3, std::abs(*high) * 0.02));
  axis.tick = round_step(std::max(span / ticks, least_tick));
  axis.low = std::floor(*low / axis.tick - 1e-9) * axis.tick;
  axis.high = std::ceil(*high / axis.tick + 1e-9) * axis.tick;
  if (axis.high <= axis.low) axis.high = axis.low + axis.tick;
  axis.decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(axis.tick) - 1e-9)));
  return axis;
}

Chart::Chart(Drawing& drawing, Axis x, Axis y, double field_height)
    : drawing_(drawing), x_(std::move(x)), y_(std::move(y)), field_{left_room, top_room, drawing.width - right_room, top_room + field_height} {
  drawing_.height = field_.bottom + bottom_room;
  drawing_.items.emplace_back(Label{{1, 4}, drawing_.title, 3.8, Anchor::start, true, false});
  drawing_.items.emplace_back(Stroke{corners(field_), true, Pen::inner, Fill::paper});
  for (int i = 0; i <= std::lround((x_.high - x_.low) / x_.tick); ++i) {
    const double value = x_.low + i * x_.tick;
    const Spot foot = at(value, y_.low);
    drawing_.items.emplace_back(Stroke{{foot, {foot.x, field_.top}}, false, Pen::frame, Fill::none});
    drawing_.items.emplace_back(Label{{foot.x, foot.y + 4.6}, fixed(value, x_.decimals), letters, Anchor::middle, false, false});
  }
  for (int i = 0; i <= std::lround((y_.high - y_.low) / y_.tick); ++i) {
    const double value = y_.low + i * y_.tick;
    const Spot foot = at(x_.low, value);
    drawing_.items.emplace_back(Stroke{{foot, {field_.right, foot.y}}, false, Pen::frame, Fill::none});
    drawing_.items.emplace_back(Label{{foot.x - 1.2, foot.y}, fixed(value, y_.decimals), letters, Anchor::end, false, false});
  }
  drawing_.items.emplace_back(Label{{(field_.left + field_.right) / 2, field_.bottom + 9.6}, x_.label, 3.2, Anchor::middle, false, false});
  drawing_.items.emplace_back(Label{{3.5, (field_.top + field_.bottom) / 2}, y_.label, 3.2, Anchor::middle, false, true});
}

Spot Chart::at(double x, double y) const {
  return {field_.left + (x - x_.low) / (x_.high - x_.low) * field_.width(), field_.bottom - (y - y_.low) / (y_.high - y_.low) * field_.height()};
}

void Chart::band(double low, double high, Fill fill) {
  const double from = std::clamp(low, y_.low, y_.high), to = std::clamp(high, y_.low, y_.high);
  if (to <= from) return;
  const Patch patch = rectangle(at(x_.low, from), at(x_.high, to));
  drawing_.items.emplace_back(Stroke{corners(patch), true, Pen::dimension, fill});
}

void Chart::dot(Spot spot, double radius, Fill fill, Pen pen) { drawing_.items.emplace_back(Ring{spot, radius, pen, fill}); }

void Chart::cross(Spot spot, double half, Pen pen) {
  for (const double turn : {1.0, -1.0}) {
    drawing_.items.emplace_back(Stroke{{{spot.x - half, spot.y - turn * half}, {spot.x + half, spot.y + turn * half}}, false, pen, Fill::none});
  }
}

ChartKey::ChartKey(Chart& chart, double gap) : chart_(chart), gap_(gap), at_{chart.field().left, chart.field().bottom + 14.5} {}

void ChartKey::say(const std::string& word) {
  constexpr double size = 2.7, beside = 2.4;
  chart_.drawing_.items.emplace_back(Label{{at_.x + beside, at_.y}, word, size, Anchor::start, false, false});
  at_.x += beside + text_width(word, size, false) + gap_;
}

void ChartKey::dot(double radius, Fill fill, Pen pen, const std::string& word) {
  chart_.dot(at_, radius, fill, pen);
  say(word);
}

void ChartKey::cross(Pen pen, const std::string& word) {
  chart_.cross(at_, 1, pen);
  say(word);
}

void ChartKey::band(Fill fill, const std::string& word) {
  chart_.drawing_.items.emplace_back(Stroke{corners({at_.x - 1.5, at_.y - 1.2, at_.x + 1.5, at_.y + 1.2}), true, Pen::dimension, fill});
  say(word);
}

}  // namespace cellstow::report
