#pragma once
/// How many cells in series the drive allows, and what the chosen string gives.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::wiring {

/// One voltage limit and the series count it allows.
struct CountLimit { std::string device; std::string why; int count = 0; };

/// The window of series counts. A device's minimum gives a lowest count (rounded up),
/// its maximum a highest (rounded down).
struct CountWindow {
  int lowest = 1, highest = 0;             ///< highest 0: no upper limit known
  std::vector<CountLimit> lowest_by, highest_by;
  bool empty = false;                      ///< no count suits all devices
};

/// Needs cell.voltage; devices left out, and limits of 0 V or less, set no limit.
///
///   lowest  = max over devices of  ceil(device minimum / cell minimum)
///   highest = min over devices of floor(device maximum / cell maximum)
///
/// The same two lines serve all three devices, for different reasons:
///   controller, converter  must run on the empty string and stand the full one;
///   charger                must start on the empty string (its minimum at or below count x cell
///                          minimum, the stricter reading) and reach the full one (its maximum at or
///                          above count x cell maximum).
/// Decided on whole microvolts, so a count that fits exactly fits. Nominal volts play no part. What
/// braking on the motor adds to a full string is not in the window; see the cautions of judge_string().
CountWindow count_window(const survey::Cell& cell, const survey::StringSpec& string);

/// Share of the energy in the cells that driving may take, least and most. Common practice for LFP, no source.
inline constexpr double usable_low = 0.80, usable_high = 0.85;

struct StringResult {
  int series = 0, parallel = 1;
  double min_v = 0, nominal_v = 0, max_v = 0;
  double energy_kwh = 0;
  std::optional<double> range_km;          ///< on usable energy; share stated in notes
  CountWindow window;
  std::vector<core::Check> checks;
  std::vector<std::string> cautions, notes;
};

/// Volts, energy, range and window checks of a string.
///
/// One check per device and end, in volts, with the count that would pass in its cure. range_km takes
/// 80 % of the energy as usable; the notes give 80 to 85 % as a band (common practice). Energy is
/// series x parallel x capacity x nominal voltage. Also said: current in multiples of the capacity,
/// the drop in the cable between boxes, and the hazard of the voltage.
///
/// @pre series >= 1
StringResult judge_string(const survey::Cell& cell, const survey::StringSpec& string, int series);

}  // namespace cellstow::wiring
