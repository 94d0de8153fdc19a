#include "cellstow/choosing/moves.hpp"

#include <algorithm>
#include <cmath>
#include <limits>


namespace cellstow::choosing {
namespace {

constexpr double nothing_sets_it = std::numeric_limits<double>::infinity();

void at_least(ShiftWindow& window, double kg, const std::string& by) {
  window.any = true;
  if (kg <= window.low_kg) return;
  window.low_kg = kg;
  window.low_by = by;
}

void at_most(ShiftWindow& window, double kg, const std::string& by) {
  window.any = true;
  if (kg >= window.high_kg) return;
  window.high_kg = kg;
  window.high_by = by;
}

std::string in_state(const char* what, const balance::LoadState& state) {
  if (state.name == "empty") return std::string(what) + ", nobody in the car";
  return std::string(what) + (state.name == "as_driven" ? ", driver only" : ", all seats taken");
}

/// Away from 0 to the next whole millimetre, unless that leaves the window at its other end.
double whole_mm(double exact_mm, const ShiftWindow& window, double kg_per_mm) {
  const double rounded = std::copysign(std::ceil(std::abs(exact_mm) - 1e-9), exact_mm);
  const double change_kg = -rounded * kg_per_mm;
  return change_kg > window.high_kg + 1e-9 || change_kg < window.low_kg - 1e-9 ? exact_mm : rounded;
}

Move move_of(const ShiftWindow& window, const balance::Lump& thing, double wheelbase_mm) {
  Move move{thing.name, thing.mass.value(), thing.x_mm};
  const double kg_per_mm = move.mass_kg / wheelbase_mm;
  move.to_x_mm = move.x_mm;
  move.forward_mm = std::max(0.0, window.high_kg / kg_per_mm);
  move.rearward_mm = std::max(0.0, -window.low_kg / kg_per_mm);
  if (window.holds_zero()) return move;
  const double change_kg = window.low_kg > 0 ? window.low_kg : window.high_kg;
  move.by_mm = whole_mm(-change_kg / kg_per_mm, window, kg_per_mm);
  move.to_x_mm = move.x_mm + move.by_mm;
  move.forward_mm = move.rearward_mm = 0;
  move.beyond_wheelbase = std::abs(move.by_mm) > wheelbase_mm;
  return move;
}

}  // namespace

ShiftWindow shift_window(const survey::Car& car, const std::vector<balance::LoadState>& states) {
  ShiftWindow window{-nothing_sets_it, nothing_sets_it, "", ""};
  for (const balance::LoadState& state : states) {
    if (state.name == "before" || state.name == "stripped") continue;
    const double total_kg = state.total.value(), front_kg = state.front.value();
    if (state.name == "as_driven" && car.front_share_target) {
      at_least(window, car.front_share_target->min * total_kg - front_kg, "least front share wanted, driver only");
      at_most(window, car.front_share_target->max * total_kg - front_kg, "most front share wanted, driver only");
    }
    if (!car.axle_limits) continue;
    at_most(window, car.axle_limits->front.value() - front_kg, in_state("front axle limit", state));
    at_least(window, state.rear.value() - car.axle_limits->rear.value(), in_state("rear axle limit", state));
  }
  return window;
}

std::vector<Move> moves(const ShiftWindow& window, const std::vector<balance::Lump>& things, double wheelbase_mm) {
  std::vector<Move> all;
  if (!window.any || window.empty()) return all;
  for (const balance::Lump& thing : things) {
    if (thing.mass.value() > 0) all.push_back(move_of(window, thing, wheelbase_mm));
  }
  std::stable_sort(all.begin(), all.end(), [](const Move& a, const Move& b) { return std::abs(a.by_mm) < std::abs(b.by_mm); });
  return all;
}

}  // namespace cellstow::choosing
