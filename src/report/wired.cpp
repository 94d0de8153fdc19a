#include "report/wired.hpp"

#include <cmath>

#include "report/text.hpp"

namespace cellstow::report {

std::vector<const plan::BoxPlan*> boxes_of(const plan::Plan& plan) {
  std::vector<const plan::BoxPlan*> out;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) out.push_back(&box);
  }
  return out;
}

std::vector<const fabrication::SheetPart*> cut_from_sheet(const plan::BoxPlan& box) {
  std::vector<const fabrication::SheetPart*> parts;
  for (const fabrication::SheetPart& part : box.sheet.parts) parts.push_back(&part);
  for (const fabrication::SheetPart& part : box.holding) {
    if (part.kind == fabrication::PartKind::plate) parts.push_back(&part);
  }
  return parts;
}

Volts running_volts(const survey::Job& job, const wiring::Connection& link) {
  if (!job.cell.voltage) return {};
  const double nominal = job.cell.voltage->nominal.value();
  return {true, link.in_piece * nominal, link.in_string * nominal, link.in_string * job.cell.voltage->max.value()};
}

namespace {

using wiring::Connection;

const std::vector<std::string> link_head = {"link",        "from",       "to",          "what", "kind", "centre distance mm",
                                            "removable", "volts of the piece up to here", "volts of the string up to here", "box", "mind"};

std::string post_text(int cell, wiring::Pole pole) { return sign(pole) + std::string(" of cell ") + std::to_string(cell); }

std::string cells_text(const std::vector<int>& cells) {
  std::string out;
  for (const int cell : cells) out += (out.empty() ? "" : ", ") + std::to_string(cell);
  return out;
}

std::string to_mind(const Connection& link) {
  std::string out;
  const auto say = [&](const std::string& text) { out += (out.empty() ? "" : "; ") + text; };
  if (link.removable) say(link.join == wiring::Join::cable ? "joined last, opened first" : "fitted last, out first");
  if (!link.passes_post.empty()) say("passes the other post of cell " + cells_text(link.passes_post) + ": sleeve");
  if (!link.over_vent.empty()) say("lay it beside the vent of cell " + cells_text(link.over_vent));
  return out;
}

std::vector<std::string> link_row(const survey::Job& job, const plan::Plan& plan, const std::vector<const plan::BoxPlan*>& boxes, const Connection& link) {
  const wiring::Wiring& wiring = *plan.wiring;
  const auto box_of = [&](int cell) { return boxes[static_cast<std::size_t>(wiring.cells[static_cast<std::size_t>(cell) - 1].box)]->box.mark; };
  const Volts volts = running_volts(job, link);
  const std::string from = box_of(link.from), to = box_of(link.to);
  const bool shown = volts.known && !link.parallel;
  return {std::to_string(link.number),
          post_text(link.from, link.from_pole),
          post_text(link.to, link.to_pole),
          link.join == wiring::Join::cable ? "cable between boxes" : link.join == wiring::Join::jumper ? "cable jumper" : "link",
          link.kind < 0 ? "" : wiring.kinds[static_cast<std::size_t>(link.kind)].letter,
          link.join == wiring::Join::cable ? "" : number(link.centre_mm),
          link.removable ? "yes" : "no",
          shown ? fixed(volts.piece_nominal) : "",
          shown ? fixed(volts.string_nominal) : "",
          from == to ? from : from + " to " + to,
          to_mind(link)};
}

}  // namespace

Table link_list(const survey::Job& job, const plan::Plan& plan) {
  const std::vector<const plan::BoxPlan*> boxes = boxes_of(plan);
  Table out{link_head, {}};
  for (const Connection& link : plan.wiring->links) out.rows.push_back(link_row(job, plan, boxes, link));
  return out;
}

Table link_list(const survey::Job& job, const plan::Plan& plan, int box) {
  const std::vector<const plan::BoxPlan*> boxes = boxes_of(plan);
  Table out{link_head, {}};
  for (const Connection& link : plan.wiring->links) {
    if (plan.wiring->cells[static_cast<std::size_t>(link.from) - 1].box == box) out.rows.push_back(link_row(job, plan, boxes, link));
  }
  return out;
}

Table link_kinds(const plan::Plan& plan) {
  Table out{{"kind", "centre distance mm", "must give mm", "off", "of these removable"}, {}};
  for (const wiring::LinkKind& kind : plan.wiring->kinds) {
    out.rows.push_back({kind.letter, std::to_string(kind.centre_mm), std::to_string(kind.slack_mm), std::to_string(kind.count),
                        kind.removable > 0 ? std::to_string(kind.removable) : "none"});
  }
  return out;
}

}  // namespace cellstow::report
