/// R31 to R34: the string, twins of one good plan.
#include <doctest/doctest.h>

#include "cellstow/audit/audit.hpp"
#include "plan_builder.hpp"

using namespace cellstow::audit::testing;

namespace {

Json changed(Json plan, const char* pointer, Json value) {
  plan[Json::json_pointer(pointer)] = std::move(value);
  return plan;
}

/// Eight cells of 50 x 150 x 200 mm in two blocks along u, 155 mm apart: the snake written by hand. Posts 50 mm from the middle.
Json with_links() {
  Json plan = good_plan();
  plan["job"]["string"] = {{"series", 8}, {"parallel", 1}};
  plan["job"]["cell"]["terminal_offset_mm"] = 50;
  plan["job"]["cell"]["voltage_v"] = {{"min", 2.5}, {"nominal", 3.2}, {"max", 3.65}};
  plan["job"]["rules"]["open_link_max_v"] = 20;
  plan["totals"].update({{"series", 8}, {"parallel", 1}, {"spare_places", 0}});
  Json& box = the_box(plan);
  box["mark"] = "TW";
  Json& wiring = plan["wiring"];
  for (const char* list : {"order", "links", "kinds", "pieces"}) wiring[list] = Json::array();
  const int block[] = {1, 1, 1, 1, 2, 2, 2, 2}, place[] = {1, 2, 3, 4, 4, 3, 2, 1};
  const bool turned[] = {true, false, true, false, false, true, false, true};  // row 1 ends with its plus toward row 2
  for (int i = 0; i < 8; ++i) {
    const Json& cell = box["cells"][static_cast<std::size_t>((block[i] - 1) * 4 + place[i] - 1)];
    const double x = cell["centre_mm"][0], y = cell["centre_mm"][1], z = cell["centre_mm"][2].get<double>() + 100;
    const double by = turned[i] ? -50 : 50;
    wiring["order"].push_back({{"number", i + 1}, {"group", i + 1}, {"box", "TW"}, {"block", block[i]}, {"place", place[i]}, {"posts", "up"},
                               {"turned", turned[i]}, {"plus_mm", {x, y + by, z}}, {"minus_mm", {x, y - by, z}}});
    if (i == 0) continue;
    // 50 mm thick and 1 mm between: 51; from row to row 155 - 2 x 50 = 55
    wiring["links"].push_back({{"number", i}, {"join", "link"}, {"from", {{"cell", i}, {"pole", "+"}}}, {"to", {{"cell", i + 1}, {"pole", "-"}}},
                               {"kind", i == 4 ? "B" : "A"}, {"centre_mm", i == 4 ? 55 : 51}, {"removable", i == 4}, {"string_max_v", i * 3.65}});
  }
  wiring["kinds"] = Json::array({{{"kind", "A"}, {"centre_mm", 51}, {"count", 6}}, {{"kind", "B"}, {"centre_mm", 55}, {"count", 1}}});
  wiring["pieces"] = Json::array({{{"first_group", 1}, {"last_group", 4}, {"max_v", 14.6}}, {{"first_group", 5}, {"last_group", 8}, {"max_v", 14.6}}});
  return plan;
}

void check_twin(const char* name, const Json& bad, const Rules& rules) {
  CAPTURE(std::string(name));
  CHECK_MESSAGE(broken(bad) == rules, told(bad));
}

}  // namespace

TEST_CASE("string: a snake written by hand holds") { CHECK_MESSAGE(broken(with_links()) == Rules{}, told(with_links())); }

TEST_CASE("string: order") {
  check_twin("a cell twice", changed(changed(with_links(), "/wiring/order/1/place", 1), "/wiring/order/1/plus_mm/0", with_links()["wiring"]["order"][0]["plus_mm"][0]), {"R31", "R32", "R33"});
  check_twin("a group wrong", changed(with_links(), "/wiring/order/3/group", 3), {"R31", "R34"});
  check_twin("a place that is none", changed(with_links(), "/wiring/order/7/place", 5), {"R31"});
}

TEST_CASE("string: posts and signs") {
  check_twin("a cell turned", changed(with_links(), "/wiring/order/2/turned", false), {"R32"});
  Json swapped = with_links();
  std::swap(swapped["wiring"]["order"][2]["plus_mm"], swapped["wiring"]["order"][2]["minus_mm"]);
  swapped["wiring"]["order"][2]["turned"] = false;
  check_twin("a cell the wrong way round", swapped, {"R33"});
  check_twin("plus to plus", changed(with_links(), "/wiring/links/2/to/pole", "+"), {"R33"});
  check_twin("a link to the cell after next", changed(with_links(), "/wiring/links/2/to/cell", 5), {"R33"});
  check_twin("posts sideways from an upright cell", changed(with_links(), "/wiring/order/2/posts", "rising"), {"R32"});
}

TEST_CASE("string: lengths and kinds") {
  check_twin("length", changed(with_links(), "/wiring/links/0/centre_mm", 50.9), {"R33"});
  check_twin("kind", changed(with_links(), "/wiring/links/0/kind", "B"), {"R33"});
  check_twin("count", changed(with_links(), "/wiring/kinds/0/count", 7), {"R33"});
  check_twin("cable in a box", changed(with_links(), "/wiring/links/0/join", "cable"), {"R33"});
}

TEST_CASE("string: pieces") {
  check_twin("no removable link", changed(with_links(), "/wiring/links/3/removable", false), {"R34"});  // 29.2 V
  check_twin("volts of a piece", changed(with_links(), "/wiring/pieces/0/max_v", 10.95), {"R34"});
  check_twin("running volts", changed(with_links(), "/wiring/links/5/string_max_v", 20), {"R34"});
  check_twin("limit", changed(with_links(), "/job/rules/open_link_max_v", 14.5), {"R34"});
}
