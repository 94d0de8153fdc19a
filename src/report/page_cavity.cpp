#include <algorithm>

#include "report/answer.hpp"
#include "report/cavity_view.hpp"
#include "report/html.hpp"
#include "report/limits_words.hpp"
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

/// Where a row is: square with the car by the coordinate that it keeps, in a turned box by a point of it.
std::string row_place(const packing::RowShortfall& row) {
  const bool along_u = row.along == packing::Run::u;
  if (row.heading.is_square()) return std::string(along_u ? "y " : "x ") + mm_text(row.at);
  const core::Point2 at = core::to_car(row.heading, along_u ? core::Point2{row.middle, row.at} : core::Point2{row.at, row.middle});
  return "x " + mm_text(at.a) + ", y " + mm_text(at.b);
}

std::string shortfall_sentence(const packing::RowShortfall& row) {
  const bool along_u = row.along == packing::Run::u;
  const std::string place = row_place(row);
  const std::string way = std::string(along_u ? "along the " : "across the ") + (row.heading.is_square() ? "car" : "turned box");
  const std::string numbers = " needs " + mm_text(row.needed) + " mm, there are " + mm_text(row.available) + ": short by " +
                              mm_text(row.needed - row.available) + " mm";
  const std::string at = row.limited_by.empty() ? "" : " at the " + row.limited_by;
  if (row.whole_row) return "One more row of " + count(row.cells, "cell") + " " + way + ", at " + place + "," + numbers + at + ".";
  return "Row " + way + " at " + place + ": holds " + count(row.cells, "cell") + "; one more" + numbers + at + ".";
}

std::string readings_part(const survey::Cavity* cavity, const packing::ReadingComparison& r) {
  const bool asks_straight = cavity && cavity->sections.between == survey::Between::straight;
  const auto at_least = [&](bool asked_for) { return std::string(r.least && !asked_for ? "at least " : ""); };
  std::string out = "Counting only space that both neighbouring sections leave free: " + at_least(!asks_straight) + count(r.common_cells, "cell") + ". ";
  if (r.straight_cells) {
    out += "With walls straight from section to section: " + at_least(asks_straight) + count(*r.straight_cells, "cell") + ".";
  } else {
    out += "With walls straight from section to section: not counted" + (r.why_not.empty() ? "" : " (" + r.why_not + ")") + ".";
  }
  if (r.measure_at && cavity) {
    out += " Measure one more section at " + std::string(axis_name(cavity->sections.across)) + " " + mm_text(*r.measure_at) + ": " +
           (r.least ? "if walls run straight there, " + count(r.decided_there, "cell") + " more than counted now."
                    : count(r.decided_there, "cell hangs", "cells hang") + " on it.");
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

std::string limits_part(const plan::Plan& plan, const plan::CavityPlan& cavity) {
  if (!cavity.limits) return {};
  std::string out = element("h3", "What limits it");
  out += html_table(limits_table(*cavity.limits, plan.per_cell), {}, "Least change for each cell first. Each change was tried by itself and held what it gives");
  return out + html_list(limits_lines(*cavity.limits));
}

std::string box_part(const plan::Plan& plan, const plan::BoxPlan& box) {
  std::string out = element("h3", box_sentence(box));
  if (const std::optional<Drawing> stack = stack_drawing(box.box)) out += figure(*stack, false);
  if (!box.sheet.parts.empty()) {
    out += element("p", "Made as " + to_text(box.sheet.construction) + " (" + box.sheet.why + "). Lid: " + to_text(box.sheet.lid) + ".");
  }
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
  out += element("p", cavity_sentence(cavity) + ".");
  std::vector<std::string> rows;
  for (std::size_t i = 0; i < cavity.packing.shortfalls.size() && i < 8; ++i) rows.push_back(shortfall_sentence(cavity.packing.shortfalls[i]));
  if (!rows.empty()) out += element("h3", "What one more would need") + html_list(rows);
  out += limits_part(plan, cavity) + readings_part(measured, cavity.readings);
  for (const std::string& fitting : cavity.packing.fittings_without_place) out += element("p", "No place was found for: " + fitting + ".", "cure");
  out += html_table(tightest_table(cavity), {2, 3, 4, 5, 6, 7}, "Tightest places, least in hand first (a measured point is good to give or take " +
                    (measured ? mm_text(measured->tape_error) : std::string("3")) + " mm)");
  const std::vector<std::string> fit = fit_lines(cavity);
  if (!fit.empty()) out += element("h3", "Will the cut box go in") + html_list(fit);
  out += html_table(blocks(cavity), {2, 5, 6, 7, 8, 9, 10}, has_turned_box(cavity)
                    ? "Blocks, with end plates and room for the straps, mm along and across the box from its front left corner, outside"
                    : "Blocks, with end plates and room for the straps, mm");
  if (has_turned_box(cavity)) {
    out += html_table(turned_corners(cavity), {1, 2}, "Corners in the car, counter-clockwise seen from above, to set the turned box out, mm");
  }
  for (const plan::BoxPlan& box : cavity.boxes) out += box_part(plan, box);
  out += way_in_part(measured, cavity) + html_list(cavity.packing.notes);
  if (measured) {
    for (const Drawing& view : cavity_views(job, *measured, cavity)) out += figure(view, true);
  }
  return out + "</section>\n";
}

}  // namespace cellstow::report
