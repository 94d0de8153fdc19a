#pragma once
/// What the axles and wheels weigh, before, in between and after.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"
#include "cellstow/core/frame.hpp"
#include "cellstow/core/quantity.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::balance {

using core::Kg;

/// A lump of mass and its place; a part taken out is a negative mass at the place it came from.
struct Lump { std::string name; Kg mass; double x_mm = 0, y_mm = 0, z_mm = 0; };

/// The car standing level and still in one state of loading.
struct LoadState {
  std::string name;              ///< "before", "stripped", "empty", "as_driven", "full"
  Kg total, front, rear;
  Kg front_left, front_right, rear_left, rear_right;
  double front_share = 0, left_share = 0, cross_share = 0;  ///< cross: front left + rear right over total
  double cg_x_mm = 0, cg_y_mm = 0, cg_z_mm = 0;             ///< z is NaN when no height is known
};

struct RideChange { std::string state; double front_mm = 0, rear_mm = 0; };  ///< positive: the body rises

struct Balance {
  std::vector<LoadState> states;           ///< always the five, in the order above
  std::vector<RideChange> ride;            ///< against "before"; empty without wheel rates
  double kerb_mass_change = 0;             ///< (empty - before) / before
  double front_share_change_points = 0;    ///< percentage points, empty against before
  std::vector<core::Check> checks;
  std::vector<std::string> cautions, notes;
  std::vector<core::LeftOut> left_out;
};

/// Height of the centre of gravity from a tilt test.
///
///   h = R + L dFf / (W tan(theta)),  sin(theta) = rise / L
///
/// Source: Jazar, Vehicle Dynamics: Theory and Application (2008), eq. 2.32.
double cg_height_from_tilt_mm(double wheelbase_mm, double total_kg, double front_level_kg,
                              const survey::TiltTest& test);

/// All load states of the car with the given masses added.
///
/// @param  car    needs wheelbase and weighed; without them left_out says so and states is empty
/// @param  boxes  finished boxes and all else the conversion adds besides car.added
Balance balance_car(const survey::Car& car, const std::vector<Lump>& boxes);

}  // namespace cellstow::balance
