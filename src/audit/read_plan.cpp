#include "read_plan.hpp"

#include <cmath>
#include <numbers>

namespace cellstow::audit {
namespace {

constexpr std::pair<const char*, Stance> stances[] = {
    {"upright", Stance::upright}, {"on_edge", Stance::on_edge}, {"flat", Stance::flat}};
constexpr std::pair<const char*, Run> runs[] = {{"u", Run::u}, {"v", Run::v}};
constexpr std::pair<const char*, FittingPlace> places[] = {
    {"beside", FittingPlace::beside}, {"above", FittingPlace::above}, {"wall", FittingPlace::wall}};

// Both the turned centre and the turned outline may be rounded by up to 1 um.
constexpr Tick slack_when_turned = 2 * ticks_per_mm / 1000;

Spot turned(Spot spot, double angle_deg) {
  const double angle = angle_deg * std::numbers::pi / 180.0;
  const double a = static_cast<double>(spot.a), b = static_cast<double>(spot.b);
  return {std::llround(a * std::cos(angle) - b * std::sin(angle)),
          std::llround(a * std::sin(angle) + b * std::cos(angle))};
}

Spot into_box_frame(Spot spot, double heading_deg) {
  return heading_deg == 0 ? spot : turned(spot, -heading_deg);
}

Body read_body(const At& item, double heading_deg) {
  Spot3 centre{}, size{};
  if (const auto at = item.need("centre_mm")) {
    const std::vector<At> parts = at->items(3);
    for (std::size_t i = 0; i < parts.size(); ++i) centre[i] = parts[i].centre();
  }
  if (const auto at = item.need("size_mm")) {
    const std::vector<At> parts = at->items(3);
    for (std::size_t i = 0; i < parts.size(); ++i) size[i] = parts[i].size();
  }
  const Spot plan = into_box_frame({centre[0], centre[1]}, heading_deg);
  centre[0] = plan.a, centre[1] = plan.b;
  Body out;
  for (int axis = 0; axis < 3; ++axis) {
    out.low[axis] = centre[axis] - size[axis] / 2;
    out.high[axis] = centre[axis] + size[axis] / 2;
  }
  return out;
}

int whole_of(const At& object, const char* key, int least) {
  const auto at = object.need(key);
  return at ? at->whole(least) : least;
}

std::optional<int> maybe_whole(const At& object, const char* key) {
  const auto at = object.find(key);
  return at ? std::optional<int>(at->whole(0)) : std::nullopt;
}

std::optional<double> maybe_number(const At& object, const char* key) {
  const auto at = object.find(key);
  return at ? std::optional<double>(at->number()) : std::nullopt;
}

Cell read_cell(const At& item, double heading_deg) {
  Cell out;
  out.body = read_body(item, heading_deg);
  if (const auto at = item.need("stance")) out.stance = at->word(stances);
  out.block = whole_of(item, "block", 0);
  out.place = whole_of(item, "place", 0);
  return out;
}

Block read_block(const At& item, double heading_deg) {
  Block out;
  out.id = whole_of(item, "id", 0);
  out.cells = whole_of(item, "cells", 0);
  if (const auto at = item.need("runs")) out.runs = at->word(runs);
  if (const auto at = item.find("stance")) out.stance = at->word(stances);
  out.body = read_body(item, heading_deg);
  return out;
}

Fitting read_fitting(const At& item, double heading_deg) {
  Fitting out;
  if (const auto at = item.need("name")) out.name = at->text();
  if (const auto at = item.find("place")) out.place = at->word(places);
  out.body = read_body(item, heading_deg);
  return out;
}

void read_shape(const At& item, Box& out) {
  if (const auto at = item.find("heading_deg")) out.heading_deg = at->number();
  if (const auto at = item.need("outline_mm")) out.outline = read_ring(*at, 0);
  const auto z = item.need("z_mm");
  const std::vector<At> ends = z ? z->items(2) : std::vector<At>();
  if (ends.size() == 2) out.height = {ends[0].length(), ends[1].length()};
  for (const Spot spot : out.outline) out.outline_uv.push_back(into_box_frame(spot, out.heading_deg));
  out.slack = out.heading_deg == 0 ? 0 : slack_when_turned;
}

Box read_box(const At& item, std::size_t number) {
  Box out;
  const auto name = item.find("name");
  out.name = name ? name->text() : "box " + std::to_string(number);
  read_shape(item, out);
  if (const auto at = item.need("cells")) {
    for (const At& cell : at->items()) out.cells.push_back(read_cell(cell, out.heading_deg));
  }
  if (const auto at = item.need("blocks")) {
    for (const At& block : at->items()) out.blocks.push_back(read_block(block, out.heading_deg));
  }
  if (const auto at = item.find("fittings")) {
    for (const At& fitting : at->items()) out.fittings.push_back(read_fitting(fitting, out.heading_deg));
  }
  return out;
}

void find_in_job(const At& name, const Plan& plan, CavityPlan& cavity) {
  for (std::size_t i = 0; i < plan.job_cavities.size(); ++i) {
    if (plan.job_cavities[i].name == cavity.name) cavity.job_index = static_cast<int>(i);
  }
  if (cavity.job_index < 0) {
    name.problem("E119", "a cavity that the job does not know", "the name of a cavity of the job");
  }
}

CavityPlan read_cavity(const At& item, const Plan& plan) {
  CavityPlan out;
  if (const auto at = item.need("name")) {
    out.name = at->text();
    find_in_job(*at, plan, out);
  }
  out.cells = whole_of(item, "cells", 0);
  out.bound = maybe_whole(item, "bound");
  out.most_cells = maybe_whole(item, "most_cells");
  if (const auto at = item.find("proven")) out.proven = at->truth();
  if (const auto at = item.need("boxes")) {
    for (const At& box : at->items()) out.boxes.push_back(read_box(box, out.boxes.size() + 1));
  }
  if (const auto at = item.find("fittings_without_place")) {
    for (const At& name : at->items()) out.fittings_without_place.push_back(name.text());
  }
  return out;
}

LoadState read_load_state(const At& item, const char* name) {
  LoadState out;
  out.name = name;
  out.total = maybe_number(item, "total_kg");
  out.front = maybe_number(item, "front_kg");
  out.rear = maybe_number(item, "rear_kg");
  out.front_left = maybe_number(item, "front_left_kg");
  out.front_right = maybe_number(item, "front_right_kg");
  out.rear_left = maybe_number(item, "rear_left_kg");
  out.rear_right = maybe_number(item, "rear_right_kg");
  out.front_share = maybe_number(item, "front_share");
  out.left_share = maybe_number(item, "left_share");
  out.cross_share = maybe_number(item, "cross_share");
  if (const auto at = item.find("cg_mm")) {
    const std::vector<At> parts = at->items(3);
    if (parts.size() == 3 && !parts[0].is_null()) out.cg_x_mm = parts[0].number();
  }
  return out;
}

CheckLine read_check(const At& item) {
  CheckLine out;
  if (const auto at = item.need("name")) out.name = at->text();
  if (const auto at = item.find("where")) out.where = at->text();
  if (const auto at = item.find("cure")) out.cure = at->text();
  if (const auto at = item.need("value")) out.value = at->number();
  if (const auto at = item.need("limit")) out.limit = at->number();
  out.use = maybe_number(item, "use");
  if (const auto at = item.need("ok")) out.ok = at->truth();
  return out;
}

void read_sums(const At& root, Plan& plan) {
  if (const auto at = root.find("totals")) {
    plan.totals = {maybe_whole(*at, "cells"), maybe_whole(*at, "boxes"), maybe_whole(*at, "series"),
                   maybe_whole(*at, "parallel"), maybe_whole(*at, "spare_places")};
  }
  if (const auto at = root.find("balance")) {
    for (const char* name : {"before", "stripped", "empty", "as_driven", "full"}) {
      if (const auto state = at->find(name)) plan.balance.push_back(read_load_state(*state, name));
    }
  }
  if (const auto at = root.find("checks")) {
    plan.checks.emplace();
    for (const At& item : at->items()) plan.checks->push_back(read_check(item));
  }
}

void read_format(const At& root) {
  const auto format = root.need("format");
  if (format && format->text() != "cellstow-plan/1") {
    format->problem("E114", "not a plan file this program knows", "\"cellstow-plan/1\"");
  }
}

}  // namespace

core::Result<Plan> read_plan(std::string_view text, const std::string& file) {
  core::Problems problems;
  const std::optional<Json> tree = parse_plan_text(text, file, problems);
  if (!tree) return tl::unexpected(problems);
  Plan plan;
  const At root(*tree, "", file, problems);
  read_format(root);
  if (const auto at = root.need("job")) read_job(*at, plan);
  if (const auto at = root.need("cavities")) {
    for (const At& item : at->items()) plan.cavities.push_back(read_cavity(item, plan));
  }
  read_sums(root, plan);
  plan.wiring = read_wiring(root);
  if (!problems.empty()) return tl::unexpected(problems);
  return plan;
}

}  // namespace cellstow::audit
