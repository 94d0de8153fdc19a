#include "cellstow/choosing/splits.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <set>

#include "balance/cars.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;
using namespace cellstow::choosing;
using balance::balance_car;
using balance::Lump;
using balance::small_car;
using balance::state;
using doctest::Approx;

namespace {

const std::vector<Offer> offers = {{0, 18, 1, 6.1, -120, 30, 520}, {4, 20, 2, 6.4, 1820, -15, 455}, {0, 9, 1, 6.9, 900, 0, 300}};

survey::Job job_of(const survey::Car& car) {
  survey::Job job;
  job.car = car;
  for (const char* name : {"front trunk", "tank well", "tunnel"}) {
    job.cavities.push_back(test::shaft({{0, 0}, {100'000, 0}, {100'000, 100'000}, {0, 100'000}}, 100'000));
    job.cavities.back().name = name;
  }
  return job;
}

std::vector<Lump> lumps_of(const std::vector<int>& cells) {
  std::vector<Lump> lumps;
  for (std::size_t i = 0; i < cells.size(); ++i) lumps.push_back({"box", core::Kg::of(offers[i].kg_per_cell * cells[i]), offers[i].x_mm, offers[i].y_mm, offers[i].z_mm});
  return lumps;
}

survey::Car weighed_car() {
  survey::Car car = small_car();
  car.front_share_target = survey::ShareTarget{0.42, 0.46};
  car.axle_limits = survey::AxleLoads{core::Kg::of(540), core::Kg::of(640)};
  car.gross_limit = core::Kg::of(1150);
  car.wheel_rates = survey::Car::WheelRates{core::NewtonPerMm::of(20), core::NewtonPerMm::of(24)};
  return car;
}

const std::vector<int> chosen = {14, 12, 4};

SplitInput input(int fewest = 0) { return {offers, chosen, 1, lumps_of(chosen), fewest}; }

}  // namespace

TEST_CASE("splits: every way of sharing is told once, and no other") {
  std::set<std::vector<int>> by_hand;
  for (int a = 0; a <= 18; ++a) {
    for (int b = 4; b <= 20; ++b) {
      const int c = 30 - a - b;
      if (c >= 0 && c <= 9) by_hand.insert({a, b, c});
    }
  }
  std::vector<std::vector<int>> told;
  for_each_split(offers, 30, 1, [&](const std::vector<int>& cells) { told.push_back(cells); });
  CHECK(told.size() == by_hand.size());
  CHECK(std::set<std::vector<int>>(told.begin(), told.end()) == by_hand);
  int in_pairs = 0;
  for_each_split({{0, 10, 1, 5, 0, 0, 0}, {0, 9, 1, 5, 0, 0, 0}}, 12, 2, [&](const std::vector<int>& cells) {
    ++in_pairs;
    CHECK(cells[0] % 2 == 0);
    CHECK(cells[0] + cells[1] == 12);
  });
  CHECK(in_pairs == 4);  // 10 + 2, 8 + 4, 6 + 6, 4 + 8; 2 + 10 is more than the second holds
}

TEST_CASE("splits: each row is what the full balance makes of it") {
  const survey::Job job = job_of(weighed_car());
  const auto study = study_splits(job, input(), {});
  REQUIRE(study);
  CHECK(study->cells == 30);
  CHECK(study->rows.size() > 100);
  int chosen_rows = 0, over = 0;
  for (const SplitRow& row : study->rows) {
    const auto whole = balance_car(*job.car, lumps_of(row.cells));
    CHECK(row.front_share == Approx(state(whole, "as_driven").front_share).epsilon(1e-12));
    CHECK(*row.cg_height_mm == Approx(state(whole, "as_driven").cg_z_mm).epsilon(1e-12));
    CHECK(row.front_full_kg == Approx(state(whole, "full").front.value()).epsilon(1e-12));
    CHECK(row.rear_full_kg == Approx(state(whole, "full").rear.value()).epsilon(1e-12));
    double in_hand = 1e9;
    for (const char* name : {"empty", "as_driven", "full"}) {
      in_hand = std::min({in_hand, 540 - state(whole, name).front.value(), 640 - state(whole, name).rear.value()});
    }
    CHECK(*row.axle_in_hand_kg == Approx(in_hand).epsilon(1e-9));
    CHECK(row.within_limits == (in_hand >= 0));
    CHECK(row.meets_target == (row.front_share >= 0.42 && row.front_share <= 0.46));
    CHECK(row.boxes == (row.cells[0] > 0) + 2 * (row.cells[1] > 0) + (row.cells[2] > 0));
    chosen_rows += row.chosen;
    over += !row.within_limits;
  }
  CHECK(chosen_rows == 1);
  CHECK(over > 0);
}

TEST_CASE("splits: one cell moved changes the share as the balance says") {
  const survey::Job job = job_of(weighed_car());
  const auto study = study_splits(job, input(), {});
  REQUIRE(study->per_cell.size() == 3);
  for (const PerCell& one : study->per_cell) {
    std::vector<int> cells = chosen;
    const double before = state(balance_car(*job.car, lumps_of(cells)), "as_driven").front_share;
    --cells[one.from];
    ++cells[one.to];
    CHECK(one.share_points == Approx(100 * (state(balance_car(*job.car, lumps_of(cells)), "as_driven").front_share - before)).epsilon(1e-9));
  }
  CHECK(study->per_cell[0].share_points < 0);  // from the front rearward
}

TEST_CASE("splits: best rows against brute force") {
  const survey::Job job = job_of(weighed_car());
  const auto study = study_splits(job, input(28), {});
  const auto no_worse = [](const SplitRow& a, const SplitRow& b) {
    return a.total >= b.total && a.within_limits >= b.within_limits && a.meets_target >= b.meets_target && a.boxes <= b.boxes && std::round(*a.cg_height_mm / 20) <= std::round(*b.cg_height_mm / 20);
  };
  int best = 0;
  for (const SplitRow& row : study->rows) {
    bool beaten = false;
    for (const SplitRow& other : study->rows) beaten |= no_worse(other, row) && !no_worse(row, other);
    CHECK(row.best == !beaten);
    best += row.best;
  }
  CHECK(best > 0);
  CHECK(best < static_cast<int>(study->rows.size()));
  CHECK(study->rows.front().total == 30);
  CHECK(study->rows.back().total == 28);
}

TEST_CASE("splits: load left, attitude and rules followed by hand") {
  survey::Job job = job_of(weighed_car());
  const std::vector<survey::ChangeLimit> limits = {
      {"mass", "somewhere", survey::ChangeOf::kerb_mass_percent, 20, "source", "status"},
      {"share, points", "somewhere", survey::ChangeOf::front_share_points, 10, "source", "status"},
      {"share, per cent", "somewhere", survey::ChangeOf::front_share_percent, 10, "source", "status"},
      {"ride", "everywhere", survey::ChangeOf::ride_height_mm, 1, "source", "status"},
      {"in hand", "everywhere", survey::ChangeOf::axle_in_hand_kg, 30, "source", "status"},
      {"seats", "somewhere", survey::ChangeOf::load_per_seat_kg, 75, "source", "status"},
      {"front edge", "somewhere", survey::ChangeOf::behind_front_edge_mm, 420, "source", "status"}};
  const auto study = study_splits(job, input(), limits);
  const auto whole = balance_car(*job.car, lumps_of(chosen));
  const auto &before = state(whole, "before"), &empty = state(whole, "empty"), &full = state(whole, "full");
  REQUIRE(study->load_left.size() == 3);
  CHECK(study->load_left[0].kg == Approx(1150 - empty.total.value()));
  CHECK(study->load_left[0].people == static_cast<int>(std::floor((1150 - empty.total.value()) / 75)));
  REQUIRE(study->change_checks.size() == 6);
  CHECK(study->change_checks[0].value == Approx(100 * std::abs(empty.total.value() / 860 - 1)));  // as it came: 180 + 172 + 250 + 258 = 860 kg
  CHECK(study->change_checks[1].value == Approx(100 * std::abs(empty.front_share - before.front_share)));
  CHECK(study->change_checks[2].value == Approx(study->change_checks[1].value / (352.0 / 860)));
  CHECK(study->change_checks[4].value == Approx(std::min(540 - full.front.value(), 640 - full.rear.value())));
  CHECK(study->change_checks[5].value == Approx((1150 - empty.total.value()) / 2));
  for (const core::Check& check : study->change_checks) CHECK(check.name.find("if this rule applies") != std::string::npos);
  CHECK_FALSE(study->change_checks[3].ok);
  REQUIRE(study->notes.size() == 1);
  CHECK(study->notes[0].find("front edge") != std::string::npos);
  // Springs: force over rate, two wheels an axle
  REQUIRE(study->attitude);
  CHECK(study->attitude->front_mm == Approx((352 - empty.front.value()) * 9.80665 / 40));
  CHECK(study->attitude->rear_mm == Approx((508 - empty.rear.value()) * 9.80665 / 48));
  // 10 mm down in front and 11.6 mm up behind over 2160 mm: the nose leans down by atan(21.6 / 2160) = 0.573 degrees,
  // the beam falls by 100 mm in 10 m and by the 10 mm of the lamps themselves
  const Attitude nose = attitude_of({"empty", -10, 11.6}, 2160);
  CHECK(nose.nose_up_deg == Approx(-0.57294).epsilon(1e-4));
  CHECK(nose.beam_mm_at_10_m == Approx(-110));
}

TEST_CASE("splits: not without a weighed car or cells") {
  survey::Job job = job_of(weighed_car());
  CHECK_FALSE(study_splits(job, {offers, {0, 0, 0}, 1, {}, 0}, {}));
  job.car->weighed = {};
  CHECK_FALSE(study_splits(job, input(), {}));
  job.car.reset();
  CHECK_FALSE(study_splits(job, input(), {}));
}
