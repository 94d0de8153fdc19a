#include "report/html.hpp"
#include "report/link_view.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"
#include "report/wired.hpp"

namespace cellstow::report {
namespace {

/// What must be said before anyone reaches in. Voltage limit: UN R100, ISO 6469-3; the rest common practice.
const std::vector<std::string> before_work = {
    "Above 60 V DC a string can kill, and it cannot be switched off at the cells. Local electrical codes and whoever is licensed under them come before this sheet.",
    "Removable links and cables between boxes stay out while hands are in the box: they are fitted last, one after the other, and come out first.",
    "One link at a time: caps on every post but the two being worked on, insulated tools, gloves for the voltage, one hand, no rings, no watch, someone near who knows what to do.",
    "Before each link, look at the signs: plus to minus, as numbered. After each, measure: the meter must show the volts listed, give or take a volt; if it does not, stop.",
    "No cable and no link over a vent, none bare past a post of another voltage. Torque by the cell maker's sheet, a mark on every bolt done.",
};

std::string pair_sentence(const wiring::BoxWiring& box) {
  if (!box.worst_pair) return {};
  const wiring::LivePair& pair = *box.worst_pair;
  std::string out = "Most between neighbours in box " + box.mark + ": " + number(pair.volts) + " V, between " + sign(pair.pole_a) + " of cell " +
                    std::to_string(pair.cell_a) + " and " + sign(pair.pole_b) + " of cell " + std::to_string(pair.cell_b) + ", " + number(pair.centre_mm) + " mm apart between centres.";
  if (pair.creepage_mm > 0) out += " Creepage along a surface: at least " + number(pair.creepage_mm) + " mm (IEC 60664-1, pollution degree 3, material group III), twice that for reinforced insulation; an old shop rule asks about 1 mm a volt between bare parts.";
  return out;
}

Table piece_table(const plan::Plan& plan) {
  Table out{{"piece", "box", "cells from", "to", "highest volts"}, {}};
  const std::vector<const plan::BoxPlan*> boxes = boxes_of(plan);
  const int parallel = std::max(1, plan.totals.parallel);
  for (const wiring::Piece& piece : plan.wiring->pieces) {
    out.rows.push_back({std::to_string(out.rows.size() + 1), boxes[static_cast<std::size_t>(piece.box)]->box.mark, std::to_string((piece.first_group - 1) * parallel + 1),
                        std::to_string(piece.last_group * parallel), piece.max_v > 0 ? fixed(piece.max_v) : "not known"});
  }
  return out;
}

Table exit_table(const plan::Plan& plan) {
  Table out{{"box", "from", "out through", "gland centre along the wall, outside, mm", "over the ground, mm", "cable in the box, mm", "bend", "mind"}, {}};
  const std::vector<const plan::BoxPlan*> boxes = boxes_of(plan);
  for (const wiring::BoxExit& exit : plan.exits->exits) {
    const std::string from = sign(exit.pole) + std::string(" of cell ") + std::to_string(exit.cell) + (exit.by_fuse ? ", by the fuse" : "");
    const std::string mark = boxes[static_cast<std::size_t>(exit.box)]->box.mark;
    if (!exit.way) {
      out.rows.push_back({mark, from, "", "", "", "", "", exit.why_not});
      continue;
    }
    out.rows.push_back({mark, from, exit.wall, number(exit.along_mm, 0) + " from its " + exit.from_corner + " end", number(exit.z_mm, 0), number(exit.way->length_mm, 0),
                        exit.way->turn_deg > 0 ? number(exit.way->turn_deg, 0) + "°" : "none", exit.way->over_vents > 0 ? "passes over a vent: lay it to the side" : ""});
  }
  return out;
}

std::string cable_part(const plan::Plan& plan) {
  if (!plan.cabling) return {};
  std::string out = element("h3", "Fuse, cable, ways out") + html_list(plan.cabling->cautions, "cautions") + html_list(plan.cabling->notes);
  if (!plan.exits) return out;
  out += "<div class=\"wide\">" + html_table(exit_table(plan), {3, 4, 5}, "Cables out of the boxes: a proposal, the car outside the box was not looked at") + "</div>\n";
  return out + html_list(plan.exits->notes);
}

}  // namespace

std::vector<std::string> link_cautions() { return before_work; }

std::string page_links(const survey::Job& job, const plan::Plan& plan) {
  if (!plan.wiring) return {};
  const wiring::Wiring& wiring = *plan.wiring;
  std::string out = "<section class=\"part\">\n<h2>Linking the cells</h2>\n" + html_list(before_work, "cautions") + html_list(wiring.cautions, "cautions");
  out += html_list(wiring.notes);
  out += "<div class=\"side-by-side\">" + html_table(link_kinds(plan), {1, 2, 3}, "Links to make, centre distance as built") +
         html_table(piece_table(plan), {2, 3, 4}, "Pieces while the removable links are out") + "</div>\n";
  std::vector<std::string> pairs;
  for (const wiring::BoxWiring& box : wiring.boxes) {
    if (box.worst_pair) pairs.push_back(pair_sentence(box));
  }
  out += html_list(pairs);
  for (const int box : wiring.box_order) {
    for (const Drawing& view : link_drawings(plan, box)) out += figure(view, true);
    const Table list = link_list(job, plan, box);
    out += "<div class=\"wide\">" + html_table(columns(list, {0, 1, 2, 3, 4, 5, 6, 7, 8, 10}), {0, 5, 7, 8}, "Link-up sheet, box " + boxes_of(plan)[static_cast<std::size_t>(box)]->box.mark + ", in order (nominal volts)") + "</div>\n";
  }
  return out + cable_part(plan) + "</section>\n";
}

}  // namespace cellstow::report
