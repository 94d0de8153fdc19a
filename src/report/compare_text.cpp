#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "report/compare_tables.hpp"
#include "report/html.hpp"
#include "report/json_values.hpp"
#include "report/lists.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

/// One part of the comparison: a heading, a sentence or more, a table.
struct Part {
  std::string heading, file;          ///< file: of the comma-separated values
  std::vector<std::string> lead;
  Table table;
  std::vector<std::size_t> numbers;   ///< columns
};

std::vector<std::string> some(std::string text) { return text.empty() ? std::vector<std::string>{} : std::vector{std::move(text)}; }

std::vector<std::string> shared_leads(const Comparison& comparison) {
  std::vector<std::string> out;
  if (comparison.shared.empty()) return out;
  out.push_back(fmt::format("One set of brackets for both cars, no slot longer than {} mm. A slot has room for the tape's give or take, for what cars of the model differ, and for what these two were "
                            "found to differ. A shim goes under the bracket's foot in the second car; a negative one says that the first needs it.",
                            number(comparison.longest_slot.mm(), 1)));
  for (const auto& shared : comparison.shared) out.push_back(shared_lead(shared));
  return out;
}

void add_sides(std::vector<Part>& out, const std::string& which, const std::string& file, const differences::LeftRight& sides) {
  if (sides.holes.empty() && sides.walls.empty()) return;
  std::vector<std::string> lead = some(sides_lead(sides));
  lead.insert(lead.begin(), "Each hole against the mirror image of the one that faces it. Nothing here was made the same.");
  out.push_back({"Left and right, " + which + ": holes", file + "_holes", lead, facing_holes(sides), facing_hole_numbers});
  out.push_back({"Left and right, " + which + ": walls", file + "_walls", {}, facing_walls(sides), facing_wall_numbers});
}

std::vector<Part> parts_of(const Comparison& c) {
  std::vector<Part> out;
  out.push_back({"Holes that differ", "holes", some(holes_lead(c)), hole_differences(c), {2, 3, 4, 5}});
  out.push_back({"Walls that differ", "walls", some(walls_lead(c)), wall_differences(c), {2, 5, 6}});
  out.push_back({"What else differs", "values", {}, value_differences(c), {}});
  if (c.made) {
    out.push_back({"Cells and boxes that differ", "boxes", {}, box_differences(c), {}});
    out.push_back({"Parts that differ, by mark", "parts", {}, part_differences(c), {}});
  }
  // the same holes in both: two revisions of one car, whose brackets have their slots in the plan
  if (!c.holes.empty()) out.push_back({"Holes that serve both", "slots", shared_leads(c), shared_hole_rows(c), {4, 5, 6, 7}});
  const bool alike = facing_holes(c.first_sides).rows == facing_holes(c.second_sides).rows && facing_walls(c.first_sides).rows == facing_walls(c.second_sides).rows;
  add_sides(out, alike ? "both" : "first", alike ? "left_right" : "first_left_right", c.first_sides);
  if (!alike) add_sides(out, "second", "second_left_right", c.second_sides);
  return out;
}

std::string answer(const Comparison& c) {
  if (c.same()) return "Nothing differs.";
  std::vector<std::string> said;
  const auto say = [&](std::size_t n, const char* one, const char* many) {
    if (n > 0) said.push_back(count(static_cast<int>(n), one, many));
  };
  say(c.holes.size(), "hole", "holes");
  say(c.sections.size(), "section", "sections");
  say(c.values.size(), "other value", "other values");
  if (c.made) say(c.made->totals.size() + c.made->boxes.size(), "figure of cells and boxes", "figures of cells and boxes");
  if (c.made) say(c.made->parts.size(), "part", "parts");
  std::string text;
  for (std::size_t i = 0; i < said.size(); ++i) text += (i == 0 ? "" : i + 1 == said.size() ? " and " : ", ") + said[i];
  return "What differs: " + text + ".";
}

std::string padded(const std::string& text, std::size_t width, bool right) {
  const std::size_t length = characters(text).size();
  const std::string space(width > length ? width - length : 0, ' ');
  return right ? space + text : text + space;
}

/// Columns one below the other; numbers to the right.
std::string aligned(const Table& table, const std::vector<std::size_t>& numbers) {
  std::vector<std::vector<std::string>> rows = {table.head};
  rows.insert(rows.end(), table.rows.begin(), table.rows.end());
  std::vector<std::size_t> widths(table.head.size());
  for (const auto& row : rows)
    for (std::size_t k = 0; k < row.size(); ++k) widths[k] = std::max(widths[k], characters(row[k]).size());
  std::string out;
  for (const auto& row : rows) {
    std::string line = " ";
    for (std::size_t k = 0; k < row.size(); ++k) line += " " + padded(row[k], widths[k], std::find(numbers.begin(), numbers.end(), k) != numbers.end()) + " ";
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out;
}

std::string page_of(const Comparison& c) {
  const std::string title = "What differs: " + c.first + " and " + c.second;
  std::string out = "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  out += element("title", title) + page_style(title) + "</head>\n<body>\n" + element("h1", "What differs");
  out += html_list({"first: " + c.first, "second: " + c.second}) + element("p", answer(c)) + html_list(c.remarks);
  for (const Part& part : parts_of(c)) {
    if (part.table.rows.empty()) continue;
    out += "<section>\n" + element("h2", part.heading);
    for (const std::string& line : part.lead) out += element("p", line);
    out += "<div class=\"wide\">" + html_table(part.table, part.numbers) + "</div>\n";
    if (part.file == "walls")
      for (const std::string& picture : c.pictures) out += picture;
    out += "</section>\n";
  }
  return out + "</body>\n</html>\n";
}

Json rows_as_json(const Table& table) {
  Json out = Json::array();
  for (const auto& row : table.rows) {
    Json one = Json::object();
    for (std::size_t k = 0; k < row.size(); ++k) one[table.head[k]] = row[k];
    out.push_back(std::move(one));
  }
  return out;
}

const char* word(differences::Change change) {
  return change == differences::Change::changed ? "changed" : change == differences::Change::only_first ? "only_first" : "only_second";
}

Json holes_json(const Comparison& c) {
  Json out = Json::array();
  for (const auto& hole : c.holes)
    out.push_back({{"cavity", hole.cavity}, {"fixing", hole.fixing}, {"change", word(hole.change)}, {"dx_mm", rounded(hole.dx_mm, 3)}, {"dy_mm", rounded(hole.dy_mm, 3)},
                   {"dz_mm", rounded(hole.dz_mm, 3)}, {"distance_mm", rounded(hole.distance_mm, 3)}, {"remarks", hole.remarks}});
  return out;
}

Json walls_json(const Comparison& c) {
  Json out = Json::array();
  for (const auto& s : c.sections)
    out.push_back({{"cavity", s.cavity}, {"change", word(s.change)}, {"station_mm", mm(s.station)}, {"apart_mm", rounded(s.wall.mm, 3)}, {"at_mm", point(s.wall.at)},
                   {"wider", s.wall.first_wider ? "first" : "second"}, {"first_mm2", rounded(s.first_mm2, 1)}, {"second_mm2", rounded(s.second_mm2, 1)}});
  return out;
}

Json shared_json(const Comparison& c) {
  Json out = Json::array();
  for (const auto& shared : c.shared)
    for (const auto& h : shared.holes)
      out.push_back({{"cavity", shared.cavity}, {"fixing", h.fixing}, {"serves_both", h.why_not.empty()}, {"round", h.round}, {"width_mm", rounded(h.width_mm, 3)}, {"length_mm", rounded(h.length_mm, 3)},
                     {"along", h.along}, {"centre_mm", point(h.centre)}, {"shim_mm", rounded(h.shim_mm, 3)}, {"why_not", h.why_not}});
  return out;
}

Json sides_json(const differences::LeftRight& sides) {
  return {{"holes", rows_as_json(facing_holes(sides))}, {"walls", rows_as_json(facing_walls(sides))}};
}

}  // namespace

std::string to_text(const Comparison& c) {
  std::string out = fmt::format("First:  {}\nSecond: {}\n{}\n", c.first, c.second, answer(c));
  for (const std::string& remark : c.remarks) out += remark + "\n";
  for (const Part& part : parts_of(c)) {
    if (part.table.rows.empty()) continue;
    out += "\n" + part.heading + "\n";
    for (const std::string& line : part.lead) out += "  " + line + "\n";
    out += aligned(part.table, part.numbers);
  }
  return out;
}

Json to_json(const Comparison& c) {
  return {{"format", "cellstow-comparison/1"},
          {"first", c.first},
          {"second", c.second},
          {"same", c.same()},
          {"holes", holes_json(c)},
          {"sections", walls_json(c)},
          {"values", rows_as_json(value_differences(c))},
          {"boxes", c.made ? rows_as_json(box_differences(c)) : Json()},
          {"parts", c.made ? rows_as_json(part_differences(c)) : Json()},
          {"serves_both", shared_json(c)},
          {"left_and_right", {{"first", sides_json(c.first_sides)}, {"second", sides_json(c.second_sides)}}},
          {"remarks", c.remarks}};
}

std::map<std::string, std::string> comparison_files(const Comparison& c) {
  std::map<std::string, std::string> out;
  out["compare.html"] = page_of(c);
  for (const Part& part : parts_of(c)) out["lists/" + part.file + ".csv"] = to_csv(part.table);
  return out;
}

}  // namespace cellstow::report
