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

/// Needs cell.voltage; devices left out set no limit.
CountWindow count_window(const survey::Cell& cell, const survey::StringSpec& string);

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
StringResult judge_string(const survey::Cell& cell, const survey::StringSpec& string, int series);

}  // namespace cellstow::wiring
