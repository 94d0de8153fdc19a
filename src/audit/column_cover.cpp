#include "column_cover.hpp"

#include <algorithm>

namespace cellstow::audit {
namespace {

/// The lateral coordinate at which an edge reaches `height`; all in scaled ticks.
Number lateral_at(Spot low, Spot high, Tick height) {
  const Number share = exact(height - low.b) / exact(high.b - low.b);
  return exact(low.a) + share * exact(high.a - low.a);
}

/// What the part of an edge strictly within the band covers; scaled ticks.
std::optional<Stretch> covered_by(Spot from, Spot to, Span band) {
  if (from.b > to.b) std::swap(from, to);
  if (to.b <= band.low || from.b >= band.high) return std::nullopt;
  const Number start = from.b < band.low ? lateral_at(from, to, band.low) : exact(from.a);
  const Number end = to.b > band.high ? lateral_at(from, to, band.high) : exact(to.a);
  return start <= end ? Stretch{start, end} : Stretch{end, start};
}

bool material_at(const Number& lateral, const Number& height, const std::vector<ScaledRing>& rings) {
  const ExactPoint point(lateral, height);
  const CGAL::Bbox_2 at = point.bbox();
  for (const ScaledRing& ring : rings) {
    bool inside = false;
    for (std::size_t i = 0; i < ring.corners.size(); ++i) {
      const Spot from = ring.corners[i], to = ring.corners[(i + 1) % ring.corners.size()];
      if (static_cast<double>(std::max(from.b, to.b)) < at.ymin() ||
          static_cast<double>(std::min(from.b, to.b)) > at.ymax()) continue;
      const bool from_above = exact(from.b) > height, to_above = exact(to.b) > height;
      if (from_above == to_above) continue;
      const ExactPoint a(exact(from.a), exact(from.b)), b(exact(to.a), exact(to.b));
      if ((CGAL::orientation(a, b, point) == CGAL::LEFT_TURN) == to_above) inside = !inside;
    }
    if (inside == (ring.side == Side::inside)) return true;
  }
  return false;
}

std::vector<Stretch> edge_stretches(const std::vector<ScaledRing>& rings, Span band) {
  std::vector<Stretch> out;
  for (const ScaledRing& ring : rings) {
    for (std::size_t i = 0; i < ring.corners.size(); ++i) {
      auto part = covered_by(ring.corners[i], ring.corners[(i + 1) % ring.corners.size()], band);
      if (part) out.push_back(std::move(*part));
    }
  }
  std::sort(out.begin(), out.end(), [](const Stretch& left, const Stretch& right) {
    return left.low != right.low ? left.low < right.low : left.high < right.high;
  });
  return out;
}

/// Adds a blocked stretch, joined to the last one where they touch.
void add_blocked(std::vector<Stretch>& blocked, const Number& low, const Number& high) {
  if (!(low < high)) return;
  if (!blocked.empty() && blocked.back().high >= low) {
    if (blocked.back().high < high) blocked.back().high = high;
  } else {
    blocked.push_back({low, high});
  }
}

}  // namespace

std::vector<Stretch> blocked_stretches(const std::vector<ScaledRing>& rings, Tick scale, Span height) {
  const Span band{height.low * scale, height.high * scale};
  const Number middle = exact(band.low + band.high) / Number(2);
  std::vector<Stretch> blocked;
  Number reached = exact(-beyond_everything) * exact(scale);
  const auto fill_gap = [&](const Number& until) {
    if (reached < until && material_at((reached + until) / Number(2), middle, rings)) {
      add_blocked(blocked, reached, until);
    }
  };
  for (const Stretch& part : edge_stretches(rings, band)) {
    fill_gap(part.low);
    add_blocked(blocked, part.low, part.high);
    if (reached < part.high) reached = part.high;
  }
  fill_gap(exact(beyond_everything) * exact(scale));
  for (Stretch& stretch : blocked) stretch = {stretch.low / exact(scale), stretch.high / exact(scale)};
  return blocked;
}

}  // namespace cellstow::audit
