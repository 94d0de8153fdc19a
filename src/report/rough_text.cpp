#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cellstow/report/choice.hpp"
#include "report/json_values.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using choosing::Band;
using choosing::RoughFormat;
using choosing::RoughRule;
using choosing::RoughString;

std::string band(double low, double high, int decimals = 0) {
  const std::string a = number(low, decimals), b = number(high, decimals);
  return a == b ? a : a + " to " + b;
}

std::string string_words(const RoughString& string) {
  return std::to_string(string.series) + (string.parallel > 1 ? " x " + std::to_string(string.parallel) : "");
}

std::string strings(const RoughFormat& format) {
  const std::string light = string_words(format.light), heavy = string_words(format.heavy);
  return light == heavy ? light : light + " to " + heavy;
}

const char* plate_words(choosing::PlateAnswer answer) {
  switch (answer) {
    case choosing::PlateAnswer::yes: return "yes";
    case choosing::PlateAnswer::light_end: return "light end only";
    case choosing::PlateAnswer::no: return "no";
  }
  return "";
}

/// Share as a percentage where the rule is a share.
std::string rule_value(const RoughRule& rule) {
  const bool share = rule.unit != "kg";
  return band(rule.value.low * (share ? 100 : 1), rule.value.high * (share ? 100 : 1), 1) + (share ? " % " : " ") + rule.unit;
}

std::vector<std::string> row_of(const RoughFormat& f) {
  if (!f.suits) return {f.cell, band(f.needed.low, f.needed.high), "none suits the controller", "", "", "", "", "", "", ""};
  return {f.cell,
          band(f.light.cells(), f.heavy.cells()),
          strings(f),
          band(f.volts.low, f.volts.high),
          band(f.kwh.low, f.kwh.high, 1),
          band(f.added_kg.low, f.added_kg.high),
          band(f.car_kg.low, f.car_kg.high),
          band(f.left_kg.low, f.left_kg.high),
          plate_words(f.plate),
          f.cavity_holds ? band(f.cavity_holds->low, f.cavity_holds->high) : ""};
}

/// Columns as wide as their widest entry, two blanks apart; the last empty one dropped.
std::string aligned(const std::vector<std::vector<std::string>>& rows) {
  std::vector<std::size_t> widths(rows.front().size());
  for (const auto& row : rows) {
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], characters(row[i]).size());
  }
  std::string out;
  for (const auto& row : rows) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i) line += row[i] + std::string(widths[i] - characters(row[i]).size() + 2, ' ');
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out;
}

Json band_json(const Band& value, int decimals) { return Json::array({rounded(value.low, decimals), rounded(value.high, decimals)}); }

Json format_json(const RoughFormat& f) {
  Json json{{"cell", f.cell}, {"cell_kwh", rounded(f.cell_kwh, 3)}, {"cells_for_energy", Json::array({f.needed.low, f.needed.high})}, {"suits_controller", f.suits}};
  if (f.cavity_holds) json["cavity_holds_cells"] = Json::array({f.cavity_holds->low, f.cavity_holds->high});
  if (!f.suits) return json;
  json["cells"] = Json::array({f.light.cells(), f.heavy.cells()});
  json["series"] = Json::array({f.light.series, f.heavy.series});
  json["parallel"] = Json::array({f.light.parallel, f.heavy.parallel});
  json["nominal_v"] = band_json(f.volts, 1);
  json["energy_kwh"] = band_json(f.kwh, 2);
  json["added_kg"] = band_json(f.added_kg, 1);
  json["car_kg"] = band_json(f.car_kg, 1);
  json["left_kg"] = band_json(f.left_kg, 1);
  json["mass_change_percent"] = Json::array({rounded(100 * f.mass_change.low, 1), rounded(100 * f.mass_change.high, 1)});
  json["within_plate"] = f.plate == choosing::PlateAnswer::yes ? "yes" : f.plate == choosing::PlateAnswer::light_end ? "light_end" : "no";
  return json;
}

}  // namespace

std::string rough_text(const choosing::RoughInput& input, const choosing::RoughRules& rules, const choosing::RoughAnswer& answer) {
  std::string out = fmt::format("{} km at {} Wh/km: {} kWh in the cells, give or take. Car as it came {} kg, {} kg out, plate {} kg.\n\n", number(input.range_km),
                                number(input.consumption_wh_per_km), band(answer.needed_kwh.low, answer.needed_kwh.high, 1), number(input.car_kg), number(input.out_kg),
                                number(input.gross_limit_kg));
  std::vector<std::vector<std::string>> rows = {
      {"cell", "cells", "in series", "volts", "kWh", "added kg", "car then kg", "left kg", "within plate", input.cavity_litres ? "the litres hold" : ""}};
  for (const RoughFormat& format : answer.formats) rows.push_back(row_of(format));
  out += aligned(rows);
  out += "\nCar then: nobody in it. Left: for people and luggage under the plate; within the plate when one person (" + number(rules.person_kg.value.high) +
         " kg) goes in.\nIn series: 20 x 2 is 20 in series, 2 side by side. A first idea before measuring: order nothing on it.\n";
  for (const std::string& line : answer.left_out) out += "Left out: " + line + "\n";
  out += "\nRules of thumb (change one with its option):\n";
  for (const RoughRule* rule : rules.all()) {
    if (rule == &rules.filling && !input.cavity_litres) continue;
    out += fmt::format("  --{}: {}, {}; {}\n", rule->key, rule->what, rule_value(*rule), rule->given ? "as given" : rule->source);
  }
  return out;
}

Json rough_to_json(const choosing::RoughInput& input, const choosing::RoughRules& rules, const choosing::RoughAnswer& answer) {
  Json json{{"format", "cellstow-rough/1"},
            {"given",
             {{"range_km", tidy(input.range_km)}, {"consumption_wh_per_km", tidy(input.consumption_wh_per_km)}, {"car_kg", tidy(input.car_kg)}, {"out_kg", tidy(input.out_kg)}, {"gross_limit_kg", tidy(input.gross_limit_kg)}}}};
  if (input.controller) json["given"]["controller_v"] = Json::array({tidy(input.controller->min.value()), tidy(input.controller->max.value())});
  if (input.cavity_litres) json["given"]["cavity_litres"] = tidy(*input.cavity_litres);
  json["needed_kwh"] = band_json(answer.needed_kwh, 2);
  json["formats"] = Json::array();
  for (const RoughFormat& format : answer.formats) json["formats"].push_back(format_json(format));
  json["left_out"] = answer.left_out;
  json["rules"] = Json::array();
  for (const RoughRule* rule : rules.all()) {
    json["rules"].push_back({{"option", rule->key}, {"what", rule->what}, {"value", Json::array({tidy(rule->value.low), tidy(rule->value.high)})}, {"unit", rule->unit}, {"source", rule->given ? "as given" : rule->source}});
  }
  return json;
}

}  // namespace cellstow::report
