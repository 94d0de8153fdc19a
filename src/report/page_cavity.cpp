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

Table bracket_table(const restraint::Mounting& mounting) {
  Table out{{"mark", "to fixing", "from wall", "sheet mm", "fold", "foot × leg × width mm", "gussets", "plate behind mm", "hole mm", "bolt's head", "kg"}, {}};
  for (const restraint::Bracket& b : mounting.brackets) {
    if (b.foot <= core::Length{}) continue;
    const std::string slot = b.slot == b.hole ? mm_text(b.hole) + " round" : mm_text(b.hole) + " × " + mm_text(b.slot) + (b.slot_out ? ", off the wall" : ", along the fold");
    const std::string wider = b.foot_beyond > core::Length{} ? ", foot " + mm_text(b.foot_beyond) + " wider to the " + (b.beyond_is_right ? "right" : "left") : "";
    out.rows.push_back({b.mark, b.fixing, b.wall, mm_text(b.thickness), b.fold, mm_text(b.foot) + " × " + mm_text(b.leg) + " × " + mm_text(b.width) + wider,
                        b.gussets ? "2 of " + mm_text(b.gusset_out) + " × " + mm_text(b.gusset_up) : "none", b.doubler > core::Length{} ? mm_text(b.doubler) : "none", slot, b.reach, fixed(b.mass.value(), 2)});
  }
  return out;
}

Table bolt_table(const restraint::Mounting& mounting) {
  Table out{{"fixing", "bolt", "stack mm", "thread in the nut mm", "length mm", "N m, as received", "N m, oiled", "locking"}, {}};
  for (const restraint::FixingBolt& b : mounting.bolts) {
    out.rows.push_back({b.fixing, b.thread + " " + b.strength_class, number(b.stack_mm), number(b.engagement_mm), b.length_mm > 0 ? number(b.length_mm) : "stud of the car",
                        fixed(b.torque_nm, 0), fixed(b.torque_oiled_nm, 0), b.locking});
  }
  return out;
}

Table loss_table(const restraint::Mounting& mounting) {
  Table out{{"if this one lets go", "worst of the others", "by", "used"}, {}};
  for (const restraint::Loss& loss : mounting.losses) {
    if (loss.holds_together) {
      out.rows.push_back({loss.fixing, loss.worst, loss.governs, percent(loss.use)});
    } else {
      out.rows.push_back({loss.fixing, "the others cannot hold the box", "", ""});
    }
  }
  return out;
}

Table hold_down_table(const restraint::HoldDownPlan& plan) {
  Table out{{"mark", "off", "bar mm", "length mm", "material", "from the cells' middle mm", "screw", "lift N", "worst case", "rises mm"}, {}};
  for (const restraint::HoldDown& b : plan.bars) {
    out.rows.push_back({b.mark, std::to_string(b.quantity), mm_text(b.width) + " × " + mm_text(b.thickness), mm_text(b.cut_length), b.material, mm_text(b.beside), b.screw,
                        fixed(b.lift.value(), 0), b.worst_case, mm_text(b.sag)});
  }
  return out;
}

/// The worst link of every part of the way from the cells to the car.
std::string load_path_part(const restraint::LoadPath& path) {
  if (path.weakest < 0) return {};
  Table out{{"part", "worst of it", "where", "value", "limit", "unit", "used"}, {}};
  std::vector<const restraint::Link*> worst;
  for (const restraint::Link& link : path.links) {
    const auto alike = std::find_if(worst.begin(), worst.end(), [&](const restraint::Link* one) { return one->part == link.part; });
    if (alike == worst.end()) {
      worst.push_back(&link);
    } else if (link.check.use > (*alike)->check.use) {
      *alike = &link;
    }
  }
  for (const restraint::Link* link : worst) {
    const ValueAndLimit text = value_and_limit(link->check);
    out.rows.push_back({link->part, link->check.name, link->check.where, text.value, text.limit, link->check.unit, text.use});
  }
  const restraint::Link& weakest = path.links[static_cast<std::size_t>(path.weakest)];
  return element("p", "Weakest link: " + weakest.part + ", " + weakest.check.name + " (" + weakest.check.where + "), " + percent(weakest.check.use) + " used. Every link with its sum: engineer.html.") +
         html_table(out, {3, 4, 6}, "From the cells to the car's own metal, the worst of every part; safety factors stand in the limits");
}

std::string holding_part(const plan::BoxPlan& box) {
  std::string out = load_path_part(box.load_path);
  out += html_table(hold_down_table(box.hold_downs), {1, 3, 5, 7, 9}, "Hold-down bars over the cell tops");
  const Table brackets = bracket_table(box.mounting);
  if (!brackets.rows.empty()) {
    out += "<div class=\"wide\">" + html_table(brackets, {3, 7, 10}, "Brackets, " + box.mounting.brackets.front().material + ", once folded, outside sizes, welded to the box") + "</div>\n";
  }
  out += html_table(bolt_table(box.mounting), {2, 3, 4, 5, 6}, "Bolts in the car's own fixings; torque give or take a third, car's metal behind permitting");
  return out + html_table(loss_table(box.mounting), {3}, "What if one lets go");
}

std::string box_part(const plan::Plan& plan, const plan::BoxPlan& box) {
  std::string out = element("h3", box_sentence(box));
  if (const std::optional<Drawing> stack = stack_drawing(box.box)) out += figure(*stack, false);
  if (!box.sheet.parts.empty()) {
    out += element("p", "Made as " + to_text(box.sheet.construction) + " (" + box.sheet.why + "). Lid: " + to_text(box.sheet.lid) + ".");
  }
  out += holding_part(box);
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
