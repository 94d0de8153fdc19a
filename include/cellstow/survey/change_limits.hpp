#pragma once
/// What rules for converted cars ask of mass, balance and place: a shipped table.

#include <filesystem>
#include <string>
#include <vector>

#include "cellstow/core/problem.hpp"

namespace cellstow::survey {

/// What a limit is set on.
enum class ChangeOf {
  kerb_mass_percent,      ///< |mass converted - mass as it came|, % of mass as it came
  front_share_points,     ///< |front share converted - as it came|, percentage points
  front_share_percent,    ///< the same, % of the share as it came
  ride_height_mm,         ///< largest rise or drop over an axle, nobody in the car
  axle_in_hand_kg,        ///< least that is left under an axle limit, all seats taken
  load_per_seat_kg,       ///< what the gross limit leaves for each seat
  behind_front_edge_mm,   ///< of every box, from the front edge of the car
  ahead_of_rear_edge_mm,  ///< of every box, from the rear edge of the car
};

/// One row: at most `limit` for a change, at least `limit` for what is left or kept away.
struct ChangeLimit {
  std::string name;       ///< "mass within 20 % of the car as it came"
  std::string applies;    ///< where the rule is met: a region or a kind of approval, in words
  ChangeOf of = ChangeOf::kerb_mass_percent;
  double limit = 0;       ///< in the unit that `of` names
  std::string source, status;
};

/// Reads change_limits.json of the shipped shapes folder, in the order of the file.
/// @error E301 table missing or unreadable, E302 bad row, E303 name used twice
core::Result<std::vector<ChangeLimit>> read_change_limits(const std::filesystem::path& shapes_folder);

}  // namespace cellstow::survey
