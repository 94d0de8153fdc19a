#include "cellstow/limits/fit.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <random>

#include "cellstow/box/plan_outline.hpp"
#include "cellstow/geometry/segment.hpp"
#include "cellstow/region/free_plan.hpp"

namespace cellstow::limits {
namespace {

using core::Um;
using geometry::Loop;
using geometry::PointUm;
using survey::Point2;

constexpr Um farthest_off_um = 50'000, tenth_um = 100;
constexpr Um shrink_step_um = 500;
constexpr int most_shrinks = 30;
constexpr double sure_enough = 0.99;

/// Numbers from -1 to 1, the same on every machine: 53 bits of the generator, no library distribution.
class Draws {
 public:
  explicit Draws(std::uint32_t seed) : engine_(seed) {}

  double next() { return 2 * (static_cast<double>(engine_() >> 11U) * 0x1.0p-53) - 1; }

  /// Evenly over the disc or ball of radius 1, by drawing until one falls inside.
  template <std::size_t n>
  std::array<double, n> inside() {
    std::array<double, n> at{};
    double square = 2;
    while (square > 1) {
      square = 0;
      for (double& a : at) {
        a = next();
        square += a * a;
      }
    }
    return at;
  }

 private:
  std::mt19937_64 engine_;
};

double distance_um(const Point2& a, const Point2& b) {
  return std::hypot(static_cast<double>((a.a - b.a).um()), static_cast<double>((a.b - b.b).um()));
}

Length scaled(double by, double radius_um) { return Length::from_um(std::llround(by * radius_um)); }

void displace(std::vector<Point2>& corners, double off_um, Draws& draws) {
  const std::vector<Point2> as_is = corners;
  const std::size_t n = corners.size();
  for (std::size_t k = 0; k < n; ++k) {
    const double shorter = std::min(distance_um(as_is[k], as_is[(k + 1) % n]), distance_um(as_is[k], as_is[(k + n - 1) % n]));
    const auto by = draws.inside<2>();
    const double radius_um = std::min(off_um, shorter / 4);
    corners[k] = {as_is[k].a + scaled(by[0], radius_um), as_is[k].b + scaled(by[1], radius_um)};
  }
}

void displace(survey::KeepOut& keep_out, double off_um, Draws& draws) {
  const auto by = draws.inside<3>();
  const Length dx = scaled(by[0], off_um), dy = scaled(by[1], off_um), dz = scaled(by[2], off_um);
  const auto move = [&](core::Point3& p) { p = {p.x + dx, p.y + dy, p.z + dz}; };
  if (auto* box = std::get_if<survey::BoxShape>(&keep_out.shape)) {
    move(box->low);
    move(box->high);
  } else if (auto* cylinder = std::get_if<survey::CylinderShape>(&keep_out.shape)) {
    move(cylinder->from);
    move(cylinder->to);
  } else if (auto* prism = std::get_if<survey::PrismShape>(&keep_out.shape)) {
    for (Point2& p : prism->outline) p = {p.a + dx, p.b + dy};
    prism->z_low = prism->z_low + dz;
    prism->z_high = prism->z_high + dz;
  }
}

survey::Cavity displaced(const survey::Cavity& cavity, Draws& draws) {
  survey::Cavity off = cavity;
  const double off_um = static_cast<double>(cavity.tape_error.um());
  for (survey::Section& section : off.sections.at) {
    displace(section.outline, off_um, draws);
    for (auto& hole : section.holes) displace(hole, off_um, draws);
  }
  for (survey::KeepOut& keep_out : off.keep_outs) displace(keep_out, off_um, draws);
  return off;
}

Loop loop_of(const std::vector<Point2>& outline) {
  Loop loop;
  for (const Point2& p : outline) loop.push_back({p.a.um(), p.b.um()});
  return loop;
}

/// The outline as it stands in the car.
Loop loop_of(const packing::BoxLayout& box, const std::vector<Point2>& outline) {
  return loop_of(core::to_car(box.heading, outline));
}

/// The outline, then each side further in step by step, as long as no side vanishes.
std::vector<Loop> shrunk_outlines(const packing::BoxLayout& box) {
  std::vector<Loop> loops{loop_of(box, box.outline)};
  for (int k = 1; k <= most_shrinks; ++k) {
    const Loop loop = loop_of(box, box::inset(box.outline, Length::from_um(k * shrink_step_um)));
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const PointUm a = loops[0][i], b = loops[0][(i + 1) % loop.size()], c = loop[i], d = loop[(i + 1) % loop.size()];
      const double along = static_cast<double>(b.s - a.s) * static_cast<double>(d.s - c.s) +
                           static_cast<double>(b.t - a.t) * static_cast<double>(d.t - c.t);
      if (along <= 0) return loops;
    }
    loops.push_back(loop);
  }
  return loops;
}

region::HeightSpan span_of(const packing::BoxLayout& box) { return {box.z_bottom.um(), box.lid_top.um()}; }

/// Nothing within `off` of the outside of the box, on any side.
bool clear_by(const survey::Cavity& cavity, const packing::BoxLayout& box, Um off) {
  survey::Cavity kept = cavity;
  for (survey::KeepOut& keep_out : kept.keep_outs) keep_out.clearance = Length::from_um(off);
  return region::free_plan(kept, {off, off, 0}, cavity.sections.between, span_of(box)).admits(loop_of(box, box.outline));
}

Length clear_up_to(const survey::Cavity& cavity, const packing::BoxLayout& box) {
  Um low = 0, high = farthest_off_um / tenth_um;
  if (clear_by(cavity, box, farthest_off_um)) return Length::from_um(farthest_off_um);
  while (high - low > 1) {
    const Um middle = (low + high) / 2;
    (clear_by(cavity, box, middle * tenth_um) ? low : high) = middle;
  }
  return Length::from_um(low * tenth_um);
}

std::string side_of(PointUm a, PointUm b) {
  // Outlines run counter-clockwise: outward is (dt, -ds).
  const Um out_x = b.t - a.t, out_y = a.s - b.s;
  if (std::abs(out_x) >= std::abs(out_y)) return out_x > 0 ? "rear side" : "front side";
  return out_y > 0 ? "right side" : "left side";
}

double along_each_other(PointUm a, PointUm b, PointUm c, PointUm d) {
  const double ds = static_cast<double>(b.s - a.s), dt = static_cast<double>(b.t - a.t);
  const double es = static_cast<double>(d.s - c.s), et = static_cast<double>(d.t - c.t);
  return std::fabs(ds * es + dt * et) / std::max(1.0, std::hypot(ds, dt) * std::hypot(es, et));
}

/// The first wall that the outline does not keep off, and the side of the box that meets it: of two that share a
/// corner, the one that runs along the wall.
std::string touched(const region::FreePlan& plan, const Loop& outline) {
  for (const geometry::Wall& wall : plan.walls(region::Strips::along_x)) {
    const std::string& name = plan.names()[static_cast<std::size_t>(wall.source())];
    bool inside = false;
    double best = -1;
    std::string side;
    for (const Loop& loop : wall.loops()) {
      inside = inside || geometry::is_inside(outline, loop.front());
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const PointUm c = loop[i], d = loop[(i + 1) % loop.size()];
        for (std::size_t k = 0; k < outline.size(); ++k) {
          const PointUm a = outline[k], b = outline[(k + 1) % outline.size()];
          if (geometry::segments_keep(c, d, a, b, wall.reach())) continue;
          // A cavity wall has its free space on the left: it stands where the side of the box looks that it meets.
          if (wall.material() == geometry::Side::outside) return name + ", " + side_of(c, d) + " of the box";
          if (along_each_other(a, b, c, d) > best) side = side_of(a, b), best = along_each_other(a, b, c, d);
        }
      }
    }
    if (best >= 0) return name + ", " + side + " of the box";
    if (inside) return name + ", over or under the box";
  }
  return "cavity floor or roof";
}

}  // namespace

Counted counted_share(int hits, int samples) {
  constexpr double z2 = 1.959964 * 1.959964;
  const double n = samples, p = hits / n;
  const double middle = (p + z2 / (2 * n)) / (1 + z2 / n);
  const double half = std::sqrt(z2 * (p * (1 - p) / n + z2 / (4 * n * n))) / (1 + z2 / n);
  return {p, std::max(0.0, middle - half), std::min(1.0, middle + half)};
}

Fit chance_of_fit(const survey::Cavity& cavity, const packing::BoxLayout& box, const FitOptions& options) {
  Fit fit;
  fit.give_or_take = cavity.tape_error;
  fit.nothing_touches_up_to = clear_up_to(cavity, box);
  if (cavity.tape_error <= Length{}) return fit;
  if (clear_by(cavity, box, cavity.tape_error.um())) {
    fit.certain = true;
    fit.chance = {1, 1, 1};
    fit.shrink = Length{};
    return fit;
  }
  const std::vector<Loop> outlines = shrunk_outlines(box);
  std::vector<int> fits_first_at(outlines.size() + 1, 0);
  std::map<std::string, int> touches;
  Draws draws(options.seed);
  survey::Cavity bare = cavity;
  for (survey::KeepOut& keep_out : bare.keep_outs) keep_out.clearance = Length{};
  for (int i = 0; i < options.samples; ++i) {
    const region::FreePlan plan = region::free_plan(displaced(bare, draws), {0, 0, 0}, cavity.sections.between, span_of(box));
    const auto first = std::find_if(outlines.begin(), outlines.end(), [&](const Loop& outline) { return plan.admits(outline); });
    ++fits_first_at[static_cast<std::size_t>(first - outlines.begin())];
    if (first != outlines.begin()) ++touches[touched(plan, outlines[0])];
  }
  fit.samples = options.samples;
  fit.chance = counted_share(fits_first_at[0], options.samples);
  for (const auto& [what, count] : touches) {
    if (count > fit.touches) fit.touched_most = what, fit.touches = count;
  }
  int fitting = 0;
  for (std::size_t k = 0; k < outlines.size() && !fit.shrink; ++k) {
    fitting += fits_first_at[k];
    if (fitting >= sure_enough * options.samples) fit.shrink = Length::from_um(static_cast<Um>(k) * shrink_step_um);
  }
  return fit;
}

}  // namespace cellstow::limits
