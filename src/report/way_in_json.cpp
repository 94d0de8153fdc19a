#include "report/way_in_json.hpp"

namespace cellstow::report {
namespace {

using namespace way_in;

const char* word(Manner manner) {
  switch (manner) {
    case Manner::upright: return "upright";
    case Manner::turned: return "turned";
    case Manner::tilted: return "tilted";
    case Manner::blocked: return "blocked";
  }
  return "";
}

const char* word(Room room) {
  switch (room) {
    case Room::free: return "free";
    case Room::after_taking_out: return "after_taking_out";
    case Room::blocked: return "blocked";
    case Room::not_decided: return "not_decided";
  }
  return "";
}

const char* word(Way way) {
  switch (way) {
    case Way::whole: return "whole";
    case Way::whole_tilted: return "whole_tilted";
    case Way::empty_then_cells: return "empty_then_cells";
    case Way::cells_only: return "cells_only";
    case Way::none: return "none";
  }
  return "";
}

Json edges_to_json(const std::vector<Blocking>& edges) {
  Json out = Json::array();
  for (const Blocking& edge : edges) {
    out.push_back({{"edge", edge.edge},
                   {"by_mm", rounded(edge.by_um / 1000, 3)},
                   {"at_mm", Json::array({rounded(edge.contact.a / 1000, 3), rounded(edge.contact.b / 1000, 3)})}});
  }
  return out;
}

Json pass_to_json(const Pass& pass) {
  return {{"opening", pass.opening},
          {"manner", word(pass.manner)},
          {"turn_deg", rounded(pass.attitude.turn_deg, 3)},
          {"tilt_deg", rounded(pass.attitude.tilt_deg, 3)},
          {"tilt_line_deg", rounded(pass.attitude.line_deg, 3)},
          {"passes_from_deg", rounded(pass.from_deg, 2)},
          {"passes_to_deg", rounded(pass.to_deg, 2)},
          {"gap_mm", rounded(pass.gap_mm, 3)},
          {"shift_mm", Json::array({rounded(pass.shift.a / 1000, 3), rounded(pass.shift.b / 1000, 3)})},
          {"straight", pass.straight},
          {"blocked_by", edges_to_json(pass.blocking)},
          {"upright_blocked_by", edges_to_json(pass.upright_blocking)}};
}

Json passes_to_json(const std::vector<Pass>& passes) {
  Json out = Json::array();
  for (const Pass& pass : passes) out.push_back(pass_to_json(pass));
  return out;
}

Json passage_to_json(const Passage& passage) {
  Json things = Json::array();
  for (const InTheWay& it : passage.in_the_way) {
    things.push_back({{"what", it.what}, {"comes_out", it.comes_out}, {"by_mm", rounded(it.by_mm, 3)}});
  }
  return {{"room", word(passage.room)},
          {"in_the_way", things},
          {"gap_mm", passage.gap_mm ? rounded(*passage.gap_mm, 3) : Json(nullptr)},
          {"gap_to", passage.gap_to},
          {"given_away_mm", rounded(passage.given_away_mm, 3)}};
}

Json body_to_json(const std::optional<BodyWay>& body) {
  if (!body) return nullptr;
  return {{"what", body->what},
          {"mass_kg", rounded(body->mass_kg, 3)},
          {"openings", passes_to_json(body->passes)},
          {"to_its_place", body->passes_openings() ? passage_to_json(body->passage) : Json(nullptr)}};
}

Json under_to_json(const std::vector<UnderRoof>& cells) {
  Json out = Json::array();
  for (const UnderRoof& cell : cells) {
    out.push_back({{"block", cell.block}, {"place", cell.place}, {"under", cell.what},
                   {"push_mm", rounded(cell.slide_mm, 3)}, {"towards", cell.towards}});
  }
  return out;
}

Json cells_to_json(const CellsIn& cells) {
  if (!cells.looked_at) return nullptr;
  return {{"openings", passes_to_json(cells.passes)},
          {"from_above", cells.from_above},
          {"pushed_first", under_to_json(cells.pushed)},
          {"cannot", under_to_json(cells.cannot)},
          {"take_out", cells.take_out}};
}

Json lid_to_json(const LiftOut& lid) {
  if (!lid.looked_at) return nullptr;
  return {{"ok", lid.ok()},
          {"room_mm", lid.room_mm ? rounded(*lid.room_mm, 3) : Json(nullptr)},
          {"needed_mm", rounded(lid.needed_mm, 3)},
          {"limited_by", lid.limited_by},
          {"take_out", lid.take_out}};
}

Json cells_out_to_json(const CellsOut& out) {
  if (!out.looked_at) return nullptr;
  return {{"can", out.can},
          {"cannot", under_to_json(out.cannot)},
          {"needed_mm", rounded(out.needed_mm, 3)},
          {"least_room_mm", rounded(out.least_room_mm, 3)}};
}

Json box_way_to_json(const BoxWay& way) {
  return {{"box", way.mark},
          {"way", word(way.way)},
          {"decided", way.decided},
          {"whole", body_to_json(way.whole)},
          {"empty", body_to_json(way.empty)},
          {"cells", cells_to_json(way.cells)},
          {"lid_out", lid_to_json(way.lid)},
          {"cells_out", cells_out_to_json(way.cells_out)},
          {"sentences", way.sentences},
          {"cautions", way.cautions},
          {"notes", way.notes}};
}

}  // namespace

Json way_in_to_json(const plan::CavityPlan& cavity) {
  if (cavity.way_in.empty()) return Json::object();
  Json boxes = Json::array();
  for (const BoxWay& way : cavity.way_in) boxes.push_back(box_way_to_json(way));
  return {{"boxes", boxes}};
}

}  // namespace cellstow::report
