#pragma once
/// How far something must move along the car to bring front share and axle loads where they are wanted.

#include <string>
#include <vector>

#include "cellstow/balance/load_state.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::choosing {

/// By how much the front axle load may change when mass is shifted and none is added: low <= change <= high.
struct ShiftWindow {
  double low_kg = 0, high_kg = 0;
  std::string low_by, high_by;  ///< what sets either end; empty where nothing does
  bool any = false;             ///< a target or a limit was given at all
  bool empty() const { return low_kg > high_kg; }
  bool holds_zero() const { return low_kg <= 0 && high_kg >= 0; }
};

/// What the front-share target (driver only) and the axle limits (converted car: empty, as driven, full) leave.
///
///   target min <= (front + change) / total <= target max
///   front + change <= front limit,  rear - change <= rear limit
///
/// @param states  of balance_car
/// Source: vertical equilibrium, total unchanged.
ShiftWindow shift_window(const survey::Car& car, const std::vector<balance::LoadState>& states);

/// One thing moved along x, all else staying.
struct Move {
  std::string what;             ///< "charger", "box FT"
  double mass_kg = 0, x_mm = 0;
  double by_mm = 0;             ///< least move that meets the window; rearward positive; whole millimetres, rounded up
  double to_x_mm = 0;
  double forward_mm = 0;        ///< when nothing has to move: how far it may
  double rearward_mm = 0;
  bool beyond_wheelbase = false;  ///< the move is longer than the wheelbase: no way out
};

/// The least move of each thing alone that brings the window to hold, shortest first; and how far each may move when it holds already.
///
///   by = -change x wheelbase / mass,  change: the window's end nearest to 0
///
/// @param things  added parts and boxes with mass and place, as they are now
/// @return empty when the window is empty (no move does it) or nothing was asked
/// Source: moments about the rear axle.
std::vector<Move> moves(const ShiftWindow& window, const std::vector<balance::Lump>& things, double wheelbase_mm);

}  // namespace cellstow::choosing
