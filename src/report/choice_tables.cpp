#include <cmath>
#include <nlohmann/json.hpp>

#include "report/choice_parts.hpp"
#include "report/json_values.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using choosing::Candidate;
using choosing::Choice;
using choosing::Standing;

const char* standing_word(Standing standing) {
  switch (standing) {
    case Standing::best: return "best";
    case Standing::beaten: return "beaten";
    case Standing::fewer: return "fewer cells";
  }
  return "";
}

std::string joined(const std::vector<std::string>& parts) {
  std::string out;
  for (const std::string& part : parts) out += (out.empty() ? "" : "; ") + part;
  return out;
}

std::string cost_text(const Candidate& c) { return c.cost ? number(*c.cost, 2) : ""; }

std::vector<std::string> row_of(const std::vector<choosing::Format>& formats, const Choice& choice, std::size_t i) {
  const Candidate& c = choice.candidates[i];
  std::vector<std::string> row = {std::to_string(i + 1), formats[c.format].cell.name, choosing::stance_words(c.used), std::to_string(c.cells), std::to_string(c.series), std::to_string(c.parallel),
                                  number(c.nominal_v), fixed(c.kwh), c.range_km ? number(c.range_km->low, 0) : "", c.range_km ? number(c.range_km->high, 0) : "", fixed(c.boxes_kg),
                                  c.front_share ? fixed(100 * *c.front_share) : "", c.cg_height_mm ? number(*c.cg_height_mm, 0) : "", std::to_string(c.boxes), cost_text(c), std::to_string(c.places),
                                  c.proven ? "yes" : "no", c.peak_per_hour ? fixed(*c.peak_per_hour) : ""};
  for (const int cells : c.per_cavity) row.push_back(std::to_string(cells));
  row.insert(row.end(), {joined(c.breaks), standing_word(c.standing), c.standing == Standing::beaten ? std::to_string(c.beaten_by + 1) : "", c.beaten_how});
  return row;
}

Json candidate_json(const std::vector<choosing::Format>& formats, const Choice& choice, std::size_t i) {
  const Candidate& c = choice.candidates[i];
  Json json{{"number", i + 1},
            {"cell", formats[c.format].cell.name},
            {"stances", choosing::stance_words(c.used)},
            {"cells", c.cells},
            {"series", c.series},
            {"parallel", c.parallel},
            {"places", c.places},
            {"proven", c.proven},
            {"per_cavity", c.per_cavity},
            {"nominal_v", rounded(c.nominal_v, 2)},
            {"energy_kwh", rounded(c.kwh, 3)},
            {"boxes", c.boxes},
            {"boxes_kg", rounded(c.boxes_kg, 1)}};
  if (c.range_km) json["range_km"] = Json::array({rounded(c.range_km->low, 0), rounded(c.range_km->high, 0)});
  if (c.front_share) json["front_share"] = rounded(*c.front_share, 4);
  if (c.cg_height_mm) json["cg_height_mm"] = rounded(*c.cg_height_mm, 0);
  if (c.cost) json["cost"] = rounded(*c.cost, 2);
  if (c.peak_per_hour) json["peak_over_capacity_per_h"] = rounded(*c.peak_per_hour, 2);
  json["goes_past"] = c.breaks;
  json["standing"] = standing_word(c.standing);
  if (c.standing == Standing::beaten) json["beaten_by"] = {{"number", c.beaten_by + 1}, {"how", c.beaten_how}};
  return json;
}

}  // namespace

std::string standing_words(const Choice&, const Candidate& c) {
  if (c.standing == Standing::best) return "best";
  if (c.standing == Standing::fewer) return "fewer cells of the same";
  return "beaten by no. " + std::to_string(c.beaten_by + 1) + ": " + c.beaten_how;
}

Table choice_table(const survey::Job& job, const std::vector<choosing::Format>& formats, const Choice& choice) {
  Table out{{"no", "cell", "stances", "cells", "in_series", "side_by_side", "nominal_v", "energy_kwh", "range_from_km", "range_to_km", "boxes_kg", "front_share_percent",
             choice.cg_of_car ? "cg_height_car_mm" : "cg_height_boxes_mm", "boxes", "cost", "places", "places_proven", "peak_over_capacity_per_h"},
            {}};
  for (const survey::Cavity& cavity : job.cavities) out.head.push_back("cells in " + cavity.name);
  for (const char* head : {"goes_past", "standing", "beaten_by_no", "beaten_how"}) out.head.push_back(head);
  for (std::size_t i = 0; i < choice.candidates.size(); ++i) out.rows.push_back(row_of(formats, choice, i));
  return out;
}

Json choice_to_json(const survey::Job& job, const std::vector<choosing::Format>& formats, const Choice& choice) {
  Json json{{"format", "cellstow-choice/1"}, {"program", "cellstow " CELLSTOW_VERSION}, {"cavities", Json::array()}, {"candidates", Json::array()}};
  for (const survey::Cavity& cavity : job.cavities) json["cavities"].push_back(cavity.name);
  for (std::size_t i = 0; i < choice.candidates.size(); ++i) json["candidates"].push_back(candidate_json(formats, choice, i));
  json["left_out"] = choice.left_out;
  json["notes"] = choice.notes;
  return json;
}

std::string choice_summary(const std::vector<choosing::Format>& formats, const Choice& choice) {
  constexpr std::size_t most = 16;
  std::size_t best = 0;
  std::string out;
  for (std::size_t i = 0; i < choice.candidates.size(); ++i) {
    const Candidate& c = choice.candidates[i];
    if (c.standing != Standing::best || ++best > most) continue;
    out += std::to_string(i + 1) + ". " + formats[c.format].cell.name + ", " + choosing::stance_words(c.used) + ": " + std::to_string(c.series) + " in series" +
           (c.parallel > 1 ? " x " + std::to_string(c.parallel) : "") + ", " + number(c.nominal_v) + " V, " + fixed(c.kwh) + " kWh, " + number(c.boxes_kg, 0) + " kg in " + count(c.boxes, "box", "boxes") +
           (c.front_share ? ", front " + percent(*c.front_share, 1) : "") + (c.proven ? "" : ", places not proven") + (c.breaks.empty() ? "" : "; " + joined(c.breaks)) + "\n";
  }
  if (best > most) out += "and " + count(static_cast<int>(best - most), "more best one", "more best ones") + "\n";
  return count(static_cast<int>(best), "best one", "best ones") + " of " + count(static_cast<int>(choice.candidates.size()), "way", "ways") + " to fill the car:\n" + out;
}

}  // namespace cellstow::report
