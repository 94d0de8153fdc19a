#include "angle_search.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <queue>

namespace cellstow::way_in {
namespace {

constexpr double rad_per_deg = std::numbers::pi / 180;
constexpr double good_enough_um = 10;
constexpr double given_away_um = 1;
constexpr int most_angles = 20'000;

struct Stretch {
  double bound_um, from_deg, to_deg;
  bool operator<(const Stretch& other) const {
    return bound_um != other.bound_um ? bound_um < other.bound_um : from_deg > other.from_deg;
  }
};

}  // namespace

BestAngle best_angle(double from_deg, double to_deg, double sweep_um, double floor_um,
                     const std::function<AtAngle(double, double)>& at) {
  BestAngle best;
  std::priority_queue<Stretch> open;
  const auto take = [&](double deg, const AtAngle& here) {
    ++best.tried;
    if ((here.fits && !best.passes) || (here.fits == best.passes && here.margin_um > best.margin_um)) {
      best.deg = deg, best.margin_um = here.margin_um, best.passes = here.fits;
    }
  };
  const auto look = [&](double from, double to) {
    const double middle = (from + to) / 2, off_um = sweep_um * (to - from) / 2 * rad_per_deg;
    const AtAngle here = at(middle, std::max(best.margin_um, floor_um) - off_um);
    take(middle, here);
    if (off_um > given_away_um) open.push({here.margin_um + off_um, from, to});
  };
  for (const double end : {from_deg, to_deg}) take(end, at(end, floor_um));
  constexpr int first = 24;
  for (int k = 0; k < first; ++k) {
    look(from_deg + (to_deg - from_deg) * k / first, from_deg + (to_deg - from_deg) * (k + 1) / first);
  }
  while (!open.empty() && best.tried < most_angles) {
    const Stretch top = open.top();
    open.pop();
    // Near enough to the best known, and hope of passing gone or fulfilled.
    const bool hopeless = top.bound_um < 0 || best.passes;
    if (top.bound_um < floor_um || (hopeless && top.bound_um <= best.margin_um + good_enough_um)) break;
    const double middle = (top.from_deg + top.to_deg) / 2;
    look(top.from_deg, middle);
    look(middle, top.to_deg);
  }
  return best;
}

double passing_until(double deg, double limit_deg, double sweep_um,
                     const std::function<AtAngle(double, double)>& at) {
  constexpr double least_step_deg = 0.02;
  const double way = limit_deg > deg ? 1 : -1;
  double reached = deg;
  while (reached != limit_deg) {
    const AtAngle here = at(reached, -1e18);
    const double step = here.fits ? here.margin_um / sweep_um / rad_per_deg : 0;
    if (step < least_step_deg) return reached;
    reached = way > 0 ? std::min(limit_deg, reached + step) : std::max(limit_deg, reached - step);
  }
  return reached;
}

}  // namespace cellstow::way_in
