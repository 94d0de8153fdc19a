#include <fmt/core.h>

#include <algorithm>

#include "report/html.hpp"
#include "report/page_drawings.hpp"
#include "report/page_parts.hpp"
#include "report/remarks.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

/// Failing checks one by one, then the worst of every kind and in how many places it was made.
struct CheckRow { std::size_t index; int places; };

std::vector<CheckRow> check_rows(const plan::Plan& plan) {
  std::vector<CheckRow> out;
  for (std::size_t i = 0; i < plan.checks.size(); ++i) {
    const core::Check& check = plan.checks[i];
    const auto alike = std::find_if(out.begin(), out.end(), [&](const CheckRow& row) {
      return plan.checks[row.index].ok && plan.checks[row.index].name == check.name;
    });
    if (!check.ok || alike == out.end()) {
      out.push_back({i, 1});
    } else {
      ++alike->places;
    }
  }
  return out;
}

/// Sources as numbers, and the numbered sources below.
std::string checks_part(const plan::Plan& plan) {
  std::vector<std::string> sources;
  Table out{{"holds", "check", "where it is worst", "value", "limit", "unit", "used", "places", "source"}, {}};
  const Table all = checks(plan);
  for (const CheckRow& check : check_rows(plan)) {
    const auto& row = all.rows[check.index];
    auto found = std::find(sources.begin(), sources.end(), row[7]);
    if (found == sources.end()) found = sources.insert(sources.end(), row[7]);
    const std::string note = row[7].empty() ? "" : fmt::format("[{}]", found - sources.begin() + 1);
    out.rows.push_back({row[0], row[1], row[2], row[3], row[4], row[5], row[6], std::to_string(check.places), note});
  }
  std::string text = html_table(out, {3, 4, 6, 7}, "Worst first: each check that does not hold, then the worst of every kind that does. "
                                "All " + std::to_string(all.rows.size()) + " stand in lists/checks.csv");
  text += element("h3", "Sources") + "<ol>\n";
  for (const std::string& source : sources) text += element("li", source.empty() ? "none given" : source);
  return text + "</ol>\n";
}

/// The hole schedule with fewer columns, for the width of the paper.
Table fixings_short(const Table& holes) {
  Table out{{"fixing", "box", "x mm", "y mm", "z mm", "axis", "thread, kind", "sheet mm", "shear N", "pull N", "used", "what governs, or why not loaded"}, {}};
  for (const auto& r : holes.rows) {
    const std::string why = r[10] == "carries" || !r[14].empty() ? r[14] : r[10];
    out.rows.push_back({r[0], r[1], r[2], r[3], r[4], r[5], r[6] + ", " + r[7], r[8], r[11], r[12], r[13], why});
  }
  return out;
}

std::vector<std::string> runners_up(const plan::Plan& plan) {
  std::vector<std::string> out;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const restraint::Strap& strap : box.straps.straps) {
        if (!strap.runner_up.empty()) out.push_back(strap.mark + ": why not the next thinner: " + strap.runner_up);
      }
    }
  }
  return merged(out);
}

Table strap_table(const plan::Plan& plan) {
  Table out{{"mark", "off", "bar", "cut length mm", "material", "top mm", "legs mm", "feet mm", "holes mm", "leg pull N", "worst case", "rises mm"}, {}};
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const restraint::Strap& s : box.straps.straps) {
        out.rows.push_back({s.mark, std::to_string(s.quantity), mm_text(s.width) + " × " + mm_text(s.thickness), mm_text(s.cut_length), s.material,
                            mm_text(s.span), mm_text(s.leg), mm_text(s.foot), mm_text(s.bolt_hole) + " (" + s.bolt + ")", fixed(s.leg_tension.value(), 0), s.worst_case, mm_text(s.sag)});
      }
    }
  }
  return out;
}

/// Where the sheets for the shop are.
std::string workshop_part(const plan::Plan& plan) {
  bool parts = false, boxes = false;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      parts = parts || !box.sheet.parts.empty();
      boxes = boxes || !box.box.layout.outline.empty();
    }
  }
  std::vector<std::string> lines;
  if (boxes) lines.push_back("Plywood mock-up first: the folder mock_up holds every piece at true size over sheets of paper, lists/plywood.csv the pieces to saw. Measure the 100 mm bar on each sheet.");
  if (parts) lines.push_back("Workshop drawings, PDF and SVG: drawings/boxes for each box with its parts list, drawings/parts for each sheet part with its flat pattern, bends and holes.");
  return html_list(lines);
}

std::string heading(const char* text) {
  return std::string("<section class=\"part\">\n<h2>") + text + "</h2>\n";
}

}  // namespace

std::string page_lists(const survey::Job& job, const plan::Plan& plan) {
  std::string out = heading("Boxes and cut list");
  out += "<div class=\"wide\">" + html_table(boxes(plan), {2, 5, 6, 7}, "Boxes, length × width × height") + "</div>\n";
  out += "<div class=\"wide\">" + html_table(flat_parts(plan), {2, 4, 5, 6, 7}, "Flat parts, finished sizes; cut files in the folder cut", "parts") + "</div>\n";
  out += workshop_part(plan);
  out += html_table(strap_table(plan), {1, 3, 5, 6, 7, 9, 11}, "Straps, flat bar, finished lengths", "straps") + html_list(runners_up(plan)) + "</section>\n";
  const std::vector<Drawing> sheets = sheet_drawings(job, plan);
  if (!sheets.empty()) out += heading("Stock sheets");
  for (const Drawing& sheet : sheets) out += figure(sheet, false);
  if (!sheets.empty()) out += element("p", "A rough plan for buying and quoting; every part's place is in lists/sheet_plan.csv. The laser shop lays the parts its own way.") + "</section>\n";
  const Table holes = hole_schedule(job, plan);
  if (!holes.rows.empty()) {
    out += "<section>\n<h2>The car's own fixings</h2>\n<div class=\"wide\">";
    out += html_table(fixings_short(holes), {2, 3, 4, 7, 8, 9, 10}) + "</div>\n</section>\n";
  }
  if (!plan.checks.empty()) out += "<section>\n<h2>Checks</h2>\n" + checks_part(plan) + "</section>\n";
  return out;
}

}  // namespace cellstow::report
