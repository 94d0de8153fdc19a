#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "balance/cars.hpp"
#include "cellstow/choosing/leverage.hpp"
#include "cellstow/choosing/moves.hpp"

using namespace cellstow;
using namespace cellstow::choosing;
using balance::balance_car;
using balance::car_on_axles;
using balance::Lump;
using balance::small_car;
using balance::state;
using balance::two_boxes;
using doctest::Approx;

namespace {

std::vector<Lump> random_lumps(std::mt19937& draw) {
  std::uniform_real_distribution<double> kg(5, 150), x(-600, 2900), z(200, 900);
  std::vector<Lump> lumps;
  for (int i = 0; i < 3; ++i) lumps.push_back({"box " + std::to_string(i), core::Kg::of(kg(draw)), x(draw), 0, z(draw)});
  return lumps;
}

}  // namespace

TEST_CASE("published: loads from a mass and its place") {
  // axle example (secondary text): wheelbase 150 in, empty 4000/3000 lb, 10000 lb at 120 in: front 6000, rear 11000
  AxleSums truck(state(balance_car(car_on_axles(150, 4000, 3000), {}), "before"), 150);
  truck.add(10'000, 120, 0);
  CHECK(truck.front_kg() == Approx(6000));
  CHECK(truck.rear_kg() == Approx(11'000));
  // owner's manual (1999): 700 lb 4 ft ahead of the front axle, wheelbase 10 ft: front + 980 lb
  AxleSums plough(state(balance_car(car_on_axles(10, 0, 0), {}), "before"), 10);
  plough.add(700, -4, 0);
  CHECK(plough.front_kg() == Approx(980));
}

TEST_CASE("leverage: sums agree with the full balance for any lumps") {
  std::mt19937 draw(11);
  const survey::Car car = small_car();
  const auto bare = balance_car(car, {});
  for (int k = 0; k < 200; ++k) {
    const std::vector<Lump> lumps = random_lumps(draw);
    const auto whole = balance_car(car, lumps);
    for (const char* name : {"empty", "as_driven", "full"}) {
      AxleSums sums(state(bare, name), car.wheelbase->mm());
      for (const Lump& lump : lumps) sums.add(lump.mass.value(), lump.x_mm, lump.z_mm);
      CHECK(sums.front_kg() == Approx(state(whole, name).front.value()).epsilon(1e-12));
      CHECK(sums.rear_kg() == Approx(state(whole, name).rear.value()).epsilon(1e-12));
      CHECK(sums.front_share() == Approx(state(whole, name).front_share).epsilon(1e-12));
      CHECK(sums.cg_height_mm() == Approx(state(whole, name).cg_z_mm).epsilon(1e-12));
    }
  }
}

TEST_CASE("leverage: the front share's slope is mass times lever arm over wheelbase times total") {
  std::mt19937 draw(12);
  const survey::Car car = small_car();
  for (int k = 0; k < 200; ++k) {
    std::vector<Lump> lumps = random_lumps(draw);
    const auto& before = state(balance_car(car, lumps), "as_driven");
    const double from = lumps[0].x_mm;
    lumps[0].x_mm += std::uniform_real_distribution<double>(-800, 800)(draw);
    const auto after = balance_car(car, lumps);
    CHECK(share_change_of_move(lumps[0].mass.value(), from, lumps[0].x_mm, car.wheelbase->mm(), before.total.value()) ==
          Approx(state(after, "as_driven").front_share - before.front_share).epsilon(1e-9));
    const Lump extra{"extra", core::Kg::of(40), 700, 0, 500};
    const double was = state(after, "as_driven").front_share, total = state(after, "as_driven").total.value();
    lumps.push_back(extra);
    CHECK(share_change_of_adding(40, 700, car.wheelbase->mm(), total, was) == Approx(state(balance_car(car, lumps), "as_driven").front_share - was).epsilon(1e-9));
  }
}

TEST_CASE("moves: each thing moved as told meets target and axle limits, and a millimetre less does not") {
  std::mt19937 draw(13);
  int needed = 0;
  for (int k = 0; k < 400; ++k) {
    survey::Car car = small_car();
    const std::vector<Lump> boxes = random_lumps(draw);
    const auto now = balance_car(car, boxes);
    const double share = state(now, "as_driven").front_share;
    const double middle = share + std::uniform_real_distribution<double>(-0.05, 0.05)(draw);
    car.front_share_target = survey::ShareTarget{middle - 0.015, middle + 0.015};
    if (k % 2 == 0) {
      car.axle_limits = survey::AxleLoads{core::Kg::of(state(now, "full").front.value() + std::uniform_real_distribution<double>(-10, 60)(draw)),
                                          core::Kg::of(state(now, "full").rear.value() + std::uniform_real_distribution<double>(-10, 60)(draw))};
    }
    std::vector<Lump> things{{"motor", car.added[0].mass, car.added[0].at.x.mm(), 0, 0}};
    things.insert(things.end(), boxes.begin(), boxes.end());
    const ShiftWindow window = shift_window(car, now.states);
    const auto holds = [&](const std::string& what, double by_mm) {
      survey::Car moved = car;
      std::vector<Lump> moved_boxes = boxes;
      if (what == "motor") moved.added[0].at.x = core::Length::from_um(moved.added[0].at.x.um() + std::llround(by_mm * 1000));
      for (Lump& box : moved_boxes) {
        if (box.name == what) box.x_mm += by_mm;
      }
      const auto then = balance_car(moved, moved_boxes);
      const double s = state(then, "as_driven").front_share;
      bool ok = s >= car.front_share_target->min - 1e-9 && s <= car.front_share_target->max + 1e-9;
      for (const char* name : {"empty", "as_driven", "full"}) {
        if (!car.axle_limits) break;
        ok = ok && state(then, name).front.value() <= car.axle_limits->front.value() + 1e-6 && state(then, name).rear.value() <= car.axle_limits->rear.value() + 1e-6;
      }
      return ok;
    };
    const std::vector<Move> all = moves(window, things, car.wheelbase->mm());
    if (window.empty()) {
      CHECK(all.empty());
      for (const Lump& box : boxes) {
        for (int by = -3000; by <= 3000; by += 50) CHECK_FALSE(holds(box.name, by));
      }
      continue;
    }
    REQUIRE(all.size() == things.size());
    for (const Move& move : all) {
      CAPTURE(move.what);
      if (window.holds_zero()) {
        CHECK(move.by_mm == 0);
        CHECK(holds(move.what, 0));
        CHECK(holds(move.what, -move.forward_mm + 0.002));
        CHECK(holds(move.what, move.rearward_mm - 0.002));
        CHECK_FALSE(holds(move.what, -move.forward_mm - 1));
        CHECK_FALSE(holds(move.what, move.rearward_mm + 1));
      } else {
        ++needed;
        CHECK(holds(move.what, move.by_mm));
        CHECK_FALSE(holds(move.what, move.by_mm - std::copysign(1.0, move.by_mm)));
        CHECK(move.to_x_mm == Approx(move.x_mm + move.by_mm));
      }
    }
  }
  CHECK(needed > 100);
}

TEST_CASE("moves: followed by hand") {
  // 1000 kg, wheelbase 2000: 480 in front. Wanted at least 50 %: 20 kg more in front. 40 kg moved 1000 mm forward: 40 x 1000 / 2000 = 20 kg
  survey::Car car = car_on_axles(2000, 480, 520);
  car.front_share_target = survey::ShareTarget{0.5, 0.55};
  const auto now = balance_car(car, {});
  const ShiftWindow window = shift_window(car, now.states);
  CHECK(window.low_kg == Approx(20));
  CHECK(window.high_kg == Approx(70));
  const std::vector<Move> all = moves(window, {{"charger", core::Kg::of(40), 1500, 0, 0}}, 2000);
  REQUIRE(all.size() == 1);
  CHECK(all[0].by_mm == Approx(-1000));
  CHECK(all[0].to_x_mm == Approx(500));
  CHECK_FALSE(all[0].beyond_wheelbase);
  CHECK(moves(window, {{"lamp", core::Kg::of(1), 1500, 0, 0}}, 2000).at(0).beyond_wheelbase);
}
