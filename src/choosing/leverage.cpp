#include "cellstow/choosing/leverage.hpp"

#include <cassert>

namespace cellstow::choosing {

AxleSums::AxleSums(const balance::LoadState& state, double wheelbase_mm)
    : total_kg_(state.total.value()),
      rear_kg_(state.rear.value()),
      height_kg_mm_(state.total.value() * state.cg_z_mm),
      wheelbase_mm_(wheelbase_mm) {
  assert(wheelbase_mm > 0);
}

void AxleSums::add(double mass_kg, double x_mm, double z_mm) {
  total_kg_ += mass_kg;
  rear_kg_ += mass_kg * x_mm / wheelbase_mm_;
  height_kg_mm_ += mass_kg * z_mm;
}

double share_change_of_move(double mass_kg, double from_x_mm, double to_x_mm, double wheelbase_mm, double total_kg) {
  return mass_kg * (from_x_mm - to_x_mm) / (wheelbase_mm * total_kg);
}

double share_change_of_adding(double mass_kg, double x_mm, double wheelbase_mm, double total_kg, double share) {
  return mass_kg * (1 - x_mm / wheelbase_mm - share) / (total_kg + mass_kg);
}

}  // namespace cellstow::choosing
