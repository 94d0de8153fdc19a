#include "etch.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace cellstow::fabrication {
namespace {

using Corners = std::vector<FlatPoint>;

struct Room {
  FlatPoint low, high;
};

/// Does the segment come into the open rectangle? Clipped by each side in turn (Liang and Barsky).
bool enters(const Room& room, FlatPoint p, FlatPoint q) {
  double from = 0, to = 1;
  const std::array<double, 4> step{p.a - q.a, q.a - p.a, p.b - q.b, q.b - p.b};
  const std::array<double, 4> gap{p.a - room.low.a, room.high.a - p.a, p.b - room.low.b, room.high.b - p.b};
  for (std::size_t i = 0; i < 4; ++i) {
    if (step[i] == 0) {
      if (gap[i] <= 0) return false;
    } else {
      const double t = gap[i] / step[i];
      if (step[i] < 0) from = std::max(from, t);
      else to = std::min(to, t);
    }
  }
  return from < to;
}

bool crosses(const Room& room, const Corners& path) {
  for (std::size_t i = 0; i < path.size(); ++i) {
    if (enters(room, path[i], path[(i + 1) % path.size()])) return true;
  }
  return false;
}

/// The metal where lettering may go: inside the outline, outside holes and bends.
struct Metal {
  Corners outline;
  std::vector<Corners> kept_free;

  bool is_free(const Room& room) const {
    const FlatPoint middle{(room.low.a + room.high.a) / 2, (room.low.b + room.high.b) / 2};
    if (!inside(middle, outline) || crosses(room, outline)) return false;
    return std::none_of(kept_free.begin(), kept_free.end(),
                        [&](const Corners& hole) { return inside(middle, hole) || crosses(room, hole); });
  }
};

Corners strip_of(const BendLine& bend) {
  const double da = bend.to.a - bend.from.a, db = bend.to.b - bend.from.b, length = std::hypot(da, db);
  const double half = bend.allowance / 2 + 0.5;
  const FlatPoint across{-db / length * half, da / length * half};
  return {{bend.from.a - across.a, bend.from.b - across.b}, {bend.to.a - across.a, bend.to.b - across.b},
          {bend.to.a + across.a, bend.to.b + across.b}, {bend.from.a + across.a, bend.from.b + across.b}};
}

Metal metal_of(const FlatPattern& flat) {
  Metal metal{straightened(flat.outline, 0.1), {}};
  for (const FlatHole& hole : flat.holes) metal.kept_free.push_back(straightened(hole_path(hole), 0.1));
  for (const BendLine& bend : flat.bends) metal.kept_free.push_back(strip_of(bend));
  return metal;
}

std::vector<EtchLine> arrow_to(FlatPoint tip, FlatPoint back, double barb) {
  const double da = back.a - tip.a, db = back.b - tip.b, length = std::hypot(da, db);
  const FlatPoint u{da / length * barb, db / length * barb};
  return {{back, tip},
          {tip, {tip.a + u.a - u.b * 0.5, tip.b + u.b + u.a * 0.5}},
          {tip, {tip.a + u.a + u.b * 0.5, tip.b + u.b - u.a * 0.5}}};
}

void add_lettering(SheetPart& part, const std::string& text, const Room& room, double h) {
  const bool front = part.arrow == Arrow::front;
  part.flat.etch_texts.push_back({text, {room.low.a + h * (front ? 4.0 : 0.5), room.low.b + h}, h, 0});
  const double middle = (room.low.b + room.high.b) / 2;
  std::vector<EtchLine> arrow;
  if (front) arrow = arrow_to({room.low.a + h * 0.5, middle}, {room.low.a + h * 3.5, middle}, h * 0.9);
  if (part.arrow == Arrow::up) {
    const double a = room.high.a - h * 1.2;
    arrow = arrow_to({a, room.high.b - h * 0.3}, {a, room.low.b + h * 0.3}, h * 0.9);
  }
  part.flat.etch_lines.insert(part.flat.etch_lines.end(), arrow.begin(), arrow.end());
}

std::optional<Room> free_room(const Metal& metal, const FlatExtent& extent, double width, double height) {
  constexpr int steps = 24;
  for (int i = 0; i < steps * steps; ++i) {
    const FlatPoint low{extent.low.a + extent.width() * (i % steps) / steps,
                        extent.low.b + extent.height() * (i / steps) / steps};
    const Room room{low, {low.a + width, low.b + height}};
    if (metal.is_free(room)) return room;
  }
  return std::nullopt;
}

/// Short lines across the edge where each bend begins and ends, to set the sheet up by in the brake.
void add_ticks(FlatPattern& flat) {
  for (const BendLine& bend : flat.bends) {
    const double da = bend.to.a - bend.from.a, db = bend.to.b - bend.from.b, length = std::hypot(da, db);
    const double tick = std::min(6.0, length / 4);
    const FlatPoint along{da / length * tick, db / length * tick};
    flat.etch_lines.push_back({bend.from, {bend.from.a + along.a, bend.from.b + along.b}});
    flat.etch_lines.push_back({{bend.to.a - along.a, bend.to.b - along.b}, bend.to});
  }
}

}  // namespace

bool etch(SheetPart& part) {
  std::string text = part.mark + " rev " + part.revision;
  if (part.arrow == Arrow::front) text += " FRONT";
  if (part.arrow == Arrow::up) text += " UP";
  const Metal metal = metal_of(part.flat);
  const FlatExtent extent = extent_of(part.flat.outline);
  add_ticks(part.flat);
  for (const double h : {10.0, 8.0, 6.0, 4.0, 3.0}) {
    // A letter of a single-line face is at most as wide as it is high.
    const double width = h * (static_cast<double>(text.size()) + 4.5), height = h * 3;
    if (const auto room = free_room(metal, extent, width, height)) {
      add_lettering(part, text, *room, h);
      return true;
    }
  }
  return false;
}

}  // namespace cellstow::fabrication
