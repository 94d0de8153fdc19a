#include "plan_builder.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstring>

#include "cellstow/audit/audit.hpp"

namespace cellstow::audit::testing {
namespace {

Um um_of(const Json& number) { return std::llround(number.get<double>() * 1000.0); }

Json half_um(Um twice_um) { return static_cast<double>(twice_um) / 2000.0; }

Json body(std::array<Um, 3> low, std::array<Um, 3> size) {
  Json centre = Json::array(), sizes = Json::array();
  for (int axis = 0; axis < 3; ++axis) {
    centre.push_back(half_um(2 * low[axis] + size[axis]));
    sizes.push_back(mm(size[axis]));
  }
  return {{"centre_mm", centre}, {"size_mm", sizes}};
}

Json strict_rules() {
  return {{"body_clearance_mm", 10}, {"lid_clearance_mm", 8}, {"wall_mm", 3},       {"floor_mm", 4},
          {"lid_mm", 2},             {"liner_mm", 3},         {"corner_relief_mm", 0}, {"between_cells_mm", 1},
          {"end_plate_mm", 10},      {"strap_space_mm", 6},   {"between_blocks_mm", 5}, {"between_tiers_mm", 20},
          {"headroom_mm", 15},       {"block_cells", {{"min", 1}, {"max", 12}}}, {"box_outline", "stepped"},
          {"boxes_per_cavity", 1},   {"arrangement", "mixed"}, {"heading", "square"}, {"tiers", 1}};
}

Json empty_plan() {
  Json plan;
  plan["format"] = "cellstow-plan/1";
  plan["program"] = "cellstow test";
  plan["job"] = {{"cell", {{"name", "test cell"}, {"thickness_mm", 50}, {"width_mm", 150}, {"height_mm", 200},
                           {"terminal_top_mm", 210}, {"mass_kg", 3}, {"stances", {"upright"}}}},
                 {"rules", strict_rules()},
                 {"cavities", Json::array({{{"name", "tank well"}}})}};
  plan["totals"] = Json::object();
  plan["cavities"] = Json::array({{{"name", "tank well"}, {"boxes", Json::array()}}});
  return plan;
}

}  // namespace

std::set<std::string> broken(const Json& plan) {
  std::set<std::string> out;
  const auto report = audit_plan(plan.dump(), "test plan");
  if (!report) {
    FAIL(core::to_text(report.error()));
    return out;
  }
  for (const Violation& violation : report->violations) {
    out.insert(violation.rule.substr(0, violation.rule.find(' ')));
  }
  return out;
}

std::string told(const Json& plan) {
  const auto report = audit_plan(plan.dump(), "test plan");
  if (!report) return core::to_text(report.error());
  std::string out;
  for (const Violation& violation : report->violations) {
    out += violation.rule + " | " + violation.where + " | " + violation.detail + "\n";
  }
  return out;
}

Json points(const std::vector<Corner>& corners) {
  Json out = Json::array();
  for (const Corner& corner : corners) out.push_back({mm(corner[0]), mm(corner[1])});
  return out;
}

std::vector<Corner> rectangle(Um a0, Um b0, Um a1, Um b1) { return {{a0, b0}, {a1, b0}, {a1, b1}, {a0, b1}}; }

Json section(Um station, const std::vector<Corner>& outline, const std::vector<std::vector<Corner>>& holes) {
  Json out = {{"station_mm", mm(station)}, {"outline_mm", points(outline)}};
  out["holes_mm"] = Json::array();
  for (const auto& hole : holes) out["holes_mm"].push_back(points(hole));
  return out;
}

void set_sections(Json& plan, const char* across, const char* between, std::vector<Json> sections) {
  plan["job"]["cavities"][0]["sections"] = {{"across", across}, {"between", between}, {"at", sections}};
}

void straight_cavity(Json& plan, const char* across, Um sideways, Um below, Um above) {
  const Um x0 = box_x0 - sideways, x1 = box_x1 + sideways, y0 = box_y0 - sideways, y1 = box_y1 + sideways;
  const Um z0 = box_z0 - below, z1 = box_z1 + above;
  if (std::strcmp(across, "z") == 0) {
    set_sections(plan, "z", "common", {section(z0, rectangle(x0, y0, x1, y1)), section(z1, rectangle(x0, y0, x1, y1))});
  } else if (std::strcmp(across, "x") == 0) {
    set_sections(plan, "x", "common", {section(x0, rectangle(y0, z0, y1, z1)), section(x1, rectangle(y0, z0, y1, z1))});
  } else {
    set_sections(plan, "y", "common", {section(y0, rectangle(x0, z0, x1, z1)), section(y1, rectangle(x0, z0, x1, z1))});
  }
}

Json& rule(Json& plan, const char* key) { return plan["job"]["rules"][key]; }
Json& the_box(Json& plan) { return plan["cavities"][0]["boxes"][0]; }

void add_block(Json& plan, Json& box, const char* runs, const char* stance, std::array<Um, 3> low, int cells) {
  const Json& cell = plan["job"]["cell"];
  const Json& rules = plan["job"]["rules"];
  const Um thickness = um_of(cell["thickness_mm"]), width = um_of(cell["width_mm"]), height = um_of(cell["height_mm"]);
  const bool flat = std::strcmp(stance, "flat") == 0, on_edge = std::strcmp(stance, "on_edge") == 0;
  const Um along = flat ? width : thickness, across = flat || on_edge ? height : width;
  const Um up = flat ? thickness : on_edge ? width : height;
  const Um ends = um_of(rules["end_plate_mm"]) + um_of(rules["strap_space_mm"]);
  const Um pitch = along + um_of(rules["between_cells_mm"]);
  const bool u = std::strcmp(runs, "u") == 0;
  const Um length = cells * pitch - um_of(rules["between_cells_mm"]) + 2 * ends;
  const int id = static_cast<int>(box["blocks"].size()) + 1;
  Json block = body(low, {u ? length : across, u ? across : length, up});
  block.update({{"id", id}, {"cells", cells}, {"runs", runs}, {"stance", stance}});
  box["blocks"].push_back(block);
  for (int place = 1; place <= cells; ++place) {
    std::array<Um, 3> at = low;
    at[u ? 0 : 1] += ends + (place - 1) * pitch;
    Json one = body(at, {u ? along : across, u ? across : along, up});
    one.update({{"stance", stance}, {"block", id}, {"place", place}});
    box["cells"].push_back(one);
  }
}

void count_up(Json& plan) {
  int cells = 0, boxes = 0;
  for (Json& cavity : plan["cavities"]) {
    int here = 0;
    for (const Json& box : cavity["boxes"]) here += static_cast<int>(box["cells"].size());
    cavity["cells"] = cavity["most_cells"] = cavity["bound"] = here;
    cavity["proven"] = true;
    cells += here;
    boxes += static_cast<int>(cavity["boxes"].size());
  }
  plan["totals"]["cells"] = cells;
  plan["totals"]["boxes"] = boxes;
}

Json good_plan() {
  Json plan = empty_plan();
  straight_cavity(plan, "z", body_clearance, body_clearance, lid_clearance);
  Json box = {{"name", "box TW"}, {"heading_deg", 0}, {"outline_mm", points(rectangle(box_x0, box_y0, box_x1, box_y1))},
              {"z_mm", {mm(box_z0), mm(box_z1)}}, {"cells", Json::array()}, {"blocks", Json::array()},
              {"fittings", Json::array()}};
  // 3 mm wall and 3 mm liner; 4 mm floor and 3 mm liner; 4 x 50 + 3 x 1 + 2 x 16 = 235 long, 2 x 150 + 5 = 305 across.
  add_block(plan, box, "u", "upright", {box_x0 + 6'000, box_y0 + 6'000, box_z0 + 7'000}, 4);
  add_block(plan, box, "u", "upright", {box_x0 + 6'000, box_y0 + 161'000, box_z0 + 7'000}, 4);
  plan["cavities"][0]["boxes"].push_back(box);
  count_up(plan);
  return plan;
}

Json tight_plan() {
  Json plan = good_plan();
  rule(plan, "body_clearance_mm") = 0;
  rule(plan, "lid_clearance_mm") = 0;
  straight_cavity(plan, "z", 0, 0, 0);
  return plan;
}

Json loose_plan() {
  Json plan = empty_plan();
  Json& rules = plan["job"]["rules"];
  for (auto& [key, value] : rules.items()) {
    if (value.is_number() && key.find("_mm") != std::string::npos) value = 0;
  }
  rules["box_outline"] = "loose";
  rules["block_cells"] = {{"min", 1}, {"max", nullptr}};
  plan["job"]["cell"].update({{"thickness_mm", 30}, {"width_mm", 50}, {"height_mm", 4}, {"terminal_top_mm", 4}});
  plan["cavities"][0]["boxes"].push_back({{"name", "tank well"}, {"heading_deg", 0}, {"outline_mm", Json::array()},
                                          {"z_mm", {0, 4}}, {"cells", Json::array()}, {"blocks", Json::array()}});
  return plan;
}

void nudge(Json& number, Um um) { number = half_um(std::llround(number.get<double>() * 2000.0) + 2 * um); }

void shift_contents(Json& box, std::array<Um, 3> by) {
  for (const char* list : {"cells", "blocks", "fittings"}) {
    if (!box.contains(list)) continue;
    for (Json& item : box[list]) {
      for (int axis = 0; axis < 3; ++axis) nudge(item["centre_mm"][axis], by[axis]);
    }
  }
}

void shift_box(Json& box, std::array<Um, 3> by) {
  for (Json& corner : box["outline_mm"]) nudge(corner[0], by[0]), nudge(corner[1], by[1]);
  for (Json& end : box["z_mm"]) nudge(end, by[2]);
  shift_contents(box, by);
}

void shift_block(Json& box, int id, std::array<Um, 3> by) {
  for (Json& block : box["blocks"]) {
    for (int axis = 0; block["id"] == id && axis < 3; ++axis) nudge(block["centre_mm"][axis], by[axis]);
  }
  for (Json& cell : box["cells"]) {
    for (int axis = 0; cell["block"] == id && axis < 3; ++axis) nudge(cell["centre_mm"][axis], by[axis]);
  }
}

Json fitting(const char* name, const char* place, std::array<Um, 3> low, std::array<Um, 3> size) {
  Json out = body(low, size);
  out.update({{"name", name}, {"place", place}});
  return out;
}

}  // namespace cellstow::audit::testing
