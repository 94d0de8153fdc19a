#include "cellstow/balance/axle_checks.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "balance/cars.hpp"

using namespace cellstow;
using namespace cellstow::balance;
using doctest::Approx;

namespace {

const core::Check& check(const Balance& balance, const std::string& name) {
  for (const core::Check& c : balance.checks) {
    if (c.name == name) return c;
  }
  throw std::out_of_range(name);
}

bool any_contains(const std::vector<std::string>& lines, const std::string& text) {
  return std::any_of(lines.begin(), lines.end(),
                     [&](const std::string& line) { return line.find(text) != std::string::npos; });
}

std::string words(std::string name) {
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

bool left_out(const Balance& balance, const std::string& stage) {
  return std::any_of(balance.left_out.begin(), balance.left_out.end(),
                     [&](const core::LeftOut& entry) { return entry.stage == stage; });
}

}  // namespace

TEST_CASE("axle limits are checked in all five states") {
  survey::Car car = small_car();
  car.axle_limits = survey::AxleLoads{Kg::of(500), Kg::of(700)};
  car.gross_limit = Kg::of(1200);
  const Balance got = balance_car(car, two_boxes());
  CHECK(got.checks.size() == 11);
  for (const LoadState& s : got.states) {
    const core::Check& front = check(got, "front axle load, " + words(s.name));
    CHECK(front.value == Approx(s.front.value()));
    CHECK(front.limit == 500);
    CHECK(front.ok == (s.front.value() <= 500));
    CHECK(check(got, "rear axle load, " + words(s.name)).use == Approx(s.rear.value() / 700));
  }
  CHECK(check(got, "gross weight, full").ok);
  CHECK_FALSE(left_out(got, "axle limits"));
  CHECK(left_out(balance_car(small_car(), {}), "axle limits"));
}

TEST_CASE("the cure for an overloaded axle cures it") {
  // 100 kg box at 200, 110 kg box at 1700; the front axle is 20 kg over
  survey::Car car = small_car();
  const double front_kg = state(balance_car(car, two_boxes()), "full").front.value();
  car.axle_limits = survey::AxleLoads{Kg::of(front_kg - 20), Kg::of(900)};
  const core::Check failed = check(balance_car(car, two_boxes()), "front axle load, full");
  CHECK_FALSE(failed.ok);
  // 20 kg x 2160 mm = 43200 kg mm: 110 kg by 392.7 mm, or 28.8 kg by 1500 mm
  CHECK(failed.cure ==
        "move rear box (110.0 kg) 393 mm rearward, or 28.8 kg from front box to rear box, 1500 mm "
        "rearward");
  std::vector<Lump> moved = two_boxes();
  moved[1].x_mm += 393;
  CHECK(check(balance_car(car, moved), "front axle load, full").ok);
  std::vector<Lump> carried = two_boxes();
  carried[0].mass = Kg::of(100 - 28.8001);
  carried[1].mass = Kg::of(110 + 28.8001);
  CHECK(check(balance_car(car, carried), "front axle load, full").ok);
}

TEST_CASE("over both limits together only taking weight out helps") {
  survey::Car car = small_car();
  car.axle_limits = survey::AxleLoads{Kg::of(300), Kg::of(700)};
  const core::Check failed = check(balance_car(car, two_boxes()), "front axle load, full");
  CHECK(failed.cure == "over both axle limits together: take out 135.0 kg, or leave cells out");
}

TEST_CASE("gross limit: how much must come out") {
  survey::Car car = small_car();
  car.gross_limit = Kg::of(1112);
  const core::Check failed = check(balance_car(car, two_boxes()), "gross weight, full");
  CHECK_FALSE(failed.ok);
  CHECK(failed.cure.find("23.0 kg") != std::string::npos);
  car.gross_limit = Kg::of(1135);
  CHECK(check(balance_car(car, two_boxes()), "gross weight, full").ok);
}

TEST_CASE("front share target: judged as driven, both ways, with a cure that meets it") {
  survey::Car car = small_car();
  car.front_share_target = survey::ShareTarget{0.40, 0.42};
  std::vector<Lump> boxes = two_boxes();
  const Balance got = balance_car(car, boxes);
  const core::Check& above = check(got, "front share not above the target, as driven");
  CHECK(above.value == Approx(100 * state(got, "as_driven").front_share));
  CHECK(check(got, "front share not below the target, as driven").ok);
  REQUIRE_FALSE(above.ok);
  const double over_kg = (above.value / 100 - 0.42) * state(got, "as_driven").total.value();
  boxes[1].x_mm += std::ceil(over_kg * 2160 / 110);
  CHECK(check(balance_car(car, boxes), "front share not above the target, as driven").ok);
  car.front_share_target = survey::ShareTarget{0.55, 0.60};
  const core::Check low =
      check(balance_car(car, two_boxes()), "front share not below the target, as driven");
  CHECK_FALSE(low.ok);
  CHECK(low.cure.find("forward") != std::string::npos);
}

TEST_CASE("an axle lifted off the ground is shown as it is and fails") {
  const Balance got =
      balance_car(car_on_axles(2500, 300, 300), {{"load", Kg::of(800), 3800, 0, 0}});
  CHECK(state(got, "empty").front.value() == Approx(300 - 800 * 1300 / 2500.0));
  const core::Check& lifted = check(got, "front axle stays on the ground, empty");
  CHECK_FALSE(lifted.ok);
  CHECK(lifted.value < 0);
  CHECK_THROWS_AS(
      check(balance_car(small_car(), two_boxes()), "front axle stays on the ground, empty"),
      std::out_of_range);
}

TEST_CASE("30 kg in hand is a caution, not a check") {
  survey::Car car = small_car();
  const double rear_kg = state(balance_car(car, two_boxes()), "full").rear.value();
  car.axle_limits = survey::AxleLoads{Kg::of(900), Kg::of(rear_kg + 29)};
  Balance got = balance_car(car, two_boxes());
  CHECK(check(got, "rear axle load, full").ok);
  CHECK(any_contains(got.cautions, "rear axle load, full: 29.0 kg in hand"));
  car.axle_limits = survey::AxleLoads{Kg::of(900), Kg::of(rear_kg + 31)};
  got = balance_car(car, two_boxes());
  CHECK_FALSE(any_contains(got.cautions, "in hand"));
}

TEST_CASE("retrofit figures: a note inside 20 and 10 per cent, a caution outside") {
  std::vector<Lump> ahead = two_boxes();
  ahead[0].x_mm = -100;  // front share 40.9 to 46.1 %, an eighth more
  CHECK(any_contains(balance_car(small_car(), ahead).cautions, "read locally"));
  std::vector<Lump> light = {{"rear box", Kg::of(110), 1700, 0, 480}};
  const Balance got = balance_car(small_car(), light);
  CHECK(any_contains(got.notes, "read locally"));
  CHECK_FALSE(any_contains(got.cautions, "read locally"));
  light[0].mass = Kg::of(300);
  light[0].x_mm = 1276;
  CHECK(any_contains(balance_car(small_car(), light).cautions, "read locally"));  // 25 % heavier
}

TEST_CASE("left and right: beyond the usual scatter is a caution, missing tracks are said") {
  std::vector<Lump> boxes = two_boxes();
  CHECK_FALSE(any_contains(balance_car(small_car(), boxes).cautions, "left wheels"));
  boxes[0].y_mm = -500;
  CHECK(any_contains(balance_car(small_car(), boxes).cautions, "left wheels"));
  CHECK(left_out(balance_car(car_on_axles(2500, 500, 500), {}), "left and right"));
  CHECK(any_contains(balance_car(car_on_axles(2500, 500, 500), {}).notes,
                     "only the axles were weighed"));
}

TEST_CASE("ride height notes at 20 and 25 mm") {
  survey::Car car = small_car();
  const Balance plain = balance_car(car, two_boxes());
  const double gain_n =
      (state(plain, "empty").front - state(plain, "before").front).value() * 9.80665;
  struct Case {
    double drop_mm;
    const char* said;
    bool caution;
  };
  for (const Case& c : {Case{19.5, "positive is higher", false}, Case{20.5, "over 20 mm", true},
                        Case{25.5, "over 25 mm", true}}) {
    car.wheel_rates = survey::Car::WheelRates{core::NewtonPerMm::of(gain_n / 2 / c.drop_mm),
                                              core::NewtonPerMm::of(500)};
    const Balance got = balance_car(car, two_boxes());
    CHECK(any_contains(c.caution ? got.cautions : got.notes, c.said));
  }
}
