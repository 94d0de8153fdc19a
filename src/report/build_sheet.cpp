#include <algorithm>
#include <cmath>
#include <map>

#include "report/bench.hpp"
#include "report/bench_parts.hpp"
#include "report/html.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"
#include "report/wired.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

using wiring::Connection;

std::string cell(const std::string& inner, bool number = false) { return std::string(number ? "<td class=\"n\">" : "<td>") + inner + "</td>"; }

std::string head(const std::vector<std::string>& names) {
  std::string out = "<table>\n<thead><tr>";
  for (const std::string& name : names) out += "<th>" + escape_markup(name) + "</th>";
  return out + "</tr></thead>\n<tbody>\n";
}

/// Tables stand in two halves side by side, read down the left one first: the sheet is two sides of one paper.
std::string in_halves(const std::string& column_heads, const std::vector<std::string>& rows) {
  const std::size_t first = (rows.size() + 1) / 2;
  const auto table = [&](std::size_t from, std::size_t to) {
    std::string out = column_heads;
    for (std::size_t i = from; i < to; ++i) out += rows[i];
    return out + "</tbody></table>\n";
  };
  if (first == rows.size()) return table(0, first);
  return "<div class=\"halves\">\n" + table(0, first) + table(first, rows.size()) + "</div>\n";
}

/// For links into cell posts. Common practice, no source: the maker's figure comes first.
std::string post_torque(const survey::Job& job) {
  const std::string thread = job.cell.terminal_thread.value_or("");
  if (thread == "M6") return "M6 posts: about 5 N·m is usual (common practice)";
  if (thread == "M8") return "M8 posts: about 9 to 10 N·m is usual (common practice)";
  return thread.empty() ? "thread of the posts not known" : thread + " posts: no usual figure listed";
}

std::string bolt_words(const std::string& thread) {
  const double torque = dry_torque_nm(thread);
  return torque > 0 ? thread + ", " + number(torque, 0) + " N·m" : thread;
}

std::string facts(const plan::Plan& plan, const plan::BoxPlan& box, const wiring::BoxWiring* wired) {
  const auto fact = [](const std::string& value, const std::string& what) { return "<div>" + element("b", value) + element("span", what) + "</div>\n"; };
  std::string out = "<div class=\"facts\">\n" + fact(std::to_string(box.box.layout.cells.size()), "cells");
  if (wired && wired->max_v > 0) out += fact(number(wired->max_v) + " V", "highest, this box by itself");
  if (plan.string) out += fact(number(plan.string->max_v) + " V", "highest, whole string");
  out += fact(kg_text(box.box.mass_full) + " kg", "full");
  return out + fact(kg_text(box.box.mass_empty) + " kg", "empty, with lid") + "</div>\n";
}

/// Where the two cables go through the wall.
std::string gland_steps(const plan::Plan& plan, int index) {
  std::string out;
  for (std::size_t i = 0; plan.exits && i < plan.exits->exits.size(); ++i) {
    const wiring::BoxExit& exit = plan.exits->exits[i];
    if (exit.box != index) continue;
    const std::string from = "Cable from " + std::string(sign(exit.pole)) + " of cell " + std::to_string(exit.cell) + (exit.by_fuse ? " by the fuse" : "") + ": ";
    if (!exit.way) {
      out += step(from + "place for the gland to be settled (" + exit.why_not + ")");
      continue;
    }
    out += step(from + "gland " + plan.cabling->cable->gland + " in the " + exit.wall + ", centre " + number(exit.along_mm, 0) + " mm from its " + exit.from_corner + " end, outside, " +
                number(exit.z_mm - boxes_of(plan)[static_cast<std::size_t>(index)]->box.layout.z_bottom.mm(), 0) + " mm over the underside of the floor. Try the cable before drilling.");
  }
  return out;
}

std::string box_steps(const survey::Job& job, const plan::Plan& plan, const plan::BoxPlan& box, int index) {
  std::string out = "<h2>1. The box</h2>\n";
  out += step("Inside measured at floor and at the mouth. Drawn: " + mm_text(box.box.inside[0]) + " × " + mm_text(box.box.inside[1]) + " × " + mm_text(box.box.inside[2]) + " mm between walls, floor, lid");
  out += std::string("<p class=\"under\">measured: ") + blank + " × " + blank + " × " + blank + " mm</p>\n";
  out += step("Edges broken, weld beads inside dressed, no swarf; the box tried in the car with brackets on.");
  if (job.rules.liner.um() > 0) out += step("Liner in, " + mm_text(job.rules.liner) + " mm, floor and walls, no bare metal towards a cell.");
  return out + gland_steps(plan, index) + step("Gland holes, drain and breather made and free.");
}

std::string cell_steps(const plan::Plan& plan, const plan::BoxPlan& box, int index) {
  std::string out = "<h2>2. Cells in</h2>\n";
  out += step("Caps on all posts. Every cell measured and written down before it goes in. A cell that stands out from the rest by more than 0.02 V: stop and ask.");
  const std::string columns = head({"no.", "block, place", "turned", "volts", "thick mm", "by"});
  std::vector<std::string> rows;
  const auto row = [&](const std::string& no, const packing::PlacedCell& placed, const std::string& way) {
    rows.push_back("<tr>" + cell(no, true) + cell(std::to_string(placed.block) + ", " + std::to_string(placed.place)) + cell(way) + cell("") + cell("") + cell("") + "</tr>\n");
  };
  if (!plan.wiring) {
    for (const packing::PlacedCell& placed : box.box.layout.cells) row("", placed, "");
    return out + in_halves(columns, rows);
  }
  for (const wiring::WiredCell& wired : plan.wiring->cells) {
    if (wired.box != index) continue;
    const packing::PlacedCell& placed = box.box.layout.cells[static_cast<std::size_t>(wired.cell)];
    const bool rising = !wired.setting.turned;
    std::string side = rising ? "up" : "down";
    const bool in_u = (wired.runs == packing::Run::u) == (placed.stance == survey::Stance::flat);
    if (placed.stance != survey::Stance::on_edge) side = in_u ? (rising ? "rear" : "front") : (rising ? "right" : "left");
    row(std::to_string(wired.number), placed, "+ " + side);
  }
  return out + in_halves(columns, rows);
}

std::string block_steps(const survey::Job& job, const plan::BoxPlan& box) {
  std::string out = "<h2>3. Blocks and straps</h2>\n" + head({"block", "cells", "over end plates mm", "measured", "strap", "bolts, torque dry", "done"});
  for (const packing::Block& block : box.box.layout.blocks) {
    const core::Length along = block.runs == packing::Run::u ? block.body.high.x - block.body.low.x : block.body.high.y - block.body.low.y;
    std::string marks, bolts;
    for (const restraint::Strap& strap : box.straps.straps) {
      if (strap.block != block.id) continue;
      marks += (marks.empty() ? "" : ", ") + strap.mark;
      bolts = bolt_words(strap.bolt);
    }
    out += "<tr>" + cell(std::to_string(block.id), true) + cell(std::to_string(block.cells) + " " + escape_markup(spoken(block.stance))) +
           cell(mm_text(along - job.rules.strap_space * 2), true) + cell("") + cell(escape_markup(marks)) + cell(escape_markup(bolts)) + cell(tick) + "</tr>\n";
  }
  out += "</tbody></table>\n";
  if (job.cell.clamp_force) {
    out += step("Clamped by the cell maker's sheet: " + number(job.cell.clamp_force->min.value(), 0) + " to " + number(job.cell.clamp_force->max.value(), 0) + " N on a block.");
  }
  return out;
}

std::string link_row(const survey::Job& job, const plan::Plan& plan, const Connection& link) {
  const Volts volts = running_volts(job, link);
  const std::string kind = link.kind >= 0 ? plan.wiring->kinds[static_cast<std::size_t>(link.kind)].letter : link.join == wiring::Join::jumper ? "cable" : "cable out";
  std::string expected = volts.known && !link.parallel ? fixed(link.removable ? volts.string_nominal : volts.piece_nominal) : "";
  return "<tr>" + cell(tick) + cell(std::to_string(link.number), true) +
         cell(sign(link.from_pole) + std::string(" of ") + std::to_string(link.from)) + cell(sign(link.to_pole) + std::string(" of ") + std::to_string(link.to)) +
         cell(escape_markup(kind)) + cell(expected, true) + cell("") + cell("") + cell("") + "</tr>\n";
}

std::string link_steps(const survey::Job& job, const plan::Plan& plan, int index) {
  if (!plan.wiring) return {};
  std::string out = "<h2 class=\"over\">4. Links, in this order</h2>\n<div class=\"stop\">" + html_list(link_cautions()) + "</div>\n";
  out += "<p>" + escape_markup(post_torque(job)) + ". The cell maker's figure: " + blank + " N·m</p>\n";
  out += element("p", "Volts: from the negative post of the piece's first cell to the post under \"from\", cells at nominal.");
  const std::string columns = head({"", "link", "from", "to", "kind", "about V", "read V", "N·m", "by"});
  std::vector<std::string> rows, last;
  for (const Connection& link : plan.wiring->links) {
    if (plan.wiring->cells[static_cast<std::size_t>(link.from) - 1].box != index) continue;
    (link.removable ? last : rows).push_back(link_row(job, plan, link));
  }
  out += in_halves(columns, rows);
  if (last.empty()) return out + "<h2>5. Removable links: none in this box</h2>\n";
  out += "<h2>5. Last of all: the removable ones</h2>\n";
  return out + element("p", "Only when everything else is done, covered and looked over by a second person. Volts from here on: of the whole string up to that cell.") +
         in_halves(columns, last);
}

std::string last_steps(const plan::Plan& plan, const plan::BoxPlan& box) {
  std::string out = "<h2>6. Before the lid goes on, and after</h2>\n";
  if (plan.string) {
    const double volts = plan.string->max_v;
    out += step("Insulation, string to box, by the tester's instructions: at least " + number(volts * 0.1) + " kΩ (100 Ω a volt of the string), " + number(volts * 0.5) +
                " kΩ wanted (500 Ω a volt). UN R100, ISO 6469 (from memory)");
    out += std::string("<p class=\"under\">measured: + to box ") + blank + " kΩ, - to box " + blank + " kΩ</p>\n";
  }
  out += step("Every bolt marked. Nothing left in the box: tools counted. Photo taken. Gasket and lid on, label on the lid.");
  out += step_to_fill("Weighed: " + kg_text(box.box.mass_full) + " kg full by the plan; measured", "kg");
  out += "<h2>7. Into the car</h2>\n";
  std::vector<std::string> rows;
  std::map<std::string, std::string> locking;
  for (const restraint::FixingBolt& bolt : box.mounting.bolts) {
    const std::string what = bolt.length_mm > 0 ? bolt.thread + " × " + number(bolt.length_mm) + ", " + bolt.strength_class : "nut " + bolt.thread + ", car's stud";
    rows.push_back("<tr>" + cell(escape_markup(bolt.fixing)) + cell(escape_markup(what)) + cell(fixed(bolt.torque_nm, 0), true) + cell("") + cell("") + "</tr>\n");
    std::string& with = locking[bolt.locking];
    with += (with.empty() ? "" : ", ") + bolt.fixing;
  }
  if (!rows.empty()) out += in_halves(head({"fixing", "bolt", "N·m dry", "N·m set", "by"}), rows);
  std::string locked;
  for (const auto& [how, fixings] : locking) locked += (locked.empty() ? "" : "; ") + fixings + ": " + how;
  if (!locked.empty()) out += element("p", locked + ".");
  out += step("Re-torque after 500 to 1000 km, then every year.");
  return out + std::string("<p>Done by ") + blank + " date " + blank + " &nbsp; Looked over by " + blank + " date " + blank + " (not an approval)</p>\n";
}

}  // namespace

double dry_torque_nm(const std::string& thread) {
  struct Row { const char* name; double diameter_mm, proof_n; };
  constexpr Row rows[] = {{"M5", 5, 8'230}, {"M6", 6, 11'600}, {"M8", 8, 21'200}, {"M10", 10, 33'700}, {"M12", 12, 48'900}};
  for (const Row& row : rows) {
    if (thread == row.name) return 0.2 * 0.75 * row.proof_n * row.diameter_mm / 1000;
  }
  return 0;
}

std::string build_sheet_name(const plan::BoxPlan& box) { return "build-sheet-" + file_part(box.box.mark) + ".html"; }

std::string build_sheet(const survey::Job& job, const plan::Plan& plan, std::size_t index) {
  const plan::BoxPlan& box = *boxes_of(plan)[index];
  const wiring::BoxWiring* wired = nullptr;
  if (plan.wiring) {
    for (const wiring::BoxWiring& each : plan.wiring->boxes) {
      if (each.mark == box.box.mark) wired = &each;
    }
  }
  const int number = static_cast<int>(index);
  std::string out = bench_head("Build sheet, box " + box.box.mark + ": " + title_of(job));
  out += element("h1", "Build sheet, box " + box.box.mark + " (" + box.box.name + ")") + element("p", title_of(job) + ". Cells: " + job.cell.name + ".");
  out += facts(plan, box, wired) + box_steps(job, plan, box, number) + cell_steps(plan, box, number) + block_steps(job, box);
  return out + link_steps(job, plan, number) + last_steps(plan, box) + "</body>\n</html>\n";
}

}  // namespace cellstow::report
