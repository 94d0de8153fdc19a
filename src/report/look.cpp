#include "report/look.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

double cross(const Flat& o, const Flat& p, const Flat& q) {
  return (p.a - o.a) * (q.b - o.b) - (p.b - o.b) * (q.a - o.a);
}

/// Convex hull, counter-clockwise (Andrew, Another efficient algorithm for convex hulls in two
/// dimensions, Information Processing Letters 9 (1979) 216-219).
std::vector<Flat> hull(std::vector<Flat> points) {
  const auto before = [](const Flat& p, const Flat& q) {
    return p.a < q.a || (p.a == q.a && p.b < q.b);
  };
  std::sort(points.begin(), points.end(), before);
  std::vector<Flat> out;
  const auto half = [&](auto begin, auto end) {
    const std::size_t keep = out.size();
    for (auto it = begin; it != end; ++it) {
      while (out.size() >= keep + 2 && cross(out[out.size() - 2], out.back(), *it) <= 0) {
        out.pop_back();
      }
      out.push_back(*it);
    }
    out.pop_back();
  };
  half(points.begin(), points.end());
  half(points.rbegin(), points.rend());
  return out;
}

using Vec = std::array<double, 3>;

Vec vec(const core::Point3& p) { return {p.x.mm(), p.y.mm(), p.z.mm()}; }

Vec cross(const Vec& p, const Vec& q) {
  return {p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]};
}

Vec unit(const Vec& v) {
  const double norm = std::sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
  if (norm <= 0) return {0, 0, 1};
  return {v[0] / norm, v[1] / norm, v[2] / norm};
}

std::vector<Flat> seen_cylinder(Look look, const survey::CylinderShape& shape) {
  const Vec from = vec(shape.from), to = vec(shape.to);
  const Vec axis = unit({to[0] - from[0], to[1] - from[1], to[2] - from[2]});
  const Vec side = unit(cross(axis, std::abs(axis[2]) < 0.9 ? Vec{0, 0, 1} : Vec{1, 0, 0}));
  const Vec other = cross(axis, side);
  const int corners = 24;
  const double radius = shape.diameter.mm() / 2 / std::cos(std::numbers::pi / corners);
  std::vector<Flat> points;
  for (int i = 0; i < corners; ++i) {
    const double turn = 2 * std::numbers::pi * i / corners;
    const double c = radius * std::cos(turn), s = radius * std::sin(turn);
    for (const Vec& end : {from, to}) {
      points.push_back(seen(look, end[0] + c * side[0] + s * other[0],
                            end[1] + c * side[1] + s * other[1],
                            end[2] + c * side[2] + s * other[2]));
    }
  }
  return hull(std::move(points));
}

std::vector<Flat> seen_prism(Look look, const survey::PrismShape& shape) {
  std::vector<Flat> points;
  for (const core::Point2& corner : shape.outline) {
    points.push_back(seen(look, corner.a.mm(), corner.b.mm(), shape.z_low.mm()));
    if (look != Look::from_above) {
      points.push_back(seen(look, corner.a.mm(), corner.b.mm(), shape.z_high.mm()));
    }
  }
  return look == Look::from_above ? points : hull(std::move(points));
}

/// A section-plane point in the car's frame.
Vec in_car(core::Axis across, double station, const core::Point2& p) {
  if (across == core::Axis::z) return {p.a.mm(), p.b.mm(), station};
  if (across == core::Axis::x) return {station, p.a.mm(), p.b.mm()};
  return {p.a.mm(), station, p.b.mm()};
}

core::Axis line_of_sight(Look look) {
  if (look == Look::from_above) return core::Axis::z;
  return look == Look::from_left ? core::Axis::y : core::Axis::x;
}

}  // namespace

void Extent::take(const Flat& p) {
  a_low = empty ? p.a : std::min(a_low, p.a);
  a_high = empty ? p.a : std::max(a_high, p.a);
  b_low = empty ? p.b : std::min(b_low, p.b);
  b_high = empty ? p.b : std::max(b_high, p.b);
  empty = false;
}

Extent Extent::grown(double by) const {
  return {a_low - by, a_high + by, b_low - by, b_high + by, empty};
}

Flat seen(Look look, double x, double y, double z) {
  if (look == Look::from_above) return {x, y};
  if (look == Look::from_left) return {x, z};
  return {y, z};
}

Flat seen(Look look, const core::Point3& p) { return seen(look, p.x.mm(), p.y.mm(), p.z.mm()); }

std::vector<Flat> seen(Look look, const packing::Cuboid& body) {
  const Flat low = seen(look, body.low), high = seen(look, body.high);
  return {low, {high.a, low.b}, high, {low.a, high.b}};
}

packing::Cuboid around(const packing::Cuboid& body, core::Heading heading) {
  if (heading.is_square()) return body;
  packing::Cuboid out = body;
  bool first = true;
  for (const core::Length u : {body.low.x, body.high.x}) {
    for (const core::Length v : {body.low.y, body.high.y}) {
      const core::Point2 at = core::to_car(heading, core::Point2{u, v});
      out.low = {first ? at.a : std::min(out.low.x, at.a), first ? at.b : std::min(out.low.y, at.b), body.low.z};
      out.high = {first ? at.a : std::max(out.high.x, at.a), first ? at.b : std::max(out.high.y, at.b), body.high.z};
      first = false;
    }
  }
  return out;
}

std::vector<Flat> seen(Look look, const packing::Cuboid& body, core::Heading heading) {
  if (look != Look::from_above || heading.is_square()) return seen(look, around(body, heading));
  std::vector<Flat> corners;
  for (const Flat& p : seen(look, body)) {
    const core::InPlan at = core::to_car(heading, core::InPlan{p.a, p.b});
    corners.push_back({at.a, at.b});
  }
  return corners;
}

double nearness(Look look, const packing::Cuboid& body) {
  if (look == Look::from_above) return body.high.z.mm();
  return look == Look::from_left ? -body.low.y.mm() : body.high.x.mm();
}

SeenSection seen(Look look, core::Axis across, const survey::Section& section) {
  const char* axis[] = {"x", "y", "z"};
  SeenSection out;
  out.label = std::string(axis[static_cast<int>(across)]) + " " + mm_text(section.station);
  out.square_on = across == line_of_sight(look);
  const auto project = [&](const core::Point2& p) {
    const Vec v = in_car(across, section.station.mm(), p);
    return seen(look, v[0], v[1], v[2]);
  };
  Extent extent;
  for (const core::Point2& p : section.outline) {
    out.measured.push_back(project(p));
    extent.take(out.measured.back());
  }
  out.outline = out.measured;
  if (!out.square_on) out.outline = {{extent.a_low, extent.b_low}, {extent.a_high, extent.b_high}};
  for (const auto& hole : section.holes) {
    std::vector<Flat> flat;
    for (const core::Point2& p : hole) flat.push_back(project(p));
    out.measured.insert(out.measured.end(), flat.begin(), flat.end());
    if (out.square_on) out.holes.push_back(std::move(flat));
  }
  return out;
}

std::vector<Flat> seen(Look look, const survey::KeepOut& keep_out) {
  if (const auto* shape = std::get_if<survey::BoxShape>(&keep_out.shape)) {
    return seen(look, packing::Cuboid{shape->low, shape->high});
  }
  if (const auto* shape = std::get_if<survey::CylinderShape>(&keep_out.shape)) {
    return seen_cylinder(look, *shape);
  }
  return seen_prism(look, std::get<survey::PrismShape>(keep_out.shape));
}

packing::Cuboid around(const survey::KeepOut& keep_out) {
  Extent plan, side;
  for (const Flat& p : seen(Look::from_above, keep_out)) plan.take(p);
  for (const Flat& p : seen(Look::from_left, keep_out)) side.take(p);
  const auto at = [](double x, double y, double z) {
    return core::Point3{core::Length::from_mm(x), core::Length::from_mm(y), core::Length::from_mm(z)};
  };
  return {at(plan.a_low, plan.b_low, side.b_low), at(plan.a_high, plan.b_high, side.b_high)};
}

std::vector<Flat> clipped(std::vector<Flat> polygon, const Extent& window) {
  const auto cut = [&](const std::function<double(const Flat&)>& inside) {
    std::vector<Flat> out;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Flat &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
      const double at_p = inside(p), at_q = inside(q);
      if (at_p >= 0) out.push_back(p);
      if ((at_p < 0) == (at_q < 0)) continue;
      const double share = at_p / (at_p - at_q);
      out.push_back({p.a + share * (q.a - p.a), p.b + share * (q.b - p.b)});
    }
    polygon = std::move(out);
  };
  cut([&](const Flat& p) { return p.a - window.a_low; });
  cut([&](const Flat& p) { return window.a_high - p.a; });
  cut([&](const Flat& p) { return p.b - window.b_low; });
  cut([&](const Flat& p) { return window.b_high - p.b; });
  return polygon;
}

std::vector<Flat> inset(const std::vector<Flat>& polygon, double by) {
  std::vector<Flat> out;
  const std::size_t n = polygon.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Flat &before = polygon[(i + n - 1) % n], &here = polygon[i], &after = polygon[(i + 1) % n];
    const double in = std::hypot(here.a - before.a, here.b - before.b);
    const double on = std::hypot(after.a - here.a, after.b - here.b);
    const Flat u{(here.a - before.a) / in, (here.b - before.b) / in};
    const Flat v{(after.a - here.a) / on, (after.b - here.b) / on};
    const double sine = u.a * v.b - u.b * v.a;
    if (std::abs(sine) < 1e-9) continue;
    // Meeting point of both edges moved to their left: here + by * (v - u) / sin(u, v).
    out.push_back({here.a + by * (v.a - u.a) / sine, here.b + by * (v.b - u.b) / sine});
  }
  return out;
}

Nearest nearest_on(const std::vector<Flat>& line, bool closed, const Flat& from) {
  Nearest best;
  const std::size_t n = line.size();
  for (std::size_t i = 0; n > 1 && i + (closed ? 0 : 1) < n; ++i) {
    const Flat &p = line[i], &q = line[(i + 1) % n];
    const double da = q.a - p.a, db = q.b - p.b, square = da * da + db * db;
    double share = square > 0 ? ((from.a - p.a) * da + (from.b - p.b) * db) / square : 0;
    share = std::clamp(share, 0.0, 1.0);
    const Flat at{p.a + share * da, p.b + share * db};
    const double distance = std::hypot(from.a - at.a, from.b - at.b);
    if (!best.found || distance < best.distance) best = {at, distance, true};
  }
  return best;
}

const char* spoken(Look look) {
  if (look == Look::from_above) return "from above, lid off";
  return look == Look::from_left ? "from the left, near side off" : "from behind, near side off";
}

const char* short_name(Look look) {
  if (look == Look::from_above) return "plan";
  return look == Look::from_left ? "side" : "end";
}

const char* across_name(Look look) { return look == Look::from_behind ? "y" : "x"; }
const char* up_name(Look look) { return look == Look::from_above ? "y" : "z"; }

}  // namespace cellstow::report
