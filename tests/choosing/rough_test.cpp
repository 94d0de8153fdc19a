#include "cellstow/choosing/rough.hpp"

#include <doctest/doctest.h>

using namespace cellstow;
using namespace cellstow::choosing;
using doctest::Approx;

namespace {

/// The 280 Ah class: 3.2 V, 5.4 kg, 72 x 174 x 207.5 mm, 2.5 to 3.65 V.
survey::Cell cell_280() {
  survey::Cell cell;
  cell.name = "280 Ah";
  cell.thickness = core::Length::from_mm(72);
  cell.width = core::Length::from_mm(174);
  cell.height = core::Length::from_mm(207.5);
  cell.terminal_top = cell.height;
  cell.mass = core::Kg::of(5.4);
  cell.capacity = core::AmpereHour::of(280);
  cell.voltage = survey::VoltageWindow{core::Volt::of(2.5), core::Volt::of(3.2), core::Volt::of(3.65)};
  return cell;
}

RoughInput small_car() {
  RoughInput input;
  input.range_km = 100;
  input.consumption_wh_per_km = 158;
  input.car_kg = 819;
  input.out_kg = 190;
  input.gross_limit_kg = 1130;
  return input;
}

/// No give or take in the consumption, so that figures can be followed by hand.
RoughRules plain_rules() {
  RoughRules rules;
  rules.consumption_scatter.value = {0, 0};
  rules.box_share.value = {0.13, 0.21};
  rules.cables_kg.value = {8, 15};
  rules.drive_kg.value = {60, 100};
  return rules;
}

}  // namespace

TEST_CASE("roughly: energy, cells and masses followed by hand") {
  RoughInput input = small_car();
  input.controller = survey::VoltRange{core::Volt::of(84), core::Volt::of(132)};
  const RoughAnswer answer = rough_answer(input, plain_rules(), {cell_280()});
  // 100 km x 158 Wh/km = 15.8 kWh driven; over 0.85 and 0.80 of the nominal energy
  CHECK(answer.needed_kwh.low == Approx(18.5882).epsilon(1e-5));
  CHECK(answer.needed_kwh.high == Approx(19.75));
  REQUIRE(answer.formats.size() == 1);
  const RoughFormat& f = answer.formats[0];
  CHECK(f.cell_kwh == Approx(0.896));  // 280 Ah x 3.2 V, and so a data sheet of that class prints it
  CHECK(f.needed.low == 21);           // 18.5882 / 0.896 = 20.75
  CHECK(f.needed.high == 23);          // 19.75 / 0.896 = 22.04
  // 84 V / 2.5 V = 33.6: 34 at least; 132 V / 3.65 V = 36.2: 36 at most
  CHECK(f.light.series == 34);
  CHECK(f.heavy.series == 34);
  CHECK(f.kwh.low == Approx(34 * 0.896));
  CHECK(f.added_kg.low == Approx(34 * 5.4 * 1.13 + 8 + 60));     // 275.5
  CHECK(f.added_kg.high == Approx(34 * 5.4 * 1.21 + 15 + 100));  // 337.2
  CHECK(f.car_kg.high == Approx(819 - 190 + 337.156));
  CHECK(f.left_kg.low == Approx(1130 - 629 - 337.156));
  CHECK(f.mass_change.high == Approx((629 + 337.156) / 819 - 1));
  CHECK(f.plate == PlateAnswer::yes);
}

TEST_CASE("roughly: volts of strings as printed for 3.2 V cells") {
  // Arithmetic of two cell specifications (3.2 V nominal): 36 cells 115.2 V, 45 cells 144 V, 96 cells 307.2 V, 100 cells 320 V
  struct Case { double range_km; int cells; double volts; };
  for (const Case& c : {Case{36, 36, 115.2}, Case{45, 45, 144}, Case{96, 96, 307.2}, Case{100, 100, 320}}) {
    RoughInput input = small_car();
    input.range_km = c.range_km;
    input.consumption_wh_per_km = 896;  // one cell a kilometre, all of it usable
    RoughRules rules = plain_rules();
    rules.usable.value = {1, 1};
    const RoughFormat f = rough_answer(input, rules, {cell_280()}).formats.at(0);
    CHECK(f.light.cells() == c.cells);
    CHECK(f.volts.low == Approx(c.volts));
  }
}

TEST_CASE("roughly: the litres of a worked cavity hold about what was counted in it") {
  // Worked reference cavity: 59 cells' worth of litres, 18 cells counted in it
  RoughInput input = small_car();
  input.cavity_litres = 59 * 72 * 174 * 207.5 / 1e6;
  const RoughFormat f = rough_answer(input, RoughRules(), {cell_280()}).formats.at(0);
  REQUIRE(f.cavity_holds);
  CHECK(f.cavity_holds->low == 14);   // 59 x 0.24 = 14.2
  CHECK(f.cavity_holds->high == 27);  // 59 x 0.47 = 27.7
  CHECK(f.cavity_holds->low <= 18);
  CHECK(f.cavity_holds->high >= 18);
}

TEST_CASE("roughly: the plate is met exactly, or by the light end only, or not") {
  RoughInput input = small_car();
  const RoughFormat f = rough_answer(input, plain_rules(), {cell_280()}).formats.at(0);
  const auto plate_with = [&](double left_low_kg) {
    input.gross_limit_kg = f.car_kg.high + left_low_kg;
    return rough_answer(input, plain_rules(), {cell_280()}).formats.at(0).plate;
  };
  CHECK(plate_with(75 + 1e-6) == PlateAnswer::yes);
  CHECK(plate_with(74.9) == PlateAnswer::light_end);
  CHECK(plate_with(75 - (f.car_kg.high - f.car_kg.low) - 1e-6) == PlateAnswer::no);
}

TEST_CASE("roughly: the string of fewest cells, against every string there is") {
  for (int lowest = 1; lowest <= 12; ++lowest) {
    for (int highest = lowest; highest <= 14; ++highest) {
      for (int needed = 1; needed <= 60; ++needed) {
        int fewest = 1'000'000, side_by_side = 0;
        for (int parallel = 1; parallel <= 60; ++parallel) {
          for (int series = lowest; series <= highest; ++series) {
            if (series * parallel >= needed && series * parallel < fewest) fewest = series * parallel, side_by_side = parallel;
          }
        }
        CAPTURE(lowest);
        CAPTURE(highest);
        CAPTURE(needed);
        const RoughString got = rough_string(needed, lowest, highest);
        CHECK(got.cells() == fewest);
        CHECK(got.parallel == side_by_side);
        CHECK(got.series >= lowest);
        CHECK(got.series <= highest);
      }
    }
  }
  CHECK(rough_string(30, 40, 20).series == 0);
  CHECK(rough_string(30, 1, 0).cells() == 30);
}

TEST_CASE("roughly: what cannot be said is said so") {
  survey::Cell without = cell_280();
  without.capacity.reset();
  RoughInput input = small_car();
  input.controller = survey::VoltRange{core::Volt::of(100), core::Volt::of(101)};  // 40 cells at least, 27 at most
  const RoughAnswer answer = rough_answer(input, RoughRules(), {without, cell_280()});
  REQUIRE(answer.left_out.size() == 1);
  CHECK(answer.left_out[0].find("capacity_ah") != std::string::npos);
  REQUIRE(answer.formats.size() == 1);
  CHECK_FALSE(answer.formats[0].suits);
}

TEST_CASE("roughly: every rule has words and a source, and each moves the answer its way") {
  const RoughRules standard;
  for (const RoughRule* rule : standard.all()) {
    CHECK_FALSE(rule->what.empty());
    CHECK_FALSE(rule->source.empty());
    CHECK(rule->value.low <= rule->value.high);
  }
  const RoughInput input = small_car();
  const RoughFormat base = rough_answer(input, standard, {cell_280()}).formats.at(0);
  const auto heavier = [&](RoughRule RoughRules::*rule, Band value) {
    RoughRules rules;
    (rules.*rule).value = value;
    return rough_answer(input, rules, {cell_280()}).formats.at(0).car_kg.high > base.car_kg.high;
  };
  CHECK(heavier(&RoughRules::usable, {0.5, 0.6}));
  CHECK(heavier(&RoughRules::consumption_scatter, {0.3, 0.3}));
  CHECK(heavier(&RoughRules::box_share, {0.3, 0.4}));
  CHECK(heavier(&RoughRules::cables_kg, {30, 40}));
  CHECK(heavier(&RoughRules::drive_kg, {150, 200}));
}
