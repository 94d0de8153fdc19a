#include "cellstow/wiring/string_window.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

#include "cellstow/wiring/cable.hpp"

namespace cellstow::wiring {
namespace {

/// Counts are decided on whole microvolts: 90 V / 2.5 V is 36, whatever binary fractions make of
/// it.
using Microvolts = std::int64_t;

Microvolts microvolts(core::Volt volts) { return std::llround(volts.value() * 1e6); }
double volts(Microvolts value) { return static_cast<double>(value) / 1e6; }

int as_count(Microvolts count) {
  return static_cast<int>(std::min<Microvolts>(count, std::numeric_limits<int>::max()));
}

/// A device on the string and the words for what its two limits mean.
struct Device {
  const char* name;
  survey::VoltRange range;
  const char* at_minimum;  ///< why the empty string must not be lower
  const char* at_maximum;  ///< why the full string must not be higher
};

std::vector<Device> devices_of(const survey::StringSpec& string) {
  std::vector<Device> devices;
  if (string.controller) {
    devices.push_back({"controller", string.controller->volts, "runs on the empty string",
                       "stands the full string"});
  }
  if (string.converter) {
    devices.push_back(
        {"converter", *string.converter, "runs on the empty string", "stands the full string"});
  }
  if (string.charger) {
    devices.push_back(
        {"charger", *string.charger, "starts on the empty string", "reaches the full string"});
  }
  return devices;
}

struct CellVolts {
  Microvolts min, max;
};

CellVolts cell_volts(const survey::Cell& cell) {
  return {microvolts(cell.voltage->min), microvolts(cell.voltage->max)};
}

void limit_below(const Device& device, Microvolts cell_min, CountWindow& window) {
  const Microvolts least = microvolts(device.range.min);
  if (least <= 0 || cell_min <= 0) return;
  const int count = as_count((least + cell_min - 1) / cell_min);
  window.lowest_by.push_back(
      {device.name,
       fmt::format("minimum of {} V over the cell's lowest {} V, rounded up: the {} {}",
                   volts(least), volts(cell_min), device.name, device.at_minimum),
       count});
  window.lowest = std::max(window.lowest, count);
}

void limit_above(const Device& device, Microvolts cell_max, CountWindow& window) {
  const Microvolts most = microvolts(device.range.max);
  if (most <= 0 || cell_max <= 0) return;
  const int count = as_count(most / cell_max);
  window.highest = window.highest_by.empty() ? count : std::min(window.highest, count);
  window.highest_by.push_back(
      {device.name,
       fmt::format("maximum of {} V over the cell's highest {} V, rounded down: the {} {}",
                   volts(most), volts(cell_max), device.name, device.at_maximum),
       count});
}

std::string window_words(const CountWindow& window) {
  if (window.empty) {
    return fmt::format(
        "no count suits all devices: at least {} cells for one, at most {} for another",
        window.lowest, window.highest);
  }
  if (window.highest_by.empty()) return fmt::format("{} cells in series or more", window.lowest);
  return fmt::format("{} to {} cells in series", window.lowest, window.highest);
}

void check_device(const Device& device, const CellVolts& cell, int series, StringResult& result) {
  const Microvolts empty = cell.min * series, full = cell.max * series;
  const Microvolts least = microvolts(device.range.min), most = microvolts(device.range.max);
  const char* const source = "cells in series x cell voltage against the device's data sheet";
  if (least > 0 && cell.min > 0) {
    const Microvolts needed = (least + cell.min - 1) / cell.min;
    result.checks.push_back(core::check_at_least(
        fmt::format("{} {}", device.name, device.at_minimum), "string", volts(empty), volts(least),
        "V", source,
        fmt::format("{} cells in series or more, or a {} that works down to {:.1f} V", needed,
                    device.name, volts(empty))));
  }
  if (most > 0) {
    result.checks.push_back(core::check_at_most(
        fmt::format("{} {}", device.name, device.at_maximum), "string", volts(full), volts(most),
        "V", source,
        fmt::format("{} cells in series or fewer, or a {} made for {:.1f} V",
                    cell.max > 0 ? most / cell.max : 0, device.name, volts(full))));
  }
}

/// How near the chosen count stands to either end of the window.
void note_margins(StringResult& result) {
  const CountWindow& window = result.window;
  if (window.lowest_by.empty() && window.highest_by.empty()) {
    result.notes.push_back(
        "no controller, charger or converter given: any count in series is taken as allowed");
    return;
  }
  result.notes.push_back("count window: " + window_words(window));
  if (window.empty) return;
  const int low = result.series - window.lowest, high = window.highest - result.series;
  if (!window.lowest_by.empty() && low == 0) {
    result.cautions.push_back(
        fmt::format("{} cells in series is the fewest the devices allow: no cell in hand at the "
                    "low end",
                    result.series));
  }
  if (window.highest_by.empty()) return;
  if (high == 0) {
    result.cautions.push_back(
        fmt::format("{} cells in series is the most the devices allow: no room for the rise when "
                    "braking on the motor with a full string",
                    result.series));
  }
  if (low >= 0 && high >= 0) {
    result.notes.push_back(
        fmt::format("in hand: {} cells at the low end, {} at the high end", low, high));
  }
}

void add_energy(const survey::Cell& cell, const survey::StringSpec& string, StringResult& result) {
  if (!cell.capacity) {
    result.notes.push_back("the cell's capacity_ah is not given: no energy and no range");
    return;
  }
  result.energy_kwh = result.nominal_v * result.parallel * cell.capacity->value() / 1000;
  if (!string.consumption || string.consumption->value() <= 0) return;
  const double all_km = result.energy_kwh * 1000 / string.consumption->value();
  result.range_km = usable_low * all_km;
  result.notes.push_back(
      fmt::format("range {:.0f} to {:.0f} km at {:.0f} Wh/km, for 80 to 85 % of the energy usable "
                  "(common practice); the lower figure is the one given",
                  usable_low * all_km, usable_high * all_km, string.consumption->value()));
}

void note_current(const survey::Cell& cell, const survey::StringSpec& string,
                  StringResult& result) {
  const auto rate = [&](const char* what, double current_a) {
    if (!cell.capacity || cell.capacity->value() <= 0) return;
    const double per_hour = current_a / (result.parallel * cell.capacity->value());
    result.notes.push_back(
        fmt::format("{} current {:.0f} A is {:.2f} times the capacity per hour ({:.2f} C): compare "
                    "with the cell's data sheet",
                    what, current_a, per_hour, per_hour));
  };
  if (string.continuous) rate("continuous", string.continuous->value());
  if (string.controller && string.controller->peak) rate("peak", string.controller->peak->value());
  if (!string.continuous || !cell.resistance) return;
  const double current_a = string.continuous->value();
  const double ohm = cell.resistance->value() / 1000 * result.series / result.parallel;
  result.notes.push_back(fmt::format(
      "at {:.0f} A the cells' own resistance takes {:.1f} V off the string and makes {:.0f} "
      "W of heat; links and joints come on top",
      current_a, ohm * current_a, ohm * current_a * current_a));
}

void note_cable(const survey::StringSpec& string, StringResult& result) {
  if (!string.continuous || !string.cable_route) return;
  const double length_m = string.cable_route->mm() / 1000, current_a = string.continuous->value();
  std::string text =
      fmt::format("cable between boxes, {:.2f} m out and back at {:.0f} A:", length_m, current_a);
  for (const double area_mm2 : {50.0, 70.0, 95.0}) {
    const double drop_v = two_wire_drop_v(length_m, current_a, area_mm2);
    text +=
        fmt::format(" {:.0f} mm2 loses {:.2f} V ({:.0f} W);", area_mm2, drop_v, drop_v * current_a);
  }
  result.notes.push_back(
      text +
      " copper at 20 degC, about 16 % more when warm; what the insulation may carry and "
      "the fuse decide the size");
}

void caution_voltage(StringResult& result) {
  // DC limit of voltage class B. Source: UN R100 and ISO 6469-3.
  constexpr double class_b_v = 60;
  if (result.max_v > class_b_v) {
    result.cautions.push_back(
        fmt::format("{:.1f} V when full: above 60 V DC, voltage class B (UN R100, ISO 6469-3), can "
                    "kill, and stays live with everything switched off; work to the local "
                    "rules and with the training they ask for",
                    result.max_v));
  } else {
    result.cautions.push_back(fmt::format(
        "{:.1f} V when full: not over 60 V DC, but a short between posts still burns and "
        "throws metal",
        result.max_v));
  }
}

}  // namespace

CountWindow count_window(const survey::Cell& cell, const survey::StringSpec& string) {
  CountWindow window;
  if (!cell.voltage) return window;
  const CellVolts volts_of_cell = cell_volts(cell);
  for (const Device& device : devices_of(string)) {
    limit_below(device, volts_of_cell.min, window);
    limit_above(device, volts_of_cell.max, window);
  }
  window.empty = !window.highest_by.empty() && window.lowest > window.highest;
  return window;
}

StringResult judge_string(const survey::Cell& cell, const survey::StringSpec& string, int series) {
  StringResult result;
  result.series = series;
  result.parallel = std::max(1, string.parallel);
  if (!cell.voltage) {
    result.notes.push_back(
        "the cell's voltage_v is not given: volts, energy and count window are left out");
    return result;
  }
  result.window = count_window(cell, string);
  const CellVolts volts_of_cell = cell_volts(cell);
  result.min_v = volts(volts_of_cell.min * series);
  result.nominal_v = volts(microvolts(cell.voltage->nominal) * series);
  result.max_v = volts(volts_of_cell.max * series);
  for (const Device& device : devices_of(string))
    check_device(device, volts_of_cell, series, result);
  note_margins(result);
  caution_voltage(result);
  add_energy(cell, string, result);
  note_current(cell, string, result);
  note_cable(string, result);
  return result;
}

}  // namespace cellstow::wiring
