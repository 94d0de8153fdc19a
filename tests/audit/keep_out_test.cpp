/// R5: keep-outs of the three shapes, each at exactly its clearance and a micrometre nearer.
#include <doctest/doctest.h>

#include "plan_builder.hpp"

using namespace cellstow::audit::testing;

namespace {

/// The good plan in a cavity with room all round, one keep-out in it.
Json with_keep_out(Json keep_out) {
  Json plan = good_plan();
  straight_cavity(plan, "z", 300'000, 300'000, 300'000);
  keep_out["name"] = "filler neck";
  plan["job"]["cavities"][0]["keep_outs"] = Json::array({keep_out});
  return plan;
}

Json box_at(std::array<Um, 3> low, std::array<Um, 3> high) {
  return {{"box_mm", {{mm(low[0]), mm(low[1]), mm(low[2])}, {mm(high[0]), mm(high[1]), mm(high[2])}}}};
}

Json cylinder(std::array<Um, 3> from, std::array<Um, 3> to, Um diameter) {
  return {{"cylinder_mm", {{"from", {mm(from[0]), mm(from[1]), mm(from[2])}},
                           {"to", {mm(to[0]), mm(to[1]), mm(to[2])}}, {"diameter", mm(diameter)}}}};
}

Json prism(const std::vector<Corner>& outline, Um low, Um high) {
  return {{"prism_mm", {{"outline", points(outline)}, {"z", {mm(low), mm(high)}}}}};
}

void check_twins(const char* name, const Json& good, const Json& bad) {
  CAPTURE(std::string(name));
  CHECK_MESSAGE(broken(with_keep_out(good)) == Rules{}, told(with_keep_out(good)));
  CHECK_MESSAGE(broken(with_keep_out(bad)) == Rules{"R5"}, told(with_keep_out(bad)));
}

Json cleared(Json keep_out, Um clearance) {
  keep_out["clearance_mm"] = mm(clearance);
  return keep_out;
}

}  // namespace

TEST_CASE("keep-outs: a box") {
  check_twins("beside", box_at({box_x1 + 10'000, -50'000, 400'000}, {1'300'000, 50'000, 450'000}),
              box_at({box_x1 + 9'999, -50'000, 400'000}, {1'300'000, 50'000, 450'000}));
  check_twins("corner to corner, 6 by 8", box_at({box_x1 + 6'000, box_y1 + 8'000, 400'000}, {1'300'000, 200'000, 450'000}),
              box_at({box_x1 + 5'999, box_y1 + 8'000, 400'000}, {1'300'000, 200'000, 450'000}));
  check_twins("above", box_at({1'050'000, -50'000, box_z1 + 10'000}, {1'100'000, 50'000, 600'000}),
              box_at({1'050'000, -50'000, box_z1 + 9'999}, {1'100'000, 50'000, 600'000}));
  check_twins("below", box_at({1'050'000, -50'000, 200'000}, {1'100'000, 50'000, box_z0 - 10'000}),
              box_at({1'050'000, -50'000, 200'000}, {1'100'000, 50'000, box_z0 - 9'999}));
  check_twins("corners given the other way round", box_at({1'300'000, 50'000, 450'000}, {box_x1 + 10'000, -50'000, 400'000}),
              box_at({1'300'000, 50'000, 450'000}, {box_x1 + 9'999, -50'000, 400'000}));
  const Json inside = with_keep_out(box_at({1'100'000, -10'000, 400'000}, {1'110'000, 10'000, 410'000}));
  CHECK(broken(inside) == Rules{"R5"});
  const Json around = with_keep_out(box_at({900'000, -290'000, 310'000}, {1'400'000, 290'000, 500'000}));
  CHECK(broken(around) == Rules{"R5"});
}

TEST_CASE("keep-outs: its own clearance goes before the shop's") {
  check_twins("25 mm", cleared(box_at({box_x1 + 25'000, -50'000, 400'000}, {1'300'000, 50'000, 450'000}), 25'000),
              cleared(box_at({box_x1 + 24'999, -50'000, 400'000}, {1'300'000, 50'000, 450'000}), 25'000));
  check_twins("none: a touch is allowed", cleared(box_at({box_x1, -50'000, 400'000}, {1'300'000, 50'000, 450'000}), 0),
              cleared(box_at({box_x1 - 1, -50'000, 400'000}, {1'300'000, 50'000, 450'000}), 0));
  check_twins("none, under the floor", cleared(box_at({1'100'000, -50'000, 200'000}, {1'150'000, 50'000, box_z0}), 0),
              cleared(box_at({1'100'000, -50'000, 200'000}, {1'150'000, 50'000, box_z0 + 1}), 0));
}

TEST_CASE("keep-outs: a prism") {
  const std::vector<Corner> triangle{{box_x1 + 10'000, 0}, {box_x1 + 60'000, -40'000}, {box_x1 + 60'000, 40'000}};
  std::vector<Corner> nearer = triangle;
  nearer[0][0] -= 1;
  check_twins("point of a triangle", prism(triangle, 300'000, 400'000), prism(nearer, 300'000, 400'000));
  check_twins("above", prism(rectangle(1'100'000, -50'000, 1'150'000, 0), box_z1 + 10'000, 600'000),
              prism(rectangle(1'100'000, -50'000, 1'150'000, 0), box_z1 + 9'999, 600'000));
  // The hollow of a U goes round the box without touching it.
  const auto u_shape = [](Um hollow) {
    return std::vector<Corner>{{900'000, -250'000}, {1'350'000, -250'000}, {1'350'000, box_y0 - hollow}, {box_x0 - 10'000, box_y0 - hollow},
                               {box_x0 - 10'000, box_y1 + 10'000}, {1'350'000, box_y1 + 10'000}, {1'350'000, 250'000}, {900'000, 250'000}};
  };
  check_twins("round the box", prism(u_shape(10'000), 300'000, 400'000), prism(u_shape(9'999), 300'000, 400'000));
}

TEST_CASE("keep-outs: an upright cylinder") {
  // Centre 21 by 28 mm from the corner: 35 mm, the radius of 25 and the clearance of 10.
  check_twins("at the corner", cylinder({box_x1 + 21'000, box_y1 + 28'000, 350'000}, {box_x1 + 21'000, box_y1 + 28'000, 450'000}, 50'000),
              cylinder({box_x1 + 21'000, box_y1 + 27'999, 350'000}, {box_x1 + 21'000, box_y1 + 27'999, 450'000}, 50'000));
  check_twins("beside", cylinder({box_x0 - 35'000, 0, 450'000}, {box_x0 - 35'000, 0, 350'000}, 50'000),
              cylinder({box_x0 - 34'999, 0, 450'000}, {box_x0 - 34'999, 0, 350'000}, 50'000));
  check_twins("wider by a micrometre", cylinder({box_x0 - 35'000, 0, 450'000}, {box_x0 - 35'000, 0, 350'000}, 50'000),
              cylinder({box_x0 - 35'000, 0, 450'000}, {box_x0 - 35'000, 0, 350'000}, 50'002));
  check_twins("above", cylinder({1'100'000, 0, box_z1 + 10'000}, {1'100'000, 0, 600'000}, 50'000),
              cylinder({1'100'000, 0, box_z1 + 9'999}, {1'100'000, 0, 600'000}, 50'000));
}

TEST_CASE("keep-outs: a level cylinder") {
  check_twins("along y, beside", cylinder({box_x1 + 35'000, -100'000, 400'000}, {box_x1 + 35'000, 100'000, 400'000}, 50'000),
              cylinder({box_x1 + 34'999, -100'000, 400'000}, {box_x1 + 34'999, 100'000, 400'000}, 50'000));
  check_twins("along y, its flat end", cylinder({1'100'000, box_y1 + 10'000, 400'000}, {1'100'000, 250'000, 400'000}, 50'000),
              cylinder({1'100'000, box_y1 + 9'999, 400'000}, {1'100'000, 250'000, 400'000}, 50'000));
  check_twins("along x, above", cylinder({1'050'000, 0, box_z1 + 35'000}, {1'150'000, 0, box_z1 + 35'000}, 50'000),
              cylinder({1'050'000, 0, box_z1 + 34'999}, {1'150'000, 0, box_z1 + 34'999}, 50'000));
  // Axis 15 mm over the heights that count: the chord there is 20 mm to either side (15, 20, 25).
  const Um axis = box_z1 + 10'000 + 15'000;
  check_twins("along y, only its lower part counts", cylinder({box_x1 + 30'000, -100'000, axis}, {box_x1 + 30'000, 100'000, axis}, 50'000),
              cylinder({box_x1 + 29'998, -100'000, axis}, {box_x1 + 29'998, 100'000, axis}, 50'000));
  // Along (4, 3) in plan, its long side 10 mm from the corner: axis 35 mm away, at (21, 28) reversed to (-3, 4).
  const Um cx = box_x0 - 21'000, cy = box_y1 + 28'000;
  check_twins("along 4 by 3", cylinder({cx - 80'000, cy - 60'000, 400'000}, {cx + 80'000, cy + 60'000, 400'000}, 50'000),
              cylinder({cx - 80'000 + 2, cy - 60'000, 400'000}, {cx + 80'000 + 2, cy + 60'000, 400'000}, 50'000));
}

TEST_CASE("keep-outs: a slanted cylinder") {
  // It leans at 45 degrees over the box and passes the lid's rear edge.
  const auto leaning = [](Um rearward) {
    return cylinder({box_x1 + rearward, 0, 500'000}, {box_x1 + rearward - 100'000, 0, 600'000}, 20'000);
  };
  CHECK(broken(with_keep_out(leaning(150'000))) == Rules{});
  CHECK(broken(with_keep_out(leaning(20'000))) == Rules{"R5"});
  // Its lower side, 10 mm square to the axis, is 10 sqrt 2 = 14.142 mm forward of the axis at every height. At z = 544, the
  // last that counts, the axis is 44 mm forward of its start: 10 + 44 + 14.142 mm are just enough.
  CHECK_MESSAGE(broken(with_keep_out(leaning(68'143))) == Rules{}, told(with_keep_out(leaning(68'143))));
  CHECK(broken(with_keep_out(leaning(68'138))) == Rules{"R5"});
}
