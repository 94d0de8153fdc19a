#include <doctest/doctest.h>

#include "cellstow/measuring/placing.hpp"
#include "measuring/known_section.hpp"

using namespace cellstow::measuring;
using namespace cellstow::measuring::testing;

namespace {

Network one_point(std::vector<Datum> datums, const std::vector<double>& lengths, std::optional<Side> side = {}) {
  Network network{std::move(datums), {{"1", side}}, {}};
  for (std::size_t i = 0; i < lengths.size(); ++i) network.readings.push_back({i, network.datums.size(), lengths[i], 2});
  return network;
}

FaultKind fault_of(const Network& network) {
  const auto placed = place_points(network);
  REQUIRE_FALSE(placed);
  REQUIRE(placed.error().size() == 1);
  return placed.error().front().kind;
}

const std::vector<Datum> base = {{"D1", {0, 0}}, {"D2", {500, 0}}};

}  // namespace

TEST_CASE("cross: the triangle of sides 3, 4 and 5") {
  const std::vector<Place> places = cross({0, 0}, 300, {500, 0}, 400);
  REQUIRE(places.size() == 2);
  // 300 along the base times 300/500, and twice the area over the base: 300 x 400 / 500
  CHECK(places[0].a == doctest::Approx(180));
  CHECK(places[0].b == doctest::Approx(240));
  CHECK(places[1].b == doctest::Approx(-240));
  CHECK(crossing_angle_deg(places[0], {0, 0}, {500, 0}) == doctest::Approx(90));
}

TEST_CASE("cross: lengths too short or too unequal do not meet, and one place has no base") {
  CHECK(cross({0, 0}, 200, {500, 0}, 299).empty());
  CHECK(cross({0, 0}, 800, {500, 0}, 299).empty());
  CHECK(cross({0, 0}, 200, {0, 0}, 200).empty());
}

TEST_CASE("placing: two lengths leave two places, and only a side tells") {
  CHECK(fault_of(one_point(base, {300, 400})) == FaultKind::side_open);
  const auto above = place_points(one_point(base, {300, 400}, Side::high_b));
  REQUIRE(above);
  CHECK(above->front().b == doctest::Approx(240));
  const auto below = place_points(one_point(base, {300, 400}, Side::low_b));
  REQUIRE(below);
  CHECK(below->front().b == doctest::Approx(-240));
  // both places lie equally far along the base
  CHECK(fault_of(one_point(base, {300, 400}, Side::high_a)) == FaultKind::side_does_not_tell);
}

TEST_CASE("placing: a third length tells the side unless its datum lies on the line of the others") {
  std::vector<Datum> aside = base;
  aside.push_back({"D3", {250, 300}});
  const auto placed = place_points(one_point(aside, {300, 400, std::hypot(70, 60)}));
  REQUIRE(placed);
  CHECK(placed->front().b == doctest::Approx(240));
  // below none of the three lines between the datums
  std::vector<Datum> under = base;
  under.push_back({"D3", {250, -300}});
  CHECK(fault_of(one_point(under, {300, 400, std::hypot(70, 540)}, Side::low_b)) == FaultKind::side_contradicted);
  CHECK(place_points(one_point(under, {300, 400, std::hypot(70, 540)}, Side::high_b)));
  std::vector<Datum> in_line = base;
  in_line.push_back({"D3", {250, 0}});
  CHECK(fault_of(one_point(in_line, {300, 400, 250})) == FaultKind::side_open);
}

TEST_CASE("placing: faults are told by kind, and only at their root") {
  CHECK(fault_of(one_point(base, {300})) == FaultKind::too_few_readings);
  CHECK(fault_of(one_point(base, {200, 250})) == FaultKind::do_not_meet);
  CHECK(place_points(one_point(base, {200, 250})).error().front().short_by_mm == doctest::Approx(50));
  // a point 3 mm off the line between its datums: both lengths run nearly along it
  CHECK(fault_of(one_point(base, {std::hypot(250, 3), std::hypot(250, 3)}, Side::high_b)) == FaultKind::too_flat);
  Network chain = one_point(base, {300, 400});
  chain.points.push_back({"2", Side::high_b});
  chain.readings.push_back({0, 3, 300, 2});
  chain.readings.push_back({2, 3, 200, 2});
  CHECK(fault_of(chain) == FaultKind::side_open);
}

TEST_CASE("placing: points that hang on each other alone are both told") {
  Network network{base, {{"1", {}}, {"2", {}}}, {{0, 2, 300, 2}, {0, 3, 310, 2}, {2, 3, 50, 2}}};
  const auto placed = place_points(network);
  REQUIRE_FALSE(placed);
  REQUIRE(placed.error().size() == 2);
  CHECK(placed.error()[0].kind == FaultKind::hang_on_each_other);
}

TEST_CASE("placing: a point measured from points already placed") {
  Network network{base, {{"1", Side::high_b}, {"2", Side::high_b}, {"3", Side::high_b}}, {}};
  network.readings = {{0, 2, 300, 2}, {1, 2, 400, 2}, {0, 3, 400, 2}, {1, 3, 300, 2},
                      {2, 4, std::hypot(70, 200), 2}, {3, 4, std::hypot(70, 200), 2}};
  const auto placed = place_points(network);
  REQUIRE(placed);
  CHECK((*placed)[2].a == doctest::Approx(250));
  CHECK((*placed)[2].b == doctest::Approx(440));
}

TEST_CASE("placing: a whole section from three datums, read exactly, comes back") {
  const KnownSection section = boot(3);
  const auto placed = place_points(read_exactly(section, 2));
  REQUIRE(placed);
  for (std::size_t i = 0; i < section.corners.size(); ++i) CHECK(distance((*placed)[i], section.corners[i]) < 1e-9);
}
