#include "cellstow/wiring/cable.hpp"

#include <doctest/doctest.h>

using namespace cellstow::wiring;
using doctest::Approx;

TEST_CASE("published: a cable of steel and copper wires, 1 km at 0.1 A") {
  // Secondary text: 2 x 0.6 mm2 steel (0.13) beside 4 x 0.85 mm2 copper (0.017): printed 108.33,
  // 5, 4.78 ohm, 0.48 V.
  const double steel_ohm = conductor_resistance_ohm(0.13, 1000, 2 * 0.6);
  const double copper_ohm = conductor_resistance_ohm(0.017, 1000, 4 * 0.85);
  CHECK(steel_ohm == Approx(108.33).epsilon(5e-5));
  CHECK(copper_ohm == Approx(5.0));
  const double both_ohm = steel_ohm * copper_ohm / (steel_ohm + copper_ohm);
  CHECK(both_ohm == Approx(4.78).epsilon(1e-3));
  CHECK(both_ohm * 0.1 == Approx(0.48).epsilon(1e-2));
}

TEST_CASE("derived, no printed source: 4 m out and back at 200 A") {
  struct Case {
    double area_mm2, drop_v, heat_w;
  };
  const Case cases[] = {{35, 0.786, 157}, {50, 0.550, 110}, {70, 0.393, 79}, {95, 0.290, 58}};
  for (const Case& c : cases) {
    CAPTURE(c.area_mm2);
    CHECK(two_wire_drop_v(4, 200, c.area_mm2) == Approx(c.drop_v).epsilon(2e-3));
    CHECK(200 * two_wire_drop_v(4, 200, c.area_mm2) == Approx(c.heat_w).epsilon(5e-3));
  }
}
