#pragma once
/// What the load states mean for the plate, the handling and the ride height.

#include <string>
#include <vector>

#include "cellstow/balance/load_state.hpp"

namespace cellstow::balance {

/// Figures of the trade; each is judged as a caution or a note, never as a check.
namespace customary {
inline constexpr double in_hand_kg =
    30;  ///< kept free under an axle limit. Common practice, no source
inline constexpr double side_share_scatter =
    0.025;  ///< left share 47.5 to 52.5 %. Common practice, no source
inline constexpr double springs_stay_mm =
    20;  ///< ride-height change without new springs. Common practice
inline constexpr double new_springs_mm = 25;  ///< beyond it new springs are usual. Common practice
/// Asked by two European retrofit regimes (secondary texts, not the regulations themselves).
inline constexpr double kerb_mass_change = 0.20;
inline constexpr double front_share_change = 0.10;
}  // namespace customary

/// How to change the front axle load by moving what the conversion adds, in numbers:
///
///   shift = front_change x wheelbase / mass        (a whole lump moved)
///   mass  = front_change x wheelbase / distance    (some of one lump carried to another)
///
/// @param  front_change_kg  wanted change of the front axle load; negative lightens it
/// @return empty when front_change_kg is 0
/// Source: moments about an axle.
std::string cure_by_moving(double front_change_kg, double wheelbase_mm,
                           const std::vector<Lump>& boxes);

/// Adds checks, cautions and notes for the states already in `balance`.
///
/// Checks: front and rear axle against its limit in every state; no axle or wheel lifted off the
/// ground; total against the gross limit with all seats taken; front share against the target as
/// driven.
void judge(const survey::Car& car, const std::vector<Lump>& boxes, Balance& balance);

}  // namespace cellstow::balance
