#include "report/wiring_json.hpp"

#include "report/wired.hpp"

namespace cellstow::report {
namespace {

using wiring::Connection;
using wiring::WiredCell;
using wiring::Wiring;

Json spot_in_car(const packing::BoxLayout& layout, const wiring::Spot& at) {
  const core::InPlan car = core::to_car(layout.heading, {at.u, at.v});
  return Json::array({rounded(car.a, 4), rounded(car.b, 4), rounded(at.z, 4)});
}

Json cell_to_json(const std::vector<const plan::BoxPlan*>& boxes, const WiredCell& cell) {
  const box::Box& box = boxes[static_cast<std::size_t>(cell.box)]->box;
  const packing::PlacedCell& placed = box.layout.cells[static_cast<std::size_t>(cell.cell)];
  return {{"number", cell.number},
          {"group", cell.group},
          {"box", box.mark},
          {"block", placed.block},
          {"place", placed.place},
          {"posts", word(cell.setting.facing)},
          {"turned", cell.setting.turned},
          {"plus_mm", spot_in_car(box.layout, cell.plus)},
          {"minus_mm", spot_in_car(box.layout, cell.minus)}};
}

Json link_to_json(const survey::Job& job, const Wiring& wiring, const Connection& link) {
  Json out = {{"number", link.number},
              {"join", word(link.join)},
              {"from", {{"cell", link.from}, {"pole", sign(link.from_pole)}}},
              {"to", {{"cell", link.to}, {"pole", sign(link.to_pole)}}},
              {"kind", link.kind < 0 ? Json(nullptr) : Json(wiring.kinds[static_cast<std::size_t>(link.kind)].letter)},
              {"centre_mm", link.join == wiring::Join::cable ? Json(nullptr) : rounded(link.centre_mm, 3)},
              {"removable", link.removable},
              {"piece", link.piece}};
  const Volts volts = running_volts(job, link);
  out["piece_nominal_v"] = volts.known ? rounded(volts.piece_nominal, 3) : Json(nullptr);
  out["string_nominal_v"] = volts.known ? rounded(volts.string_nominal, 3) : Json(nullptr);
  out["string_max_v"] = volts.known ? rounded(volts.string_max, 3) : Json(nullptr);
  out["passes_post_of"] = link.passes_post;
  out["over_vent_of"] = link.over_vent;
  return out;
}

Json kind_to_json(const wiring::LinkKind& kind) {
  return {{"kind", kind.letter}, {"centre_mm", kind.centre_mm}, {"slack_mm", kind.slack_mm}, {"count", kind.count}, {"removable", kind.removable}};
}

Json piece_to_json(const std::vector<const plan::BoxPlan*>& boxes, const wiring::Piece& piece) {
  return {{"box", boxes[static_cast<std::size_t>(piece.box)]->box.mark},
          {"first_group", piece.first_group},
          {"last_group", piece.last_group},
          {"max_v", piece.max_v > 0 ? rounded(piece.max_v, 3) : Json(nullptr)}};
}

Json box_to_json(const wiring::BoxWiring& box) {
  Json out = {{"box", box.mark}, {"first_cell", box.first_cell}, {"last_cell", box.last_cell}, {"jumpers", box.jumpers},
              {"max_v", box.max_v > 0 ? rounded(box.max_v, 3) : Json(nullptr)}};
  out["worst_pair"] = nullptr;
  if (!box.worst_pair) return out;
  const wiring::LivePair& pair = *box.worst_pair;
  out["worst_pair"] = {{"from", {{"cell", pair.cell_a}, {"pole", sign(pair.pole_a)}}},
                       {"to", {{"cell", pair.cell_b}, {"pole", sign(pair.pole_b)}}},
                       {"volts_v", rounded(pair.volts, 3)},
                       {"centre_mm", rounded(pair.centre_mm, 3)},
                       {"creepage_mm", pair.creepage_mm > 0 ? rounded(pair.creepage_mm, 3) : Json(nullptr)}};
  return out;
}

Json cabling_to_json(const wiring::Cabling& cabling) {
  const wiring::FuseChoice& fuse = *cabling.fuse;
  const wiring::CableChoice& cable = *cabling.cable;
  const auto maybe = [](const std::optional<double>& value) { return value ? rounded(*value, 3) : Json(nullptr); };
  return {{"fuse", {{"rating_a", fuse.rating_a}, {"class_v", fuse.class_v}, {"short_circuit_a", maybe(fuse.short_circuit_a)}}},
          {"cable", {{"area_mm2", cable.area_mm2}, {"carries_a", cable.carries_a}, {"outside_mm", cable.outside_mm}, {"bend_radius_mm", cable.bend_radius_mm},
                     {"gland", cable.gland}, {"length_m", maybe(cable.length_m)}, {"drop_v", maybe(cable.drop_v)}, {"loss_w", maybe(cable.loss_w)}}},
          {"notes", cabling.notes}};
}

Json exit_to_json(const std::vector<const plan::BoxPlan*>& boxes, const wiring::BoxExit& exit) {
  const box::Box& box = boxes[static_cast<std::size_t>(exit.box)]->box;
  Json out = {{"box", box.mark}, {"cell", exit.cell}, {"pole", sign(exit.pole)}, {"by_fuse", exit.by_fuse}, {"why_not", exit.why_not}, {"way", nullptr}};
  if (!exit.way) return out;
  wiring::Spot gland = exit.way->gland;
  gland.z = exit.z_mm;
  out["way"] = {{"wall", exit.wall}, {"from_end", exit.from_corner}, {"along_mm", rounded(exit.along_mm, 1)}, {"gland_mm", spot_in_car(box.layout, gland)},
                {"turn_deg", rounded(exit.way->turn_deg, 1)}, {"length_mm", rounded(exit.way->length_mm, 1)}, {"over_vents", exit.way->over_vents}};
  return out;
}

}  // namespace

Json links_to_json(const survey::Job& job, const plan::Plan& plan) {
  const Wiring& wiring = *plan.wiring;
  const std::vector<const plan::BoxPlan*> boxes = boxes_of(plan);
  Json out = {{"jumpers", wiring.jumpers}, {"fewest_proven", wiring.fewest_proven}};
  for (const char* key : {"order", "links", "kinds", "pieces", "boxes"}) out[key] = Json::array();
  for (const WiredCell& cell : wiring.cells) out["order"].push_back(cell_to_json(boxes, cell));
  for (const Connection& link : wiring.links) out["links"].push_back(link_to_json(job, wiring, link));
  for (const wiring::LinkKind& kind : wiring.kinds) out["kinds"].push_back(kind_to_json(kind));
  for (const wiring::Piece& piece : wiring.pieces) out["pieces"].push_back(piece_to_json(boxes, piece));
  for (const wiring::BoxWiring& box : wiring.boxes) out["boxes"].push_back(box_to_json(box));
  out["link_cautions"] = wiring.cautions;
  out["link_notes"] = wiring.notes;
  out["cabling"] = plan.cabling ? cabling_to_json(*plan.cabling) : Json(nullptr);
  out["exits"] = Json::array();
  for (std::size_t i = 0; plan.exits && i < plan.exits->exits.size(); ++i) out["exits"].push_back(exit_to_json(boxes, plan.exits->exits[i]));
  return out;
}

}  // namespace cellstow::report
