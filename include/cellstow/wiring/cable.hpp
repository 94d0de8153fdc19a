#pragma once
/// Resistance and voltage drop of plain copper cable.

namespace cellstow::wiring {

/// Copper near room temperature; about 16 % more at 60 degC. Handbook value, two texts agree.
inline constexpr double copper_ohm_mm2_per_m = 0.0172;

/// Resistance of one conductor in ohm: resistivity x length / area.
double conductor_resistance_ohm(double resistivity_ohm_mm2_per_m, double length_m, double area_mm2);

/// Voltage lost in a run out and back, in volts: 2 x resistivity x length x current / area, copper.
/// @param length_m  one way
double two_wire_drop_v(double length_m, double current_a, double area_mm2);

}  // namespace cellstow::wiring
