#include "cellstow/report/write.hpp"
#include "report/box_json.hpp"
#include "report/json_values.hpp"
#include "report/limits_json.hpp"
#include "report/way_in_json.hpp"
#include "report/wiring_json.hpp"

namespace cellstow::report {
namespace {

template <class Optional>
Json or_null(const Optional& value, int decimals) {
  return value ? rounded(*value, decimals) : Json(nullptr);
}

Json totals_to_json(const plan::Totals& totals) {
  return {{"cells", totals.cells},
          {"series", totals.series},
          {"parallel", totals.parallel},
          {"spare_places", totals.spare_places},
          {"nominal_v", rounded(totals.nominal_v, 3)},
          {"energy_kwh", rounded(totals.energy_kwh, 3)},
          {"range_km", or_null(totals.range_km, 1)},
          {"boxes", totals.boxes},
          {"mass_added_kg", rounded(totals.mass_added_kg, 3)}};
}

Json gap_to_json(const plan::Gap& gap) {
  return {{"what", gap.what},
          {"where", gap.where},
          {"at_mm", point(gap.at)},
          {"gap_mm", rounded(gap.gap_mm, 3)},
          {"needed_mm", rounded(gap.needed_mm, 3)}};
}

Json shortfall_to_json(const packing::RowShortfall& row) {
  Json out = {{"at_mm", mm(row.at)},
          {"along", row.along == packing::Run::u ? "u" : "v"},
          {"cells", row.cells},
          {"needed_mm", mm(row.needed)},
          {"available_mm", mm(row.available)},
          {"whole_row", row.whole_row},
          {"limited_by", row.limited_by}};
  if (!row.heading.is_square()) out["heading_deg"] = row.heading.degrees();
  return out;
}

Json readings_to_json(const packing::ReadingComparison& readings) {
  Json out = {{"common_cells", readings.common_cells}};
  out["straight_cells"] =
      readings.straight_cells ? Json(*readings.straight_cells) : Json(nullptr);
  out["least"] = readings.least;
  out["why_not"] = readings.why_not;
  out["measure_at_mm"] = readings.measure_at ? mm(*readings.measure_at) : Json(nullptr);
  out["decided_there"] = readings.decided_there;
  return out;
}

template <class Items, class Convert>
Json list(const Items& items, Convert convert) {
  Json out = Json::array();
  for (const auto& item : items) out.push_back(convert(item));
  return out;
}

Json cavity_to_json(const plan::CavityPlan& cavity, const limits::CellWorth& worth) {
  return {{"name", cavity.name},
          {"mark", cavity.mark},
          {"cells", cavity.packing.cells},
          {"bound", cavity.bound},
          {"proven", cavity.proven},
          {"most_cells", cavity.most_cells},
          {"seconds", 0},
          {"steps", cavity.packing.steps},
          {"boxes", list(cavity.boxes, box_to_json)},
          {"tightest", list(cavity.tightest, gap_to_json)},
          {"way_in", way_in_to_json(cavity)},
          {"shortfalls", list(cavity.packing.shortfalls, shortfall_to_json)},
          {"readings", readings_to_json(cavity.readings)},
          {"trust", trust_to_json(cavity.trust)},
          {"limits", limits_to_json(cavity.limits, worth)},
          {"fit", fit_to_json(cavity)},
          {"fittings_without_place", cavity.packing.fittings_without_place},
          {"notes", cavity.packing.notes}};
}

Json split_to_json(const plan::Split& split) {
  return {{"cells", split.cells},
          {"boxes", split.boxes},
          {"front_share", or_null(split.front_share, 6)},
          {"meets_target", split.meets_target},
          {"chosen", split.chosen}};
}

Json limit_to_json(const wiring::CountLimit& limit) {
  return {{"device", limit.device}, {"why", limit.why}, {"count", limit.count}};
}

Json window_to_json(const wiring::CountWindow& window) {
  return {{"lowest", window.lowest},
          {"highest", window.highest > 0 ? Json(window.highest) : Json(nullptr)},
          {"lowest_by", list(window.lowest_by, limit_to_json)},
          {"highest_by", list(window.highest_by, limit_to_json)},
          {"empty", window.empty}};
}

Json wiring_to_json(const std::optional<wiring::StringResult>& string) {
  if (!string) return Json::object();
  return {{"series", string->series},
          {"parallel", string->parallel},
          {"min_v", rounded(string->min_v, 3)},
          {"nominal_v", rounded(string->nominal_v, 3)},
          {"max_v", rounded(string->max_v, 3)},
          {"energy_kwh", rounded(string->energy_kwh, 3)},
          {"range_km", or_null(string->range_km, 1)},
          {"window", window_to_json(string->window)},
          {"cautions", string->cautions},
          {"notes", string->notes}};
}

Json state_to_json(const balance::LoadState& state) {
  return {{"total_kg", kg(state.total)},
          {"front_kg", kg(state.front)},
          {"rear_kg", kg(state.rear)},
          {"front_left_kg", kg(state.front_left)},
          {"front_right_kg", kg(state.front_right)},
          {"rear_left_kg", kg(state.rear_left)},
          {"rear_right_kg", kg(state.rear_right)},
          {"front_share", rounded(state.front_share, 6)},
          {"left_share", rounded(state.left_share, 6)},
          {"cross_share", rounded(state.cross_share, 6)},
          {"cg_mm", Json::array({rounded(state.cg_x_mm, 3), rounded(state.cg_y_mm, 3),
                                 rounded(state.cg_z_mm, 3)})}};
}

Json balance_to_json(const std::optional<balance::Balance>& balance) {
  Json out = Json::object();
  if (!balance || balance->states.empty()) return out;
  for (const balance::LoadState& state : balance->states) out[state.name] = state_to_json(state);
  Json ride = Json::object();
  for (const balance::RideChange& change : balance->ride) {
    ride[change.state] = {{"front", rounded(change.front_mm, 3)},
                          {"rear", rounded(change.rear_mm, 3)}};
  }
  out["ride_change_mm"] = ride;
  out["kerb_mass_change"] = rounded(balance->kerb_mass_change, 6);
  out["front_share_change_points"] = rounded(balance->front_share_change_points, 6);
  out["cautions"] = balance->cautions;
  out["notes"] = balance->notes;
  return out;
}

Json left_out_to_json(const core::LeftOut& left_out) {
  return {{"stage", left_out.stage}, {"why", left_out.why}};
}

}  // namespace

Json plan_to_json(const survey::Job& job, const plan::Plan& plan) {
  Json out;
  out["format"] = "cellstow-plan/1";
  out["program"] = "cellstow " CELLSTOW_VERSION;
  out["job"] = job_to_json(job);
  out["seed"] = 0;
  out["totals"] = totals_to_json(plan.totals);
  out["cavities"] = list(plan.cavities, [&](const plan::CavityPlan& cavity) { return cavity_to_json(cavity, plan.per_cell); });
  out["splits"] = list(plan.splits, split_to_json);
  out["wiring"] = wiring_to_json(plan.string);
  if (plan.wiring) out["wiring"].update(links_to_json(job, plan));
  out["balance"] = balance_to_json(plan.balance);
  out["checks"] = checks_to_json(plan.checks);
  out["cautions"] = plan.cautions;
  out["left_out"] = list(plan.left_out, left_out_to_json);
  return out;
}

}  // namespace cellstow::report
