#include "report/part_mark.hpp"

#include <algorithm>
#include <cmath>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

double area(const std::vector<Flat>& polygon) {
  double twice = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Flat &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
    twice += p.a * q.b - q.a * p.b;
  }
  return std::abs(twice) / 2;
}

bool clear_of(const box::Hole& hole, const Extent& room) {
  const double a = hole.centre.a.mm(), b = hole.centre.b.mm(), radius = hole.diameter.mm() / 2;
  const double da = std::max({room.a_low - a, 0.0, a - room.a_high});
  const double db = std::max({room.b_low - b, 0.0, b - room.b_high});
  return std::hypot(da, db) > radius;
}

/// Inside: what the room cuts out of the outline is all of the room.
bool is_free(const box::Panel& panel, const std::vector<Flat>& outline, const Extent& room) {
  const double whole = (room.a_high - room.a_low) * (room.b_high - room.b_low);
  if (area(clipped(outline, room)) < whole * (1 - 1e-9)) return false;
  return std::all_of(panel.holes.begin(), panel.holes.end(),
                     [&](const box::Hole& hole) { return clear_of(hole, room); });
}

enum class Pointing { nowhere, front, up };

Pointing pointing_of(const box::Panel& panel) {
  if (panel.name.starts_with("floor") || panel.name.starts_with("lid")) return Pointing::front;
  return panel.name.starts_with("wall") ? Pointing::up : Pointing::nowhere;
}

std::vector<std::pair<Flat, Flat>> arrow_to(Flat tip, Flat back, double barb) {
  const double da = back.a - tip.a, db = back.b - tip.b, length = std::hypot(da, db);
  const Flat u{da / length * barb, db / length * barb};
  return {{back, tip},
          {tip, {tip.a + u.a - u.b * 0.5, tip.b + u.b + u.a * 0.5}},
          {tip, {tip.a + u.a + u.b * 0.5, tip.b + u.b - u.a * 0.5}}};
}

PartMark lay_out(const std::string& text, Pointing pointing, const Extent& room, double h) {
  PartMark out{text, {room.a_low + h * (pointing == Pointing::front ? 4.0 : 0.5), room.b_low + h}, h, {}};
  const double middle = (room.b_low + room.b_high) / 2;
  if (pointing == Pointing::front) {
    out.arrow = arrow_to({room.a_low + h * 0.5, middle}, {room.a_low + h * 3.5, middle}, h * 0.9);
  } else if (pointing == Pointing::up) {
    const double a = room.a_high - h * 1.2;
    out.arrow = arrow_to({a, room.b_high - h * 0.3}, {a, room.b_low + h * 0.3}, h * 0.9);
  }
  return out;
}

}  // namespace

std::optional<PartMark> part_mark(const box::Panel& panel) {
  std::vector<Flat> outline;
  Extent extent;
  for (const core::Point2& corner : panel.outline) {
    outline.push_back({corner.a.mm(), corner.b.mm()});
    extent.take(outline.back());
  }
  const Pointing pointing = pointing_of(panel);
  std::string text = ascii_line(panel.mark);
  if (pointing == Pointing::front) text += " FRONT";
  if (pointing == Pointing::up) text += " UP";
  const int steps = 24;
  for (const double h : {10.0, 8.0, 6.0, 4.0, 3.0}) {
    // A letter of a single-line face is at most as wide as it is high.
    const double width = h * (static_cast<double>(text.size()) + 4.5), height = h * 3;
    for (int i = 0; i < steps * steps; ++i) {
      const double a = extent.a_low + (extent.a_high - extent.a_low) * (i % steps) / steps;
      const double b = extent.b_low + (extent.b_high - extent.b_low) * (i / steps) / steps;
      const Extent room{a, a + width, b, b + height, false};
      if (is_free(panel, outline, room)) return lay_out(text, pointing, room, h);
    }
  }
  return std::nullopt;
}

}  // namespace cellstow::report
