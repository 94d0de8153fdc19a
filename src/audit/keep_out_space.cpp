#include <CGAL/convex_hull_2.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "cavity_space.hpp"
#include "exact.hpp"

namespace cellstow::audit {
namespace {

/// A number just below the square root, by less than one part in 1e14.
Number root_from_below(const Number& square) {
  double root = std::sqrt(CGAL::to_double(square));
  while (root > 0 && Number(root) * Number(root) > square) root = std::nextafter(root, 0.0);
  return Number(root);
}

Span height_of(const KeepOut& keep_out) {
  if (keep_out.kind == KeepOut::Kind::prism) {
    return {std::min(keep_out.height.low, keep_out.height.high), std::max(keep_out.height.low, keep_out.height.high)};
  }
  return {std::min(keep_out.from[2], keep_out.to[2]), std::max(keep_out.from[2], keep_out.to[2])};
}

bool meets(Span part, Span open) { return part.high > open.low && part.low < open.high; }

bool is_upright(const KeepOut& cylinder) {
  return cylinder.from[0] == cylinder.to[0] && cylinder.from[1] == cylinder.to[1];
}

Ring box_ring(const KeepOut& box) {
  return {{box.from[0], box.from[1]}, {box.to[0], box.from[1]}, {box.to[0], box.to[1]}, {box.from[0], box.to[1]}};
}

/// Seen from above, what of a level cylinder lies in the open span: a rectangle along the axis. Its
/// half width is the radius where the span holds the axis, else that of the chord nearest to it.
std::optional<Figure> level_shadow(const KeepOut& cylinder, Span open) {
  const Number radius = exact(cylinder.diameter) / Number(2);
  const Number axis = exact(cylinder.from[2]);
  Number off = 0;
  if (axis <= exact(open.low)) off = exact(open.low) - axis;
  if (axis >= exact(open.high)) off = axis - exact(open.high);
  const Number half_square = radius * radius - off * off;
  if (half_square <= 0) return std::nullopt;
  const Number dx = exact(cylinder.to[0] - cylinder.from[0]), dy = exact(cylinder.to[1] - cylinder.from[1]);
  const Number length_square = dx * dx + dy * dy;
  const bool along_car_axis = dx == 0 || dy == 0;
  Number share = root_from_below(half_square / length_square);
  if (along_car_axis && off == 0) share = radius / CGAL::abs(dx + dy);
  const Kernel::Vector_2 aside(-dy * share, dx * share);
  const ExactPoint from(exact(cylinder.from[0]), exact(cylinder.from[1]));
  const ExactPoint to(exact(cylinder.to[0]), exact(cylinder.to[1]));
  return make_figure(std::vector<ExactPoint>{from + aside, to + aside, to - aside, from - aside});
}

using Point3d = std::array<double, 3>;

/// Corners of a 256-sided prism half a micrometre inside the cylinder: near end, far end, near end, ...
std::vector<Point3d> inner_prism(const KeepOut& cylinder) {
  constexpr int flats = 256;
  constexpr double inward_ticks = 1.0;
  Point3d from{}, axis{};
  for (int i = 0; i < 3; ++i) {
    from[i] = static_cast<double>(cylinder.from[i]);
    axis[i] = static_cast<double>(cylinder.to[i] - cylinder.from[i]);
  }
  const double level = std::hypot(axis[0], axis[1]), length = std::hypot(level, axis[2]);
  const double radius = static_cast<double>(cylinder.diameter) / 2 - inward_ticks;
  // Two directions square to the axis: one level, one in the upright plane that holds the axis.
  const Point3d side{-axis[1] / level, axis[0] / level, 0};
  const Point3d rise{-axis[0] * axis[2] / (level * length), -axis[1] * axis[2] / (level * length), level / length};
  std::vector<Point3d> out;
  for (int k = 0; k < flats; ++k) {
    const double angle = 2 * std::numbers::pi * k / flats;
    Point3d near{}, far{};
    for (int i = 0; i < 3; ++i) {
      near[i] = from[i] + radius * (std::cos(angle) * side[i] + std::sin(angle) * rise[i]);
      const double shorter = inward_ticks / length;
      far[i] = near[i] + axis[i] * (1 - shorter);
      near[i] += axis[i] * shorter;
    }
    out.push_back(near), out.push_back(far);
  }
  return out;
}

void add_cut(const Point3d& from, const Point3d& to, double height, std::vector<ExactPoint>& out) {
  if ((from[2] - height) * (to[2] - height) >= 0) return;
  const double share = (height - from[2]) / (to[2] - from[2]);
  out.emplace_back(from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1]));
}

/// Seen from above, what of the inner prism lies within the span: the hull of its corners there and of
/// the places where its edges pass the span's ends.
std::optional<Figure> slanted_shadow(const KeepOut& cylinder, Span open) {
  if (cylinder.diameter <= 2) return std::nullopt;
  const std::vector<Point3d> corners = inner_prism(cylinder);
  const double low = static_cast<double>(open.low), high = static_cast<double>(open.high);
  std::vector<ExactPoint> points;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (corners[i][2] >= low && corners[i][2] <= high) points.emplace_back(corners[i][0], corners[i][1]);
    const Point3d& next_on_rim = corners[(i + 2) % corners.size()];
    for (const double height : {low, high}) {
      add_cut(corners[i], next_on_rim, height, points);
      if (i % 2 == 0) add_cut(corners[i], corners[i + 1], height, points);
    }
  }
  std::vector<ExactPoint> hull;
  CGAL::convex_hull_2(points.begin(), points.end(), std::back_inserter(hull));
  if (hull.size() < 3) return std::nullopt;
  return make_figure(std::move(hull));
}

std::optional<Conflict> plan_conflict(const Figure& figure, const KeepOut& keep_out, Span open, Tick clearance) {
  std::optional<Figure> shadow;
  if (keep_out.kind == KeepOut::Kind::cylinder && is_upright(keep_out)) {
    if (!meets(height_of(keep_out), open)) return std::nullopt;
    return disc_conflict(figure, ExactPoint(exact(keep_out.from[0]), exact(keep_out.from[1])),
                         exact(keep_out.diameter) / Number(2), exact(clearance));
  }
  if (keep_out.kind == KeepOut::Kind::cylinder) {
    shadow = is_slanted(keep_out) ? slanted_shadow(keep_out, open) : level_shadow(keep_out, open);
  } else if (meets(height_of(keep_out), open)) {
    shadow = make_figure(keep_out.kind == KeepOut::Kind::box ? box_ring(keep_out) : keep_out.outline);
  }
  if (!shadow) return std::nullopt;
  return conflict(figure, Material{std::move(*shadow), Side::inside, keep_out.name}, exact(clearance));
}

/// Lowest and highest point, for telling only.
Span told_height(const KeepOut& keep_out) {
  Span out = height_of(keep_out);
  if (keep_out.kind != KeepOut::Kind::cylinder || is_upright(keep_out)) return out;
  const double level = std::hypot(static_cast<double>(keep_out.to[0] - keep_out.from[0]),
                                  static_cast<double>(keep_out.to[1] - keep_out.from[1]));
  const double length = std::hypot(level, static_cast<double>(keep_out.to[2] - keep_out.from[2]));
  const Tick rim = std::llround(static_cast<double>(keep_out.diameter) / 2 * level / length);
  return {out.low - rim, out.high + rim};
}

}  // namespace

bool is_slanted(const KeepOut& keep_out) {
  return keep_out.kind == KeepOut::Kind::cylinder && !is_upright(keep_out) && keep_out.from[2] != keep_out.to[2];
}

std::optional<KeepOutConflict> keep_out_conflict(const Upright& body, const KeepOut& keep_out, Tick clearance) {
  const Span open{body.height.low - clearance, body.height.high + clearance};
  const auto plan = plan_conflict(make_figure(body.plan), keep_out, open, clearance);
  if (!plan) return std::nullopt;
  KeepOutConflict out{*plan, 0};
  out.plan.with = keep_out.name;
  const Span own = told_height(keep_out);
  out.vertical_short_mm = to_mm(std::min(open.high - own.low, own.high - open.low));
  return out;
}

}  // namespace cellstow::audit
