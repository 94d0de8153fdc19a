#include "cellstow/wiring/cable.hpp"

namespace cellstow::wiring {

double conductor_resistance_ohm(double resistivity_ohm_mm2_per_m, double length_m,
                                double area_mm2) {
  return resistivity_ohm_mm2_per_m * length_m / area_mm2;
}

double two_wire_drop_v(double length_m, double current_a, double area_mm2) {
  return 2 * conductor_resistance_ohm(copper_ohm_mm2_per_m, length_m, area_mm2) * current_a;
}

}  // namespace cellstow::wiring
