#include "cellstow/wiring/exit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "joins.hpp"

namespace cellstow::wiring {
namespace {

constexpr double step_mm = 10, step_deg = 15;
constexpr double half_lug_mm = beside_post_mm / 2;
constexpr double vent_mm = 20;             // free path over a vent: common practice, no source
constexpr double gland_half_mm = gland_pitch_mm / 2;

struct P { double u = 0, v = 0; };
P operator+(P a, P b) { return {a.u + b.u, a.v + b.v}; }
P operator-(P a, P b) { return {a.u - b.u, a.v - b.v}; }
P operator*(P a, double f) { return {a.u * f, a.v * f}; }
double dot(P a, P b) { return a.u * b.u + a.v * b.v; }
double cross(P a, P b) { return a.u * b.v - a.v * b.u; }
double length(P a) { return std::hypot(a.u, a.v); }

double off_segment(P a, P b, P p) {
  const P d = b - a;
  const double square = dot(d, d), t = square > 0 ? std::clamp(dot(p - a, d) / square, 0.0, 1.0) : 0;
  return length(p - (a + d * t));
}

class Finder {
 public:
  explicit Finder(const ExitTask& task) : task_(task), from_{task.from.u, task.from.v} {
    for (const core::Point2& p : task.walls) corners_.push_back({p.a.mm(), p.b.mm()});
  }

  std::optional<Exit> find() {
    for (std::size_t i = 0; i < corners_.size(); ++i) try_wall(i);
    return best_;
  }

 private:
  P corner(std::size_t i) const { return corners_[i % corners_.size()]; }

  /// The outline runs counter-clockwise: the inside is on the left.
  void try_wall(std::size_t i) {
    const P start = corner(i), along = corner(i + 1) - start;
    const double wall = length(along);
    if (wall < 2 * gland_half_mm) return;
    const P unit = along * (1 / wall), out{unit.v, -unit.u};
    const double foot = dot(from_ - start, unit);
    if (foot >= gland_half_mm && foot <= wall - gland_half_mm) try_gland(i, foot, start + unit * foot, out);
    for (double at = gland_half_mm; at <= wall - gland_half_mm; at += step_mm) try_gland(i, at, start + unit * at, out);
  }

  bool is_taken(std::size_t wall, double along) const {
    return std::any_of(task_.taken.begin(), task_.taken.end(), [&](const TakenPlace& place) {
      return place.wall == static_cast<int>(wall) && std::abs(place.along_mm - along) < gland_pitch_mm;
    });
  }

  void try_gland(std::size_t wall, double along, P on_outline, P out) {
    const P gland = on_outline - out * task_.to_inner_face.mm();
    const double forward = dot(gland - from_, out), side = cross(out, gland - from_);
    if (forward <= 0 || is_taken(wall, along)) return;
    if (std::abs(side) < 1e-6) {
      if (forward >= lug_straight_mm + gland_inside_mm) offer({static_cast<int>(wall), along, spot(gland), spot(gland), 0, forward, 0}, gland, gland);
      return;
    }
    for (double degrees = step_deg; degrees <= 90; degrees += step_deg) try_bend(wall, along, gland, out, forward, side, degrees);
  }

  /// Lug turned away from the gland's direction by some degrees towards its side; tangents of a bend: radius x tan(half the turn).
  void try_bend(std::size_t wall, double along, P gland, P out, double forward, double side, double degrees) {
    const double turn = degrees * std::numbers::pi / 180, sine = std::sin(turn), cosine = degrees == 90 ? 0 : std::cos(turn);
    const double first = std::abs(side) / sine, second = forward - first * cosine;
    const double tangent = task_.bend_radius_mm * std::tan(turn / 2);
    if (first < lug_straight_mm + tangent || second < gland_inside_mm + tangent) return;
    const P left{-out.v, out.u};
    const P meet = from_ + (out * cosine + left * (side > 0 ? sine : -sine)) * first;
    const double cut = 2 * tangent - task_.bend_radius_mm * turn;
    offer({static_cast<int>(wall), along, spot(gland), spot(meet), degrees, first + second - cut, 0}, meet, gland);
  }

  void offer(Exit exit, P meet, P gland) {
    if (best_ && best_->over_vents == 0 && exit.length_mm >= best_->length_mm - 1e-9) return;
    if (!clear(meet, gland)) return;
    for (const Spot& vent : task_.vents) {
      if (near(meet, gland, vent, vent_mm)) ++exit.over_vents;
    }
    if (!best_ || std::tie(exit.over_vents, exit.length_mm) < std::tie(best_->over_vents, best_->length_mm)) best_ = exit;
  }

  bool near(P meet, P gland, const Spot& p, double by) const {
    return std::min(off_segment(from_, meet, {p.u, p.v}), off_segment(meet, gland, {p.u, p.v})) < by;
  }

  /// Off the walls but at the gland itself, off fittings and other posts.
  bool clear(P meet, P gland) const {
    const double half = task_.outside_mm / 2, wall_off = task_.to_inner_face.mm() + half;
    for (const Spot& post : task_.posts) {
      if (near(meet, gland, post, half_lug_mm + half)) return false;
    }
    const double whole = length(meet - from_) + length(gland - meet);
    for (double s = step_mm; s < whole - gland_inside_mm - half; s += step_mm) {
      const double first = length(meet - from_);
      const P p = s <= first ? from_ + (meet - from_) * (s / std::max(first, 1e-9)) : meet + (gland - meet) * ((s - first) / std::max(whole - first, 1e-9));
      if (!inside(p) || in_fitting(p, half)) return false;
      for (std::size_t i = 0; i < corners_.size(); ++i) {
        if (off_segment(corner(i), corner(i + 1), p) < wall_off) return false;
      }
    }
    return true;
  }

  bool inside(P p) const {
    bool in = false;
    for (std::size_t i = 0; i < corners_.size(); ++i) {
      const P a = corner(i), b = corner(i + 1);
      if ((a.v > p.v) != (b.v > p.v) && p.u < a.u + (b.u - a.u) * (p.v - a.v) / (b.v - a.v)) in = !in;
    }
    return in;
  }

  bool in_fitting(P p, double half) const {
    for (const packing::PlacedFitting& fitting : task_.layout->fittings) {
      if (fitting.place == survey::FittingPlace::wall || covers(fitting.body, from_, 0)) continue;  // a cable from the fuse starts in it
      if (covers(fitting.body, p, half)) return true;
    }
    return false;
  }

  static bool covers(const packing::Cuboid& body, P p, double grown) {
    return p.u > body.low.x.mm() - grown && p.u < body.high.x.mm() + grown && p.v > body.low.y.mm() - grown && p.v < body.high.y.mm() + grown;
  }

  Spot spot(P p) const { return {p.u, p.v, task_.from.z}; }

  const ExitTask& task_;
  P from_;
  std::vector<P> corners_;
  std::optional<Exit> best_;
};

}  // namespace

std::optional<Exit> find_exit(const ExitTask& task) { return Finder(task).find(); }

}  // namespace cellstow::wiring
