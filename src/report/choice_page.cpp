#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cellstow/report/write.hpp"
#include "report/choice_parts.hpp"
#include "report/file_list.hpp"
#include "report/html.hpp"
#include "report/lists.hpp"
#include "report/page_parts.hpp"
#include "report/split_parts.hpp"
#include "report/svg.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using choosing::Candidate;
using choosing::Choice;
using choosing::Standing;
using Formats = std::vector<choosing::Format>;

/// One field: what is read, and the number it sorts by where it is one.
struct Field { std::string text; std::optional<double> value; bool number = true; bool words = false; };

Field figure_field(double value, int decimals) { return {fixed(value, decimals), value}; }
Field count_field(int value) { return {std::to_string(value), static_cast<double>(value)}; }
Field words_field(std::string text) { return {std::move(text), std::nullopt, false, true}; }

std::string join(const std::vector<std::string>& parts) {
  std::string out;
  for (const std::string& part : parts) out += (out.empty() ? "" : "; ") + part;
  return out;
}

std::string shared_out(const Candidate& c) {
  std::string out;
  for (const int cells : c.per_cavity) out += (out.empty() ? "" : " + ") + std::to_string(cells);
  return out;
}

/// The order in which the cells per cavity are told.
std::string cavities_sentence(const survey::Job& job) {
  std::string out;
  for (const survey::Cavity& cavity : job.cavities) out += (out.empty() ? "" : " + ") + one_line(cavity.name);
  return "Per cavity: " + out + ".";
}

std::vector<std::string> heads(const Choice& choice) {
  std::vector<std::string> out = {"no.", "cell", "stands", "cells", "in series", "side by side", "V", "kWh", "km, about", "full boxes, kg", "front share, %"};
  out.push_back(choice.cg_of_car ? "centre of gravity, car, mm" : "centre of gravity, boxes, mm");
  out.push_back("boxes");
  if (choice.has_cost) out.push_back("cost of cells");
  out.insert(out.end(), {"places, proven", "per cavity", "standing"});
  return out;
}

std::vector<Field> fields_of(const Formats& formats, const Choice& choice, std::size_t i) {
  const Candidate& c = choice.candidates[i];
  const std::string range = c.range_km ? number(c.range_km->low, 0) + " to " + number(c.range_km->high, 0) : "";
  std::vector<Field> out = {count_field(static_cast<int>(i) + 1), {formats[c.format].cell.name, std::nullopt, false}, {choosing::stance_words(c.used), std::nullopt, false}, count_field(c.cells),
                            count_field(c.series), count_field(c.parallel), figure_field(c.nominal_v, 1), figure_field(c.kwh, 1), {range, c.range_km ? c.range_km->low : NAN},
                            figure_field(c.boxes_kg, 0), c.front_share ? figure_field(100 * *c.front_share, 1) : Field{"", NAN}, c.cg_height_mm ? figure_field(*c.cg_height_mm, 0) : Field{"", NAN},
                            count_field(c.boxes)};
  if (choice.has_cost) out.push_back(figure_field(*c.cost, 0));
  out.push_back({std::to_string(c.places) + (c.proven ? ", yes" : ", no"), static_cast<double>(c.places)});
  out.push_back({shared_out(c), std::nullopt, false});
  out.push_back(words_field(standing_words(choice, c) + (c.breaks.empty() ? "" : ". Goes past: " + join(c.breaks))));
  return out;
}

std::string data_value(const Field& field) {
  if (!field.number) return {};
  return field.value && std::isfinite(*field.value) ? fmt::format(" data-v=\"{}\"", number(*field.value, 3)) : " data-v=\"\"";
}

std::string row_of(const Formats& formats, const Choice& choice, std::size_t i) {
  const Candidate& c = choice.candidates[i];
  const char* const standing = c.standing == Standing::best ? "best" : c.standing == Standing::beaten ? "beaten" : "fewer";
  std::string out = fmt::format("<tr class=\"{}{}\" data-kwh=\"{}\" data-kg=\"{}\"{}{}>", standing, c.fullest ? "" : " fewer-cells", number(c.kwh, 3), number(c.boxes_kg, 1),
                                c.breaks.empty() ? "" : " data-breaks=\"yes\"", c.fullest ? "" : " hidden=\"hidden\"");
  for (const Field& field : fields_of(formats, choice, i)) {
    out += fmt::format("<td{}{}>{}</td>", field.number ? " class=\"n\"" : field.words ? " class=\"words\"" : "", data_value(field), escape_markup(field.text));
  }
  return out + "</tr>\n";
}

std::string table_of(const survey::Job& job, const Formats& formats, const Choice& choice) {
  std::string out = "<div class=\"wide\"><table class=\"choice\" id=\"choice\">\n<caption>Best ones first, then those beaten. A heading sorts by its column; once more turns the order. " + escape_markup(cavities_sentence(job)) +
                    "</caption>\n<thead><tr>";
  for (const std::string& head : heads(choice)) out += "<th scope=\"col\"><button type=\"button\" disabled=\"disabled\">" + escape_markup(head) + "</button></th>";
  out += "</tr></thead>\n<tbody>\n";
  for (std::size_t i = 0; i < choice.candidates.size(); ++i) out += row_of(formats, choice, i);
  return out + "</tbody></table></div>\n";
}

const char* const filters = R"html(<form id="filters" class="filters" hidden="hidden" aria-label="Which rows are shown">
<label>holds the words <input type="search" name="word"/></label>
<label>at least <input type="number" name="kwh" min="0" step="any"/> kWh</label>
<label>boxes at most <input type="number" name="kg" min="0" step="any"/> kg</label>
<label><input type="checkbox" name="best"/> best ones only</label>
<label><input type="checkbox" name="limits"/> within all limits only</label>
<label><input type="checkbox" name="fewer"/> also with fewer cells than the most</label>
<output id="told" aria-live="polite"></output>
</form>
)html";

std::string counts_sentence(const Formats& formats, const Choice& choice) {
  int best = 0, beaten = 0, fewer = 0;
  for (const Candidate& c : choice.candidates) {
    best += c.standing == Standing::best;
    beaten += c.standing == Standing::beaten && c.fullest;
    fewer += !c.fullest;
  }
  return count(static_cast<int>(formats.size()), "cell format") + " compared: " + count(best, "best one", "best ones") + ", " + std::to_string(beaten) + " beaten; " + std::to_string(fewer) +
         " more with fewer cells than the most of their format, all in choice.csv.";
}

std::string what_best_means(const Choice& choice) {
  return std::string("A way to fill the car is beaten when another is no worse in anything compared here and better in something: limits gone past, kWh, mass of the full boxes, ") +
         (choice.target ? "front share outside the one wanted, " : "") + "boxes, height of the centre of gravity" + (choice.has_cost ? ", cost of the cells" : "") +
         ". Figures are compared as printed, the height in steps of 20 mm. The best ones are those that nothing beats: which of them to build is for you to say.";
}

std::string rest(const Choice& choice) {
  std::string out = "<section class=\"part\">\n" + element("h2", "How it was worked out") + html_list(choice.notes);
  if (!choice.left_out.empty()) out += element("h3", "Formats left out") + html_list(choice.left_out);
  return out + "</section>\n";
}

std::string split_section(const Formats& formats, const Choice& choice) {
  if (!choice.splits || !choice.split_of) return {};
  const Candidate& c = choice.candidates[*choice.split_of];
  return element("p", "The next section is about no. " + std::to_string(*choice.split_of + 1) + ": " + formats[c.format].cell.name + ", " + choosing::stance_words(c.used) + ", " +
                          std::to_string(c.series) + " in series" + (c.parallel > 1 ? ", " + std::to_string(c.parallel) + " side by side" : "") + ".") +
         page_splits(*choice.splits, "splits.csv");
}

}  // namespace

std::string choice_page(const survey::Job& job, const Formats& formats, const Choice& choice) {
  const std::string title = title_of(job) + ": which cell";
  std::string out = "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n";
  out += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  out += element("title", title) + page_style(title) + choice_style() + "</head>\n<body>\n<section>\n" + element("h1", title);
  out += element("p", "First check for discussion with the certifier. Made by cellstow " CELLSTOW_VERSION " from the measurements in the job file.", "first-check");
  out += element("p", counts_sentence(formats, choice)) + element("p", what_best_means(choice));
  if (!choice.candidates.empty()) out += filters + table_of(job, formats, choice);
  for (const Drawing& drawing : choice_drawings(choice)) out += figure(drawing, false);
  out += "</section>\n" + split_section(formats, choice) + rest(choice);
  if (!choice.candidates.empty()) out += choice_script();
  return out + "</body>\n</html>\n";
}

std::map<std::string, std::string> choice_files(const survey::Job& job, const Formats& formats, const Choice& choice) {
  std::map<std::string, std::string> files;
  files["choice.html"] = choice_page(job, formats, choice);
  files["choice.csv"] = to_csv(choice_table(job, formats, choice));
  if (choice.splits) files["splits.csv"] = to_csv(split_table(*choice.splits));
  for (const Drawing& drawing : choice_drawings(choice)) files[drawing.name + ".svg"] = to_svg(drawing, SvgUse::own_file);
  std::string list = std::string(file_list_name) + "\n";
  for (const auto& [path, bytes] : files) list += path + "\n";
  files[file_list_name] = list;
  return files;
}

}  // namespace cellstow::report
