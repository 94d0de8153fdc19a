/// R24 to R30: counts, bound, wanted cells, string, balance, checks.
#include <doctest/doctest.h>

#include "plan_builder.hpp"
#include "cellstow/audit/audit.hpp"

using namespace cellstow::audit::testing;

namespace {

void check_twins(const char* name, const Json& good, const Json& bad, const Rules& rules) {
  CAPTURE(std::string(name));
  CHECK_MESSAGE(broken(good) == Rules{}, told(good));
  CHECK_MESSAGE(broken(bad) == rules, told(bad));
}

Json changed(Json plan, const char* pointer, Json value) {
  plan[Json::json_pointer(pointer)] = std::move(value);
  return plan;
}

Json with_string() {
  Json plan = good_plan();
  plan["job"]["string"] = {{"series", "as_many"}, {"parallel", 2}};
  plan["totals"].update({{"series", 3}, {"parallel", 2}, {"spare_places", 2}});
  return plan;
}

/// 1000 kg on a wheelbase of 2500 mm, centre of gravity 1000 mm behind the front axle: 600 and 400 kg.
Json with_balance() {
  Json plan = good_plan();
  plan["job"]["car"] = {{"wheelbase_mm", 2500}};
  plan["balance"]["before"] = {{"total_kg", 1000}, {"front_kg", 600}, {"rear_kg", 400}, {"front_left_kg", 310}, {"front_right_kg", 290},
                               {"rear_left_kg", 195}, {"rear_right_kg", 205}, {"front_share", 0.6}, {"left_share", 0.505},
                               {"cross_share", 0.515}, {"cg_mm", {1000, -5, nullptr}}};
  return plan;
}

Json with_check(double value, double limit, Json use, bool ok) {
  Json plan = good_plan();
  plan["checks"] = Json::array({{{"name", "front axle load"}, {"where", "full"}, {"value", value}, {"limit", limit}, {"unit", "kg"},
                                 {"use", std::move(use)}, {"ok", ok}, {"source", ""}, {"cure", ""}}});
  return plan;
}

}  // namespace

TEST_CASE("sums: counts") {
  check_twins("cavity", good_plan(), changed(changed(good_plan(), "/cavities/0/cells", 7), "/totals/cells", 7), {"R24"});
  check_twins("total cells", good_plan(), changed(good_plan(), "/totals/cells", 9), {"R24"});
  check_twins("total boxes", good_plan(), changed(good_plan(), "/totals/boxes", 2), {"R24"});
}

TEST_CASE("sums: bound") {
  const Json unproven = changed(changed(good_plan(), "/cavities/0/bound", 9), "/cavities/0/proven", false);
  check_twins("proven", unproven, changed(unproven, "/cavities/0/proven", true), {"R25"});
  check_twins("too low", good_plan(), changed(changed(good_plan(), "/cavities/0/bound", 7), "/cavities/0/proven", false), {"R25"});
  // Fewer cells built in than it could hold: the bound is met by what it could hold.
  const Json fewer = changed(changed(good_plan(), "/cavities/0/bound", 12), "/cavities/0/most_cells", 12);
  check_twins("most cells", fewer, changed(fewer, "/cavities/0/most_cells", 11), {"R25"});
}

TEST_CASE("sums: cells wanted") {
  const char* wanted = "/job/cavities/0/cells_wanted";
  check_twins("count", changed(good_plan(), wanted, 8), changed(good_plan(), wanted, 9), {"R26"});
  check_twins("from to", changed(good_plan(), wanted, {6, 8}), changed(good_plan(), wanted, {4, 7}), {"R26"});
  check_twins("none", changed(good_plan(), wanted, nullptr), changed(good_plan(), wanted, 0), {"R26"});
  Json excused = changed(with_check(8, 9, 9.0 / 8, false), wanted, 9);
  excused["checks"][0]["name"] = "cells wanted", excused["checks"][0]["where"] = "tank well";
  CHECK_MESSAGE(broken(excused) == Rules{}, told(excused));
}

TEST_CASE("sums: string") {
  check_twins("spare places", with_string(), changed(with_string(), "/totals/spare_places", 1), {"R27"});
  check_twins("parallel", with_string(), changed(changed(with_string(), "/totals/parallel", 1), "/totals/spare_places", 5), {"R27"});
  Json asked = changed(with_string(), "/job/string/series", 3);
  check_twins("series asked for", asked, changed(asked, "/job/string/series", 4), {"R27"});
}

TEST_CASE("sums: balance adds up") {
  check_twins("total", with_balance(), changed(with_balance(), "/balance/before/rear_kg", 400.02), {"R28"});
  check_twins("wheels", with_balance(), changed(with_balance(), "/balance/before/rear_left_kg", 195.5), {"R28"});
  check_twins("front share", with_balance(), changed(with_balance(), "/balance/before/front_share", 0.61), {"R28"});
  check_twins("left share", with_balance(), changed(with_balance(), "/balance/before/left_share", 0.5), {"R28"});
  check_twins("cross share", with_balance(), changed(with_balance(), "/balance/before/cross_share", 0.5), {"R28"});
  check_twins("moments", with_balance(), changed(with_balance(), "/balance/before/cg_mm/0", 1000.1), {"R29"});
  check_twins("wheels not weighed", changed(with_balance(), "/balance/before/rear_left_kg", nullptr),
              changed(with_balance(), "/balance/before/front_kg", 700), {"R28", "R29"});
}

TEST_CASE("balance: published worked case, moments about the axles") {
  // University Physics vol. 1 (1st ed.), ch. 12, problem 30: 1000 kg, wheelbase 3.0 m, 60 % on the front wheels,
  // centre of gravity 1.2 m behind them (read through a solution page).
  Json plan = with_balance();
  plan["job"]["car"]["wheelbase_mm"] = 3000;
  plan["balance"]["before"]["cg_mm"][0] = 1200;
  CHECK(broken(plan) == Rules{});
  plan["balance"]["before"]["cg_mm"][0] = 1250;
  CHECK(broken(plan) == Rules{"R29"});
}

TEST_CASE("sums: a check says what its numbers say") {
  check_twins("at most, met", with_check(830, 1000, 0.83, true), with_check(830, 1000, 0.83, false), {"R30"});
  check_twins("at most, not met", with_check(1200, 1000, 1.2, false), with_check(1200, 1000, 1.2, true), {"R30"});
  check_twins("at least, met", with_check(16, 12, 0.75, true), with_check(16, 12, 0.75, false), {"R30"});
  check_twins("at least, not met", with_check(9, 12, 1.333333, false), with_check(9, 12, 1.333333, true), {"R30"});
  check_twins("use", with_check(830, 1000, 0.83, true), with_check(830, 1000, 0.73, true), {"R30"});
  CHECK(broken(with_check(1000, 1000, 1.0, true)) == Rules{});
  // The sixth decimal is rounded: within it both verdicts may be right.
  CHECK(broken(with_check(1000, 1000, 1.0, false)) == Rules{});
  check_twins("just over", with_check(1000.00001, 1000, 1.0, false), with_check(1000.00001, 1000, 1.1, false), {"R30"});
  CHECK(broken(with_check(0, 0, nullptr, true)) == Rules{});
}

TEST_CASE("report: what was looked at and what could not be") {
  const auto report = cellstow::audit::audit_plan(good_plan().dump(), "plan.json");
  REQUIRE(report);
  CHECK(report->boxes == 1);
  CHECK(report->blocks == 2);
  CHECK(report->cells == 8);
  CHECK(report->checked.front() == "R1 box outline is a proper shape: looked at 1 place");
  CHECK(report->not_checked.size() == 4);  // flange, string, balance, checks
}
