#include "cellstow/way_in/body.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/way_in/convex_parts.hpp"

namespace cellstow::way_in {
namespace {

using core::Axis;
using geometry::Loop;

constexpr double rad_per_deg = std::numbers::pi / 180;

double real(Um um) { return static_cast<double>(um); }

Loop ccw_loop(const std::vector<core::Point2>& outline) {
  Loop loop;
  for (const core::Point2& p : outline) loop.push_back({p.a.um(), p.b.um()});
  if (geometry::doubled_area(loop) < 0) std::reverse(loop.begin(), loop.end());
  return loop;
}

/// A turn of a whole number of quarters keeps whole micrometres.
bool is_quarter(double deg) { return std::fmod(deg, 90.0) == 0; }

struct Turn { double cos, sin; };

Turn turn_of(double deg) {
  if (!is_quarter(deg)) return {std::cos(deg * rad_per_deg), std::sin(deg * rad_per_deg)};
  const int quarters = ((static_cast<int>(deg / 90) % 4) + 4) % 4;
  constexpr Turn whole[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
  return whole[quarters];
}

Figure convex_hull(std::vector<Spot> points) {
  const auto less = [](Spot p, Spot q) { return p.a != q.a ? p.a < q.a : p.b < q.b; };
  std::sort(points.begin(), points.end(), less);
  Figure hull;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t base = hull.size();
    for (const Spot& p : points) {
      const auto turns_right = [&] {
        const Spot &a = hull[hull.size() - 2], &b = hull.back();
        return (b.a - a.a) * (p.b - a.b) - (b.b - a.b) * (p.a - a.a) <= 0;
      };
      while (hull.size() >= base + 2 && turns_right()) hull.pop_back();
      hull.push_back(p);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return hull.empty() ? Figure{points.front()} : hull;
}

/// How much longer a way can look in the opening's plane than it is: 1 / cosine between move and normal.
double stretch(const survey::WayIn& way) {
  const auto& m = way.move;
  return std::sqrt(m[0] * m[0] + m[1] * m[1] + m[2] * m[2]) /
         std::abs(m[static_cast<std::size_t>(way.across)]);
}

bool along_one_axis(const survey::WayIn& way) {
  return std::count(way.move.begin(), way.move.end(), 0.0) == 2;
}

}  // namespace

Body::Body(std::string name, const std::vector<Piece>& pieces) : name_(std::move(name)) {
  Um x[2] = {geometry::far_um, -geometry::far_um}, y[2] = {x[0], x[1]};
  low_um_ = x[0], high_um_ = x[1];
  for (const Piece& piece : pieces) {
    for (Loop& part : convex_parts(ccw_loop(piece.outline))) {
      for (const geometry::PointUm& p : part) {
        x[0] = std::min(x[0], p.s), x[1] = std::max(x[1], p.s);
        y[0] = std::min(y[0], p.t), y[1] = std::max(y[1], p.t);
      }
      parts_.push_back({std::move(part), piece.low.um(), piece.high.um()});
    }
    low_um_ = std::min(low_um_, piece.low.um());
    high_um_ = std::max(high_um_, piece.high.um());
  }
  middle_ = {std::floor(real(x[0] + x[1]) / 2), std::floor(real(y[0] + y[1]) / 2),
             std::floor(real(low_um_ + high_um_) / 2)};
  const Loop first = ccw_loop(pieces.front().outline);
  double longest = -1;
  for (std::size_t k = 0; k < first.size(); ++k) {
    const auto p = first[k], q = first[(k + 1) % first.size()];
    const double ds = real(q.s - p.s), dt = real(q.t - p.t);
    if (std::hypot(ds, dt) <= longest) continue;
    longest = std::hypot(ds, dt);
    long_side_deg_ = dt == 0 ? 0 : ds == 0 ? 90 : std::fmod(std::atan2(dt, ds) / rad_per_deg + 360, 180);
  }
}

Body::Place Body::held(const Place& p, const Attitude& attitude) const {
  Place d{p.x - middle_.x, p.y - middle_.y, p.z - middle_.z};
  if (attitude.tilt_deg != 0) {
    const Turn line = turn_of(attitude.line_deg), tilt = turn_of(attitude.tilt_deg);
    const double along = d.x * line.cos + d.y * line.sin, beside = -d.x * line.sin + d.y * line.cos;
    const double out = beside * tilt.cos + d.z * tilt.sin;
    d = {along * line.cos - out * line.sin, along * line.sin + out * line.cos,
         d.z * tilt.cos - beside * tilt.sin};
  }
  const Turn turn = turn_of(attitude.turn_deg);
  return {middle_.x + d.x * turn.cos - d.y * turn.sin, middle_.y + d.x * turn.sin + d.y * turn.cos,
          middle_.z + d.z};
}

Shadow Body::shadow(const survey::WayIn& way, const Attitude& attitude) const {
  Shadow out;
  out.whole_um = is_quarter(attitude.turn_deg) && is_quarter(attitude.tilt_deg) &&
                 (attitude.tilt_deg == 0 || is_quarter(attitude.line_deg)) && along_one_axis(way);
  const auto normal = static_cast<std::size_t>(way.across);
  const double through = way.move[normal], station = real(way.station.um());
  for (const Part& part : parts_) {
    std::vector<Spot> points;
    for (const geometry::PointUm& p : part.plan) {
      for (const Um z : {part.low, part.high}) {
        const Place at = held({real(p.s), real(p.t), real(z)}, attitude);
        const double c[3] = {at.x, at.y, at.z};
        const double way_off = (c[normal] - station) / through;
        double flat[3];
        for (std::size_t i = 0; i < 3; ++i) flat[i] = c[i] - way_off * way.move[i];
        if (way.across == Axis::x) points.push_back({flat[1], flat[2]});
        if (way.across == Axis::y) points.push_back({flat[0], flat[2]});
        if (way.across == Axis::z) points.push_back({flat[0], flat[1]});
      }
    }
    out.parts.push_back(convex_hull(std::move(points)));
  }
  return out;
}

double Body::sweep_of_turn_um(const survey::WayIn& way) const {
  double farthest = 0;
  for (const Part& part : parts_) {
    for (const geometry::PointUm& p : part.plan) {
      farthest = std::max(farthest, std::hypot(real(p.s) - middle_.x, real(p.t) - middle_.y));
    }
  }
  return farthest * stretch(way);
}

double Body::sweep_of_tilt_um(const survey::WayIn& way, double line_deg) const {
  const Turn line = turn_of(line_deg);
  double farthest = 0;
  for (const Part& part : parts_) {
    for (const geometry::PointUm& p : part.plan) {
      for (const Um z : {part.low, part.high}) {
        const double beside = -(real(p.s) - middle_.x) * line.sin + (real(p.t) - middle_.y) * line.cos;
        farthest = std::max(farthest, std::hypot(beside, real(z) - middle_.z));
      }
    }
  }
  return farthest * stretch(way);
}

double Body::height_um(const Attitude& attitude) const {
  double low = 1e18, high = -1e18;
  for (const Part& part : parts_) {
    for (const geometry::PointUm& p : part.plan) {
      for (const Um z : {part.low, part.high}) {
        const double at = held({real(p.s), real(p.t), real(z)}, attitude).z;
        low = std::min(low, at), high = std::max(high, at);
      }
    }
  }
  return high - low;
}

double Body::extent_um(double direction_deg) const {
  const Turn along = turn_of(direction_deg);
  double low = 1e18, high = -1e18;
  for (const Part& part : parts_) {
    for (const geometry::PointUm& p : part.plan) {
      const double at = real(p.s) * along.cos + real(p.t) * along.sin;
      low = std::min(low, at), high = std::max(high, at);
    }
  }
  return high - low;
}

}  // namespace cellstow::way_in
