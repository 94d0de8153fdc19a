/// R1, R6 to R8: shape and kind of the outline, several boxes in a cavity, free headings.
#include <doctest/doctest.h>

#include <cmath>

#include "plan_builder.hpp"

using namespace cellstow::audit::testing;

namespace {

Json with_outline(const char* kind, std::vector<Corner> outline) {
  Json plan = good_plan();
  straight_cavity(plan, "z", 300'000, 10'000, 10'000);
  rule(plan, "box_outline") = kind;
  the_box(plan)["outline_mm"] = points(outline);
  return plan;
}

const std::vector<Corner> whole = rectangle(box_x0, box_y0, box_x1, box_y1);
const std::vector<Corner> stepped{{box_x0, box_y0}, {box_x1, box_y0},           {box_x1, box_y1},
                                  {box_x0 - 20'000, box_y1}, {box_x0 - 20'000, 100'000}, {box_x0, 100'000}};

/// Two good boxes, the second `gap` um rearward of the first.
Json two_boxes(Um gap) {
  Json plan = good_plan();
  straight_cavity(plan, "z", 800'000, 10'000, 10'000);
  rule(plan, "boxes_per_cavity") = 2;
  Json second = the_box(plan);
  second["name"] = "box TW2";
  shift_box(second, {box_x1 - box_x0 + gap, 0, 0});
  plan["cavities"][0]["boxes"].push_back(second);
  count_up(plan);
  return plan;
}

}  // namespace

TEST_CASE("outline: proper shape") {
  CHECK(broken(with_outline("stepped", whole)) == Rules{});
  Json crossed = with_outline("any", {{box_x0, box_y0}, {box_x1, box_y1}, {box_x1, box_y0}, {box_x0, box_y1}});
  CHECK(broken(crossed) == Rules{"R1"});
  CHECK(broken(with_outline("any", {{box_x0, box_y0}, {box_x1, box_y1}})) == Rules{"R1"});
  Json flat = good_plan();
  the_box(flat)["z_mm"] = {534, 534};
  CHECK(broken(flat) == Rules{"R1"});
  // A corner that touches another wall is no proper shape either.
  const std::vector<Corner> pinched{{box_x0, box_y0}, {box_x1, box_y0},        {box_x1, box_y1},          {box_x0, box_y1},
                                    {box_x0, 0},      {box_x0 - 9'000, 9'000}, {box_x0 - 9'000, -9'000}, {box_x0, 0}};
  CHECK(broken(with_outline("any", pinched)) == Rules{"R1"});
}

TEST_CASE("outline: each kind and what is one step beyond it") {
  CHECK(broken(with_outline("rectangle", whole)) == Rules{});
  CHECK(broken(with_outline("rectangle", stepped)) == Rules{"R6"});
  CHECK(broken(with_outline("stepped", stepped)) == Rules{});
  std::vector<Corner> tilted = whole;
  tilted[2][0] += 1;
  CHECK(broken(with_outline("stepped", tilted)) == Rules{"R6"});
  CHECK(broken(with_outline("rectangle", tilted)) == Rules{"R6"});
  CHECK(broken(with_outline("any", tilted)) == Rules{});
  std::vector<Corner> eight{{box_x0, box_y0 - 9'000}, {box_x1, box_y0 - 9'000}, {box_x1 + 9'000, box_y0}, {box_x1 + 9'000, box_y1},
                            {box_x1, box_y1 + 9'000}, {box_x0, box_y1 + 9'000}, {box_x0 - 9'000, box_y1}, {box_x0 - 9'000, box_y0}};
  CHECK(broken(with_outline("any", eight)) == Rules{});
  std::vector<Corner> nine = eight;
  nine.insert(nine.begin() + 1, {1'100'000, box_y0 - 9'001});
  CHECK(broken(with_outline("any", nine)) == Rules{"R6"});
  // A corner in line with its neighbours is none.
  std::vector<Corner> in_line = eight;
  in_line.insert(in_line.begin() + 1, {1'100'000, box_y0 - 9'000});
  CHECK(broken(with_outline("any", in_line)) == Rules{});
  Json loose = with_outline("loose", whole);
  CHECK(broken(loose).count("R6") == 1);
}

TEST_CASE("outline: several boxes") {
  CHECK(broken(two_boxes(0)) == Rules{});
  CHECK_MESSAGE(broken(two_boxes(-1)) == Rules{"R8"}, told(two_boxes(-1)));
  Json one_too_many = two_boxes(0);
  rule(one_too_many, "boxes_per_cavity") = 1;
  CHECK(broken(one_too_many) == Rules{"R7"});
  // One over the other, touching, is no overlap.
  Json stacked = two_boxes(-(box_x1 - box_x0));
  straight_cavity(stacked, "z", 800'000, 10'000, 400'000);
  shift_box(stacked["cavities"][0]["boxes"][1], {0, 0, box_z1 - box_z0});
  CHECK_MESSAGE(broken(stacked) == Rules{}, told(stacked));
  shift_box(stacked["cavities"][0]["boxes"][1], {0, 0, -1});
  CHECK(broken(stacked) == Rules{"R8"});
}

namespace {

/// The good plan turned about the car's origin by `degrees`, in a cavity with room.
Json turned(double degrees) {
  Json plan = good_plan();
  const double angle = degrees * std::acos(-1.0) / 180;
  const auto turn = [angle](Json& point) {
    const double x = point[0].get<double>(), y = point[1].get<double>();
    point[0] = std::round((x * std::cos(angle) - y * std::sin(angle)) * 1000) / 1000;
    point[1] = std::round((x * std::sin(angle) + y * std::cos(angle)) * 1000) / 1000;
  };
  Json& box = the_box(plan);
  for (Json& corner : box["outline_mm"]) turn(corner);
  for (const char* list : {"cells", "blocks"}) {
    for (Json& item : box[list]) turn(item["centre_mm"]);
  }
  box["heading_deg"] = degrees;
  rule(plan, "heading") = "free";
  const auto room = rectangle(-2'000'000, -2'000'000, 2'000'000, 2'000'000);
  set_sections(plan, "z", "common", {section(290'000, room), section(542'000, room)});
  return plan;
}

}  // namespace

TEST_CASE("outline: a free heading is looked at to 2 um, a square one is asked for exactly") {
  for (const double degrees : {30.0, -12.345, 90.0}) {
    Json plan = turned(degrees);
    CHECK_MESSAGE(broken(plan) == Rules{}, told(plan));
    rule(plan, "heading") = "square";
    CHECK(broken(plan) == Rules{"R6"});
  }
  Json plan = turned(30);
  shift_block(the_box(plan), 1, {0, 100, 0});
  CHECK_MESSAGE(broken(plan).count("R20") == 1, told(plan));
  Json relief = turned(30);   // the good plan fills its box: wall 3, liner 3, so 3 mm of relief just fit
  rule(relief, "corner_relief_mm") = 3;
  CHECK_MESSAGE(broken(relief) == Rules{}, told(relief));
  rule(relief, "corner_relief_mm") = 3.01;
  CHECK(broken(relief) == Rules{"R12"});
  Json walls = turned(30);
  const auto room = rectangle(0, -2'000'000, 1'000'000, 2'000'000);
  set_sections(walls, "z", "common", {section(290'000, room), section(542'000, room)});
  CHECK(broken(walls) == Rules{"R2"});
}
