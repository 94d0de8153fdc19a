#pragma once
/// Axle loads in closed form: what one lump, or a move of it, does to the front share.

#include <vector>

#include "cellstow/balance/load_state.hpp"

namespace cellstow::choosing {

/// A car level and at rest, as the sums its axle loads come from; lumps are added one by one.
///
///   rear = sum(m x) / wheelbase,  front = sum(m) - rear
///
/// Source: moments about the front axle; as in balance/load_state.hpp, against which it is tested.
class AxleSums {
 public:
  /// @param state  of the car without the lumps; its height may be unknown (NaN)
  /// @pre wheelbase_mm > 0
  AxleSums(const balance::LoadState& state, double wheelbase_mm);
  void add(double mass_kg, double x_mm, double z_mm);

  double total_kg() const { return total_kg_; }
  double rear_kg() const { return rear_kg_; }
  double front_kg() const { return total_kg_ - rear_kg_; }
  double front_share() const { return front_kg() / total_kg_; }
  double cg_height_mm() const { return height_kg_mm_ / total_kg_; }  ///< NaN when the car's is not known

 private:
  double total_kg_, rear_kg_, height_kg_mm_, wheelbase_mm_;
};

/// Change of the front share, as a fraction, when a lump moves from one place to another:
///
///   change = mass (from - to) / (wheelbase total)
///
/// @param total_kg  the whole car, the lump included
/// Source: difference of the moments about the rear axle, total unchanged.
double share_change_of_move(double mass_kg, double from_x_mm, double to_x_mm, double wheelbase_mm, double total_kg);

/// Change of the front share, as a fraction, when a lump is added:
///
///   change = mass (1 - x / wheelbase - share) / (total + mass)
///
/// @param total_kg, share  before it is added
double share_change_of_adding(double mass_kg, double x_mm, double wheelbase_mm, double total_kg, double share);

}  // namespace cellstow::choosing
