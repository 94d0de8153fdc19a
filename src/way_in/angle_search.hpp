#pragma once
/// The best angle between two, by halving. Internal to way_in.

#include <functional>

namespace cellstow::way_in {

struct BestAngle {
  double deg = 0;
  double margin_um = -1e18;
  bool passes = false;
  int tried = 0;
};

/// What one angle gives.
struct AtAngle { double margin_um = 0; bool fits = false; };

/// The angle with the largest margin in [from, to], to within 10 um of margin; when none passes, proven so up to 1 um.
///
/// @param sweep_um  the margin of a passing angle falls by at most sweep_um * radians
/// @param floor_um  margins below this are of no use to the caller
BestAngle best_angle(double from_deg, double to_deg, double sweep_um, double floor_um,
                     const std::function<AtAngle(double deg, double floor_um)>& at);

/// How far from a passing angle all angles still pass, towards `limit_deg`: steps of margin / sweep, so none in between is missed.
double passing_until(double deg, double limit_deg, double sweep_um,
                     const std::function<AtAngle(double deg, double floor_um)>& at);

}  // namespace cellstow::way_in
