#include "cellstow/choosing/rough.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/wiring/string_window.hpp"

namespace cellstow::choosing {
namespace {

/// Up to a whole count; 1e-9 forgives binary noise, so that 36.000000000001 cells are 36.
int count_up(double value) { return static_cast<int>(std::ceil(value - 1e-9)); }
int count_down(double value) { return static_cast<int>(std::floor(value + 1e-9)); }

double litres_of(const survey::Cell& cell) {
  return cell.thickness.mm() * cell.width.mm() * cell.height.mm() / 1e6;
}

struct Window { int lowest = 1, highest = 0; bool empty = false; };

Window window_of(const survey::Cell& cell, const RoughInput& input) {
  if (!input.controller) return {};
  survey::StringSpec string;
  string.controller = survey::Controller{*input.controller, {}};
  const wiring::CountWindow window = wiring::count_window(cell, string);
  return {std::max(1, window.lowest), window.highest, window.empty};
}

double added_kg(int cells, const survey::Cell& cell, double box_share, double cables_kg, double drive_kg) {
  return cells * cell.mass.value() * (1 + box_share) + cables_kg + drive_kg;
}

PlateAnswer plate_answer(const Band& left_kg, double person_kg) {
  if (left_kg.low >= person_kg) return PlateAnswer::yes;
  return left_kg.high >= person_kg ? PlateAnswer::light_end : PlateAnswer::no;
}

void add_masses(const RoughInput& input, const RoughRules& rules, const survey::Cell& cell, RoughFormat& format) {
  format.added_kg = {added_kg(format.light.cells(), cell, rules.box_share.value.low, rules.cables_kg.value.low, rules.drive_kg.value.low),
                     added_kg(format.heavy.cells(), cell, rules.box_share.value.high, rules.cables_kg.value.high, rules.drive_kg.value.high)};
  const double without_kg = input.car_kg - input.out_kg;
  format.car_kg = {without_kg + format.added_kg.low, without_kg + format.added_kg.high};
  format.left_kg = {input.gross_limit_kg - format.car_kg.high, input.gross_limit_kg - format.car_kg.low};
  format.mass_change = {format.car_kg.low / input.car_kg - 1, format.car_kg.high / input.car_kg - 1};
  format.plate = plate_answer(format.left_kg, rules.person_kg.value.high);
}

RoughFormat format_of(const RoughInput& input, const RoughRules& rules, const Band& energy_kwh, const survey::Cell& cell) {
  RoughFormat format;
  format.cell = cell.name;
  format.cell_kwh = cell.voltage->nominal.value() * cell.capacity->value() / 1000;
  format.needed = {count_up(energy_kwh.low / format.cell_kwh), count_up(energy_kwh.high / format.cell_kwh)};
  const Window window = window_of(cell, input);
  format.suits = !window.empty && !(input.controller && window.highest == 0);
  if (input.cavity_litres) {
    const double cells_of_litres = *input.cavity_litres / litres_of(cell);
    format.cavity_holds = CountBand{count_down(cells_of_litres * rules.filling.value.low), count_down(cells_of_litres * rules.filling.value.high)};
  }
  if (!format.suits) return format;
  format.light = rough_string(format.needed.low, window.lowest, window.highest);
  format.heavy = rough_string(format.needed.high, window.lowest, window.highest);
  const auto [low, high] = std::minmax(format.light.series, format.heavy.series);
  format.volts = {low * cell.voltage->nominal.value(), high * cell.voltage->nominal.value()};
  format.kwh = {format.light.cells() * format.cell_kwh, format.heavy.cells() * format.cell_kwh};
  add_masses(input, rules, cell, format);
  return format;
}

}  // namespace

RoughRules::RoughRules()
    : usable{"usable", "share of the energy in the cells that driving may take", {wiring::usable_low, wiring::usable_high}, "of the nominal energy",
             "builders' reports and common practice for LFP"},
      consumption_scatter{"consumption-scatter", "give or take of the Wh/km given", {0.10, 0.10}, "of it",
                          "half the spread of builders' reports for small older cars, 155 to 190 Wh/km"},
      box_share{"box-share", "boxes with end plates, straps and liner", {0.13, 0.21}, "of the cells' mass",
                "full boxes of 95 to 112 kg that weigh 12 to 15 kg empty in worked examples, 20 kg in this program's demo; common practice, no source"},
      cables_kg{"cables-kg", "cables, links, fuses and brackets", {8, 15}, "kg", "common practice, no source"},
      drive_kg{"drive-kg", "motor with adapter, controller, charger, converter", {60, 100}, "kg", "common practice, no source: give the real figure as soon as it is known"},
      filling{"filling", "part of an odd cavity's litres that upright cells fill", {0.24, 0.47}, "of the litres",
              "counted in four worked cavities; never plan on more"},
      person_kg{"person-kg", "one person", {75, 75}, "kg", "Commission Regulation (EU) 1230/2012, Annex I Part A 2.6.2.1"} {}

std::vector<const RoughRule*> RoughRules::all() const {
  return {&usable, &consumption_scatter, &box_share, &cables_kg, &drive_kg, &filling, &person_kg};
}

RoughString rough_string(int needed, int lowest, int highest) {
  if (highest == 0) return {std::max(needed, lowest), 1};
  if (highest < lowest) return {0, 1};
  RoughString best{0, 1};
  for (int parallel = 1; parallel <= std::max(1, needed); ++parallel) {
    const int series = std::max(lowest, (needed + parallel - 1) / parallel);
    if (series > highest) continue;
    const RoughString here{series, parallel};
    if (best.series == 0 || here.cells() < best.cells()) best = here;
    if (series == lowest) break;  // more side by side only adds cells
  }
  return best;
}

RoughAnswer rough_answer(const RoughInput& input, const RoughRules& rules, const std::vector<survey::Cell>& cells) {
  RoughAnswer answer;
  const double driven_kwh = input.range_km * input.consumption_wh_per_km / 1000;
  answer.needed_kwh = {driven_kwh * (1 - rules.consumption_scatter.value.low) / rules.usable.value.high,
                       driven_kwh * (1 + rules.consumption_scatter.value.high) / rules.usable.value.low};
  for (const survey::Cell& cell : cells) {
    if (cell.voltage && cell.capacity) {
      answer.formats.push_back(format_of(input, rules, answer.needed_kwh, cell));
    } else {
      answer.left_out.push_back(cell.name + ": its " + (cell.voltage ? "capacity_ah" : "voltage_v") + " is not given");
    }
  }
  return answer;
}

}  // namespace cellstow::choosing
