#include "true_space.hpp"

#include <algorithm>
#include <array>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>
#include <functional>
#include <numbers>

namespace cellstow::test {
namespace {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Polygon = bg::model::polygon<Point>;
using Polygons = bg::model::multi_polygon<Polygon>;
using Line = bg::model::linestring<Point>;
using survey::Section;

constexpr double everywhere_mm = 50'000;
constexpr double overlap = -1;

double mm(Um um) { return static_cast<double>(um) / 1000; }

Polygon polygon_of(const Section& section) {
  Polygon polygon;
  for (const auto& p : section.outline) polygon.outer().emplace_back(p.a.mm(), p.b.mm());
  for (const auto& hole : section.holes) {
    auto& ring = polygon.inners().emplace_back();
    for (const auto& p : hole) ring.emplace_back(p.a.mm(), p.b.mm());
  }
  bg::correct(polygon);
  return polygon;
}

/// Matched corners a share of the way, in doubles.
Polygon polygon_between(const Section& from, const Section& to, double share) {
  Polygon polygon;
  auto mix = [&](const std::vector<survey::Point2>& a, const std::vector<survey::Point2>& b, auto& ring) {
    for (std::size_t k = 0; k < a.size(); ++k) {
      ring.push_back(Point(a[k].a.mm() + share * (b[k].a.mm() - a[k].a.mm()),
                           a[k].b.mm() + share * (b[k].b.mm() - a[k].b.mm())));
    }
  };
  mix(from.outline, to.outline, polygon.outer());
  for (std::size_t h = 0; h < from.holes.size(); ++h) {
    mix(from.holes[h], to.holes[h], polygon.inners().emplace_back());
  }
  bg::correct(polygon);
  return polygon;
}

Polygon rectangle(double x_low, double x_high, double y_low, double y_high) {
  Polygon polygon;
  polygon.outer() = {{x_low, y_low}, {x_low, y_high}, {x_high, y_high}, {x_high, y_low}, {x_low, y_low}};
  return polygon;
}

Polygon plan_of(const Body& b) { return rectangle(mm(b.x_low), mm(b.x_high), mm(b.y_low), mm(b.y_high)); }

/// Distance of a polygon from the edge of the space it lies in; `overlap` when it does not lie in it.
double distance_inside(const Polygon& plan, const Polygon& space) {
  if (!bg::covered_by(plan, space)) return overlap;
  double least = bg::distance(plan, Line(space.outer().begin(), space.outer().end()));
  for (const auto& ring : space.inners()) {
    least = std::min(least, bg::distance(plan, Line(ring.begin(), ring.end())));
  }
  return least;
}

/// Least value over [low, high], sampled and sampled again round the three lowest samples.
double least_over(double low, double high, int samples, const std::function<double(double)>& value) {
  std::vector<std::pair<double, double>> found;
  const double step = (high - low) / samples;
  for (int k = 0; k <= samples; ++k) found.emplace_back(value(low + k * step), low + k * step);
  std::sort(found.begin(), found.end());
  double least = found.front().first;
  for (std::size_t i = 0; i < 3; ++i) {
    for (int k = -12; k <= 12; ++k) {
      least = std::min(least, value(std::clamp(found[i].second + k * step / 12, low, high)));
    }
  }
  return least;
}

// ---- sections across z -----------------------------------------------------

double plan_sections_distance(const survey::Sections& sections, region::Reading reading, const Body& body,
                              double low, double high) {
  const auto& at = sections.at;
  if (low < at.front().station.mm() || high > at.back().station.mm()) return overlap;
  const Polygon plan = plan_of(body);
  double least = everywhere_mm;
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    const double from = at[i].station.mm(), to = at[i + 1].station.mm();
    const double a = std::max(from, low), b = std::min(to, high);
    if (a >= b) continue;
    if (reading == region::Reading::common) {
      for (const Section* section : {&at[i], &at[i + 1]}) {
        least = std::min(least, distance_inside(plan, polygon_of(*section)));
      }
      continue;
    }
    least = std::min(least, least_over((a - from) / (to - from), (b - from) / (to - from), 24, [&](double share) {
      return distance_inside(plan, polygon_between(at[i], at[i + 1], share));
    }));
  }
  return least;
}

// ---- sections across x or y ------------------------------------------------

struct Interval { double low, high; };

/// Where, along the section plane, the column from low to high is not wholly inside the section.
std::vector<Interval> blocked_columns(const Polygon& section, double low, double high) {
  Polygons rest;
  bg::difference(rectangle(-everywhere_mm, everywhere_mm, low, high), section, rest);
  std::vector<Interval> blocked;
  for (const Polygon& piece : rest) {
    if (bg::area(piece) < 1e-9) continue;
    const auto box = bg::return_envelope<bg::model::box<Point>>(piece);
    blocked.push_back({box.min_corner().x(), box.max_corner().x()});
  }
  return blocked;
}

double apart(double a_low, double a_high, double b_low, double b_high) {
  return std::max({0.0, b_low - a_high, a_low - b_high});
}

/// Distance from the body's plan to columns blocked at stations [from, to].
double distance_to(const std::vector<Interval>& blocked, double from, double to, double station_low,
                   double station_high, double along_low, double along_high) {
  double least = everywhere_mm;
  const double d_station = apart(station_low, station_high, from, to);
  for (const Interval& interval : blocked) {
    const double d_along = apart(along_low, along_high, interval.low, interval.high);
    const bool overlaps = from < station_high && to > station_low && interval.low < along_high &&
                          interval.high > along_low;
    least = std::min(least, overlaps ? overlap : std::hypot(d_station, d_along));
  }
  return least;
}

double upright_sections_distance(const survey::Sections& sections, region::Reading reading, const Body& body,
                                 double low, double high, double reach) {
  const auto& at = sections.at;
  double s_low = mm(body.x_low), s_high = mm(body.x_high), a_low = mm(body.y_low), a_high = mm(body.y_high);
  if (sections.across == survey::Axis::y) std::swap(s_low, a_low), std::swap(s_high, a_high);
  double least = std::min(s_low - at.front().station.mm(), at.back().station.mm() - s_high);
  if (least < 0) return overlap;
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    const double from = at[i].station.mm(), to = at[i + 1].station.mm();
    if (reading == region::Reading::common) {
      for (const Section* section : {&at[i], &at[i + 1]}) {
        least = std::min(least, distance_to(blocked_columns(polygon_of(*section), low, high), from, to, s_low,
                                            s_high, a_low, a_high));
      }
      continue;
    }
    const double a = std::max(from, s_low - reach), b = std::min(to, s_high + reach);
    if (a >= b) continue;
    least = std::min(least, least_over(a, b, 24, [&](double station) {
      const Polygon section = polygon_between(at[i], at[i + 1], (station - from) / (to - from));
      return distance_to(blocked_columns(section, low, high), station, station, s_low, s_high, a_low, a_high);
    }));
  }
  return least;
}

// ---- keep-outs -------------------------------------------------------------

using Vec3 = std::array<double, 3>;

Vec3 vec(const survey::Point3& p) { return {p.x.mm(), p.y.mm(), p.z.mm()}; }

/// Plan of the part of a true cylinder between two heights: hull of points on its surface.
Polygon cylinder_shadow(const survey::CylinderShape& cylinder, double thicker, double low, double high) {
  const Vec3 p = vec(cylinder.from), q = vec(cylinder.to);
  Vec3 axis{q[0] - p[0], q[1] - p[1], q[2] - p[2]};
  const double length = std::hypot(axis[0], axis[1], axis[2]);
  for (double& c : axis) c /= length;
  const double level = std::hypot(axis[0], axis[1]);
  const Vec3 side = level > 0 ? Vec3{-axis[1] / level, axis[0] / level, 0} : Vec3{1, 0, 0};
  const Vec3 up{axis[1] * side[2] - axis[2] * side[1], axis[2] * side[0] - axis[0] * side[2],
                axis[0] * side[1] - axis[1] * side[0]};
  const double radius = cylinder.diameter.mm() / 2 + thicker;
  bg::model::multi_point<Point> points;
  constexpr int around = 3'600;
  for (int k = 0; k < around; ++k) {
    const double angle = 2 * std::numbers::pi * k / around;
    auto on_surface = [&](double along, int i) {
      return p[i] + along * axis[i] + radius * (std::cos(angle) * side[i] + std::sin(angle) * up[i]);
    };
    double from = -thicker, to = length + thicker;
    if (std::abs(axis[2]) > 1e-12) {
      double a = (low - on_surface(0, 2)) / axis[2], b = (high - on_surface(0, 2)) / axis[2];
      if (a > b) std::swap(a, b);
      from = std::max(from, a), to = std::min(to, b);
    } else if (on_surface(0, 2) < low || on_surface(0, 2) > high) {
      continue;
    }
    if (from > to) continue;
    for (const double along : {from, to}) bg::append(points, Point(on_surface(along, 0), on_surface(along, 1)));
  }
  Polygon hull;
  if (points.size() >= 3) bg::convex_hull(points, hull);
  return hull;
}

struct Shadow { double low, high; Polygon plan; };

Shadow shadow_of(const survey::KeepOut& keep_out, double thicker, double low, double high) {
  if (const auto* box = std::get_if<survey::BoxShape>(&keep_out.shape)) {
    return {box->low.z.mm(), box->high.z.mm(),
            rectangle(box->low.x.mm(), box->high.x.mm(), box->low.y.mm(), box->high.y.mm())};
  }
  if (const auto* prism = std::get_if<survey::PrismShape>(&keep_out.shape)) {
    return {prism->z_low.mm(), prism->z_high.mm(), polygon_of({{}, prism->outline, {}})};
  }
  return {-everywhere_mm, everywhere_mm,
          cylinder_shadow(std::get<survey::CylinderShape>(keep_out.shape), thicker, low, high)};
}

}  // namespace

double spare_to_keep_out_mm(const survey::KeepOut& keep_out, const region::Clearances& clearances,
                            const Body& body, double thicker_mm) {
  const double own = keep_out.clearance ? keep_out.clearance->mm() : mm(clearances.body);
  const double low = mm(body.bottom) - own, high = mm(body.top) + own;
  const Shadow shadow = shadow_of(keep_out, thicker_mm, low, high);
  if (shadow.low >= high || shadow.high <= low || bg::is_empty(shadow.plan)) return everywhere_mm;
  const Polygon plan = plan_of(body);
  Polygons common;
  bg::intersection(plan, shadow.plan, common);
  if (bg::area(common) > 1e-9) return overlap;
  return bg::distance(plan, shadow.plan) - own - mm(clearances.extra);
}

double spare_mm(const survey::Cavity& cavity, const region::Clearances& clearances, region::Reading reading,
                const Body& body) {
  const double low = mm(body.bottom - clearances.body), high = mm(body.top + clearances.lid);
  const double reach = mm(clearances.body + clearances.extra);
  const double distance =
      cavity.sections.across == survey::Axis::z
          ? plan_sections_distance(cavity.sections, reading, body, low, high)
          : upright_sections_distance(cavity.sections, reading, body, low, high, reach);
  double spare = distance < 0 ? overlap : distance - reach;
  for (const survey::KeepOut& keep_out : cavity.keep_outs) {
    spare = std::min(spare, spare_to_keep_out_mm(keep_out, clearances, body, 0));
  }
  return spare;
}

}  // namespace cellstow::test
