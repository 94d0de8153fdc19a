#include "cellstow/wiring/string_window.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

using namespace cellstow;
using namespace cellstow::wiring;
using core::Volt;
using doctest::Approx;

namespace {

survey::Cell cell_of(double min, double nominal, double max) {
  survey::Cell cell;
  cell.voltage = survey::VoltageWindow{Volt::of(min), Volt::of(nominal), Volt::of(max)};
  cell.capacity = core::AmpereHour::of(160);
  return cell;
}

survey::VoltRange range(double min, double max) { return {Volt::of(min), Volt::of(max)}; }

survey::StringSpec controller_of(double min, double max) {
  survey::StringSpec string;
  string.controller = survey::Controller{range(min, max), {}};
  return string;
}

bool any_contains(const std::vector<std::string>& lines, const std::string& text) {
  return std::any_of(lines.begin(), lines.end(),
                     [&](const std::string& line) { return line.find(text) != std::string::npos; });
}

int failing(const StringResult& result) {
  return static_cast<int>(std::count_if(result.checks.begin(), result.checks.end(),
                                        [](const core::Check& check) { return !check.ok; }));
}

}  // namespace

TEST_CASE("strings of LFP cells at 2.5, 3.2 and 3.65 V") {
  // The three cell voltages are printed in two cell specifications; the sums are plain multiples.
  struct Case {
    int series;
    double min_v, nominal_v, max_v;
  };
  for (const Case& c : {Case{36, 90, 115.2, 131.4}, Case{45, 112.5, 144, 164.25},
                        Case{96, 240, 307.2, 350.4}, Case{100, 250, 320, 365}}) {
    CAPTURE(c.series);
    const StringResult got = judge_string(cell_of(2.5, 3.2, 3.65), {}, c.series);
    CHECK(got.min_v == Approx(c.min_v).epsilon(1e-12));
    CHECK(got.nominal_v == Approx(c.nominal_v).epsilon(1e-12));
    CHECK(got.max_v == Approx(c.max_v).epsilon(1e-12));
    // a device whose limits are exactly these volts allows this count and no other
    const CountWindow window =
        count_window(cell_of(2.5, 3.2, 3.65), controller_of(c.min_v, c.max_v));
    CHECK(window.lowest == c.series);
    CHECK(window.highest == c.series);
    CHECK_FALSE(window.empty);
  }
}

TEST_CASE("worked by hand: a window of 34 to 41, and 34 has nothing in hand") {
  // 95 / 2.8 = 33.9 -> 34; 150 / 3.65 = 41.1 -> 41; own arithmetic, no printed source
  const survey::StringSpec string = controller_of(95, 150);
  const StringResult got = judge_string(cell_of(2.8, 3.2, 3.65), string, 34);
  CHECK(got.window.lowest == 34);
  CHECK(got.window.highest == 41);
  CHECK(failing(got) == 0);
  CHECK(got.checks.size() == 2);
  CHECK(any_contains(got.cautions, "no cell in hand at the low end"));
  CHECK(any_contains(got.notes, "0 cells at the low end, 7 at the high end"));
  const StringResult inside = judge_string(cell_of(2.8, 3.2, 3.65), string, 38);
  CHECK_FALSE(any_contains(inside.cautions, "in hand"));
  CHECK_FALSE(any_contains(inside.cautions, "no room"));
  CHECK(any_contains(judge_string(cell_of(2.8, 3.2, 3.65), string, 41).cautions,
                     "braking on the motor"));
}

TEST_CASE("outside the window a check fails and says how many cells would do") {
  const StringResult low = judge_string(cell_of(2.8, 3.2, 3.65), controller_of(95, 150), 33);
  REQUIRE(failing(low) == 1);
  CHECK(low.checks[0].value == Approx(92.4));
  CHECK(low.checks[0].limit == Approx(95));
  CHECK(low.checks[0].cure ==
        "34 cells in series or more, or a controller that works down to 92.4 V");
  const StringResult high = judge_string(cell_of(2.8, 3.2, 3.65), controller_of(95, 150), 42);
  REQUIRE(failing(high) == 1);
  CHECK(high.checks[1].value == Approx(153.3));
  CHECK(high.checks[1].cure == "41 cells in series or fewer, or a controller made for 153.3 V");
}

TEST_CASE("exact ratios are not lost to binary fractions") {
  // each of these is a whole number of cells, and several are not in floating point
  for (const double cell_v : {2.5, 2.8, 3.3, 3.55, 3.6, 3.65, 4.2, 0.1, 0.3, 2.7}) {
    for (int count = 1; count <= 400; ++count) {
      const double device_v = std::strtod(std::to_string(cell_v * count).c_str(), nullptr);
      const CountWindow window =
          count_window(cell_of(cell_v, cell_v, cell_v), controller_of(device_v, device_v));
      REQUIRE(window.lowest == count);
      REQUIRE(window.highest == count);
      const StringResult got =
          judge_string(cell_of(cell_v, cell_v, cell_v), controller_of(device_v, device_v), count);
      REQUIRE(failing(got) == 0);
    }
  }
}

TEST_CASE("property: a count passes every check exactly when it lies in the window") {
  std::mt19937 random(11);
  std::uniform_int_distribution<int> low_mv(40'000, 200'000), span_mv(-20'000, 200'000),
      cell_mv(2'000, 3'000);
  for (int round = 0; round < 200; ++round) {
    const auto device = [&] {
      const int low = low_mv(random);
      return range(low / 1000.0, (low + std::max(1, span_mv(random))) / 1000.0);
    };
    survey::StringSpec string;
    string.controller = survey::Controller{device(), {}};
    string.converter = device();
    string.charger = device();
    const double min_v = cell_mv(random) / 1000.0;
    const survey::Cell cell = cell_of(min_v, 3.2, 3.65);
    const CountWindow window = count_window(cell, string);
    bool any = false;
    for (int series = 1; series <= 200; ++series) {
      const bool inside = series >= window.lowest && series <= window.highest;
      REQUIRE((failing(judge_string(cell, string, series)) == 0) == inside);
      any = any || inside;
    }
    CHECK(window.empty == !any);
  }
}

TEST_CASE("every device narrows the window for its own reason") {
  survey::StringSpec string = controller_of(80, 170);
  string.converter = range(60, 150);
  string.charger = range(100, 160);
  const CountWindow window = count_window(cell_of(2.5, 3.2, 3.65), string);
  CHECK(window.lowest == 40);   // the charger must start on the empty string: 100 / 2.5
  CHECK(window.highest == 41);  // the converter must stand the full one: 150 / 3.65
  REQUIRE(window.lowest_by.size() == 3);
  CHECK(window.lowest_by[0].device == "controller");
  CHECK(window.lowest_by[0].count == 32);
  CHECK(window.lowest_by[2].device == "charger");
  CHECK(window.lowest_by[2].why.find("starts on the empty string") != std::string::npos);
  CHECK(window.highest_by[1].count == 41);
  CHECK(window.highest_by[2].count == 43);
}

TEST_CASE("edges: no device, no voltage, a window without a count, a device below one cell") {
  CountWindow window = count_window(cell_of(2.5, 3.2, 3.65), {});
  CHECK(window.lowest == 1);
  CHECK(window.highest == 0);
  CHECK_FALSE(window.empty);

  survey::Cell plain;
  CHECK(count_window(plain, controller_of(90, 150)).highest_by.empty());
  const StringResult left_out = judge_string(plain, controller_of(90, 150), 36);
  CHECK(left_out.checks.empty());
  CHECK(any_contains(left_out.notes, "voltage_v is not given"));

  survey::StringSpec string = controller_of(120, 200);
  string.charger = range(50, 130);
  window = count_window(cell_of(2.5, 3.2, 3.65), string);
  CHECK(window.empty);
  CHECK(window.lowest == 48);
  CHECK(window.highest == 35);
  for (const int series : {35, 40, 48})
    CHECK(failing(judge_string(cell_of(2.5, 3.2, 3.65), string, series)) > 0);
  CHECK(any_contains(judge_string(cell_of(2.5, 3.2, 3.65), string, 40).notes,
                     "no count suits all devices"));

  window = count_window(cell_of(2.5, 3.2, 3.65), controller_of(0, 3));
  CHECK(window.highest == 0);
  CHECK(window.empty);
  CHECK(window.lowest_by.empty());
}

TEST_CASE("energy and range by hand") {
  survey::StringSpec string;
  string.parallel = 2;
  string.consumption = core::WattHourPerKm::of(160);
  const StringResult got = judge_string(cell_of(2.8, 3.2, 3.65), string, 36);
  CHECK(got.energy_kwh == Approx(36 * 3.2 * 2 * 160 / 1000));
  REQUIRE(got.range_km);
  CHECK(*got.range_km == Approx(0.8 * 36.864e3 / 160));  // 184.3 km
  CHECK(any_contains(got.notes, "range 184 to 196 km at 160 Wh/km"));
  string.consumption.reset();
  CHECK_FALSE(judge_string(cell_of(2.8, 3.2, 3.65), string, 36).range_km);
}

TEST_CASE("current, cable and hazard are said") {
  survey::StringSpec string;
  string.continuous = core::Ampere::of(200);
  string.cable_route = core::Length::from_mm(4000);
  survey::Cell cell = cell_of(2.5, 3.2, 3.65);
  cell.resistance = core::Milliohm::of(0.5);
  const StringResult got = judge_string(cell, string, 36);
  CHECK(any_contains(got.notes, "1.25 C"));
  CHECK(any_contains(got.notes, "takes 3.6 V off the string and makes 720 W"));
  CHECK(any_contains(
      got.notes,
      "50 mm2 loses 0.55 V (110 W); 70 mm2 loses 0.39 V (79 W); 95 mm2 loses 0.29 V (58 W)"));
  CHECK(any_contains(got.cautions, "131.4 V when full: above 60 V DC, voltage class B"));
  CHECK(any_contains(judge_string(cell, {}, 17).cautions, "class B"));        // 62.05 V
  CHECK_FALSE(any_contains(judge_string(cell, {}, 16).cautions, "class B"));  // 58.4 V
}
