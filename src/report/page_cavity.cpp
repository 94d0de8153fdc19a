#include <algorithm>

#include "report/answer.hpp"
#include "report/cavity_view.hpp"
#include "report/html.hpp"
#include "report/page_drawings.hpp"
#include "report/page_parts.hpp"
#include "report/remarks.hpp"
#include "report/text.hpp"
#include "report/way_in_view.hpp"

namespace cellstow::report {
namespace {

const char* axis_name(core::Axis axis) {
  const char* names[] = {"x", "y", "z"};
  return names[static_cast<int>(axis)];
}

std::string shortfall_sentence(const packing::RowShortfall& row) {
  const bool along_car = row.along == packing::Run::u;
  const std::string place = std::string(along_car ? "y " : "x ") + mm_text(row.at);
  const std::string way = along_car ? "along the car" : "across the car";
  const std::string numbers = " needs " + mm_text(row.needed) + " mm, there are " + mm_text(row.available) + ": short by " +
                              mm_text(row.needed - row.available) + " mm";
  const std::string at = row.limited_by.empty() ? "" : " at the " + row.limited_by;
  if (row.whole_row) return "One more row of " + count(row.cells, "cell") + " " + way + ", at " + place + "," + numbers + at + ".";
  return "Row " + way + " at " + place + ": holds " + count(row.cells, "cell") + "; one more" + numbers + at + ".";
}

std::string readings_part(const survey::Cavity* cavity, const packing::ReadingComparison& r) {
  std::string out = "Counting only space that both neighbouring sections leave free: " + count(r.common_cells, "cell") + ". ";
  if (r.straight_cells) {
    out += "With walls straight from section to section: " + count(*r.straight_cells, "cell") + ".";
  } else {
    out += "With walls straight from section to section: not counted" + (r.why_not.empty() ? "" : " (" + r.why_not + ")") + ".";
  }
  if (r.measure_at && cavity) {
    out += " Measure one more section at " + std::string(axis_name(cavity->sections.across)) + " " + mm_text(*r.measure_at) + ": " +
           count(r.decided_there, "cell hangs", "cells hang") + " on it.";
  }
  return element("p", out);
}

Table tightest_table(const plan::CavityPlan& cavity) {
  Table out{{"where on the box", "what is near", "x", "y", "z", "gap mm", "needed mm", "in hand mm"}, {}};
  for (std::size_t i = 0; i < cavity.tightest.size() && i < 10; ++i) {
    const plan::Gap& gap = cavity.tightest[i];
    out.rows.push_back({gap.where, gap.what, mm_text(gap.at.x), mm_text(gap.at.y), mm_text(gap.at.z), number(gap.gap_mm),
                        number(gap.needed_mm), number(gap.gap_mm - gap.needed_mm)});
  }
  return out;
}

std::string box_part(const plan::Plan& plan, const plan::BoxPlan& box) {
  std::string out = element("h3", box_sentence(box));
  if (const std::optional<Drawing> stack = stack_drawing(box.box)) out += figure(*stack, false);
  return out + html_list(own_cautions(plan, box), "cautions") + html_list(own_notes(plan, box));
}

std::string way_in_part(const survey::Cavity* measured, const plan::CavityPlan& cavity) {
  if (cavity.way_in.empty()) return {};
  std::string out = element("h3", "The way in");
  std::vector<std::string> notes;
  for (const way_in::BoxWay& way : cavity.way_in) {
    out += html_list(way.sentences);
    if (measured) {
      for (const Drawing& view : way_in_drawings(*measured, way)) out += figure(view, false);
    }
    for (const std::string& note : way.notes) {
      if (std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(note);
    }
  }
  return out + html_list(notes, "source");
}

}  // namespace

std::string page_cavity(const survey::Job& job, const plan::Plan& plan, const plan::CavityPlan& cavity) {
  const survey::Cavity* measured = cavity_of(job, cavity);
  std::string out = "<section class=\"part\">\n<h2>" + escape_markup(cavity.name) + "</h2>\n";
  out += element("p", cavity_sentence(cavity) + ".") + readings_part(measured, cavity.readings);
  std::vector<std::string> rows;
  for (std::size_t i = 0; i < cavity.packing.shortfalls.size() && i < 8; ++i) rows.push_back(shortfall_sentence(cavity.packing.shortfalls[i]));
  if (!rows.empty()) out += element("h3", "What one more would need") + html_list(rows);
  for (const std::string& fitting : cavity.packing.fittings_without_place) out += element("p", "No place was found for: " + fitting + ".", "cure");
  out += html_table(tightest_table(cavity), {2, 3, 4, 5, 6, 7}, "Tightest places, least in hand first (a measured point is good to give or take " +
                    (measured ? mm_text(measured->tape_error) : std::string("3")) + " mm)");
  out += html_table(blocks(cavity), {2, 5, 6, 7, 8, 9, 10}, "Blocks, with end plates and room for the straps, mm");
  for (const plan::BoxPlan& box : cavity.boxes) out += box_part(plan, box);
  out += way_in_part(measured, cavity) + html_list(cavity.packing.notes);
  if (measured) {
    for (const Drawing& view : cavity_views(job, *measured, cavity)) out += figure(view, true);
  }
  return out + "</section>\n";
}

}  // namespace cellstow::report
