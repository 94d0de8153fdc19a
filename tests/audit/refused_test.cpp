/// Plan files that cannot be read: every fault is told, none ends in an exception.
#include <doctest/doctest.h>

#include "cellstow/audit/audit.hpp"
#include "plan_builder.hpp"

using namespace cellstow::audit::testing;
using cellstow::core::Problems;

namespace {

Problems problems(const std::string& text) {
  const auto report = cellstow::audit::audit_plan(text, "plan.json");
  return report ? Problems{} : report.error();
}

/// Ids and pointers, in the order told: "E104 /job".
std::vector<std::string> told_problems(const std::string& text) {
  std::vector<std::string> out;
  for (const auto& problem : problems(text)) out.push_back(problem.id + " " + problem.pointer);
  return out;
}

std::vector<std::string> after(const char* pointer, Json value) {
  Json plan = good_plan();
  plan[Json::json_pointer(pointer)] = std::move(value);
  return told_problems(plan.dump());
}

using Told = std::vector<std::string>;

}  // namespace

TEST_CASE("refused: no JSON, or none of ours") {
  CHECK(told_problems("") == Told{"E101 "});
  CHECK(told_problems("{\"format\":") == Told{"E101 "});
  CHECK(told_problems("{\"format\": 1e999}") == Told{"E101 "});
  CHECK(told_problems("[]").front() == "E105 ");
  CHECK(told_problems("null").front() == "E105 ");
  CHECK(told_problems("{}") == Told{"E104 ", "E104 ", "E104 "});
  CHECK(after("/format", "another-plan/1") == Told{"E114 /format"});
  CHECK(told_problems("{\"format\":\"cellstow-plan/1\",\"format\":\"cellstow-plan/1\",\"job\":{\"cell\":{\"thickness_mm\":1,"
                      "\"width_mm\":1,\"height_mm\":1},\"cavities\":[]},\"cavities\":[]}") == Told{"E102 "});
}

TEST_CASE("refused: wrong kinds, with their place") {
  CHECK(after("/job/rules/wall_mm", "3 mm") == Told{"E105 /job/rules/wall_mm"});
  CHECK(after("/job/rules/wall_mm", -1) == Told{"E107 /job/rules/wall_mm"});
  CHECK(after("/job/rules/box_outline", "round") == Told{"E106 /job/rules/box_outline"});
  CHECK(after("/job/rules/tiers", 1.5) == Told{"E108 /job/rules/tiers"});
  CHECK(after("/job/cell/height_mm", nullptr) == Told{"E104 /job/cell"});
  CHECK(after("/job/cavities/0/sections/at/0/outline_mm/2", {1, 2, 3}) == Told{"E115 /job/cavities/0/sections/at/0/outline_mm/2"});
  CHECK(after("/job/cavities/0/sections/at/0/outline_mm", {{0, 0}, {1, 1}}) == Told{"E201 /job/cavities/0/sections/at/0/outline_mm"});
  CHECK(after("/job/cavities/0/sections/at/1/station_mm", 200) == Told{"E207 /job/cavities/0/sections/at/1"});
  CHECK(after("/cavities/0/name", "boot") == Told{"E119 /cavities/0/name"});
  CHECK(after("/cavities/0/boxes/0/cells/3/place", "third") == Told{"E105 /cavities/0/boxes/0/cells/3/place"});
  CHECK(after("/cavities/0/boxes/0/blocks/1/centre_mm", 7) == Told{"E105 /cavities/0/boxes/0/blocks/1/centre_mm"});
  CHECK(after("/cavities/0/boxes/0/z_mm/1", 1e7) == Told{"E107 /cavities/0/boxes/0/z_mm/1"});
  CHECK(after("/checks", {{{"name", "a"}, {"value", 1}, {"limit", 2}, {"ok", "yes"}}}) == Told{"E105 /checks/0/ok"});
  CHECK(after("/balance", 3).front() == "E105 /balance");
  CHECK(after("/job/cavities/0/keep_outs", {{{"name", "neck"}}}) == Told{"E104 /job/cavities/0/keep_outs/0"});
}

TEST_CASE("refused: outlines that cross themselves, and sections that cannot be read straight") {
  CHECK(after("/job/cavities/0/sections/at/1/outline_mm", {{0, 0}, {100, 100}, {100, 0}, {0, 100}}) ==
        Told{"E203 /job/cavities/0/sections/at/1/outline_mm"});
  Json plan = good_plan();
  plan["job"]["cavities"][0]["sections"]["between"] = "straight";
  plan["job"]["cavities"][0]["sections"]["at"][1]["outline_mm"].push_back({900, 0});
  CHECK(told_problems(plan.dump()) == Told{"E209 /job/cavities/0/sections/at/1"});
}

TEST_CASE("refused: all faults are told, not only the first") {
  Json plan = good_plan();
  plan["job"]["rules"]["wall_mm"] = "thick";
  plan["cavities"][0]["boxes"][0]["cells"][0].erase("stance");
  plan["cavities"][0]["boxes"][0]["blocks"][0]["runs"] = "w";
  plan["totals"]["cells"] = -4;
  CHECK(told_problems(plan.dump()) == Told{"E105 /job/rules/wall_mm", "E104 /cavities/0/boxes/0/cells/0",
                                           "E106 /cavities/0/boxes/0/blocks/0/runs", "E107 /totals/cells"});
  const Problems all = problems(plan.dump());
  CHECK(cellstow::core::to_text(all.front()) ==
        "plan.json#/job/rules/wall_mm: error E105: wrong kind of value\n  found: \"thick\"\n  expected: a plain number\n");
}

TEST_CASE("refused: every value of a plan replaced by every other kind is answered without an exception") {
  const Json plan = good_plan().flatten();
  for (const auto& [pointer, value] : plan.items()) {
    for (const Json& other : {Json("text"), Json(-3.5), Json(true), Json::array(), Json::object(), Json(nullptr), Json(1e300)}) {
      Json spoiled = good_plan();
      spoiled[Json::json_pointer(pointer)] = other;
      CHECK_NOTHROW((void)cellstow::audit::audit_plan(spoiled.dump(), "plan.json"));
    }
  }
}

TEST_CASE("optional sections may be missing") {
  Json plan = good_plan();
  plan.erase("totals");
  plan["cavities"][0].erase("bound");
  plan["cavities"][0].erase("proven");
  plan["balance"] = Json::object();
  plan["wiring"] = Json::object();
  for (Json& block : the_box(plan)["blocks"]) block.erase("stance");
  the_box(plan).erase("fittings");
  CHECK(broken(plan) == Rules{});
}
