#include "cellstow/choosing/choose.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <mutex>
#include <set>

#include "balance/cars.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/wiring/string_window.hpp"
#include "choosing/many_formats.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;
using namespace cellstow::choosing;
using balance::balance_car;
using balance::state;
using doctest::Approx;

namespace {

/// Two bays, the front one L-shaped, in a small weighed car.
survey::Job two_bays() {
  survey::Job job;
  job.car = balance::small_car();
  job.car->front_share_target = survey::ShareTarget{0.40, 0.47};
  job.car->axle_limits = survey::AxleLoads{core::Kg::of(540), core::Kg::of(700)};
  job.car->gross_limit = core::Kg::of(1250);
  job.rules.arrangement = survey::Arrangement::rows;
  job.rules.load_cases = {};
  survey::StringSpec string;
  string.controller = survey::Controller{{core::Volt::of(40), core::Volt::of(132)}, core::Ampere::of(400)};
  string.consumption = core::WattHourPerKm::of(160);
  job.string = string;
  const auto bay = [](const char* name, const test::Corners& corners) {
    survey::Cavity cavity = test::shaft(corners, 300'000);
    cavity.name = name;
    return cavity;
  };
  job.cavities = {bay("nose", {{-300'000, -350'000}, {200'000, -350'000}, {200'000, 0}, {0, 0}, {0, 350'000}, {-300'000, 350'000}}),
                  bay("tank well", {{1'500'000, -400'000}, {2'000'000, -400'000}, {2'000'000, 400'000}, {1'500'000, 400'000}})};
  job.cell = test::many_formats(1, 3)[0].cell;
  job.cell.name = "none of those compared";
  return job;
}

class CountingStore : public Store {
 public:
  std::optional<PackedCavity> find(const PackTask& task) override {
    const std::lock_guard lock(mutex_);
    ++asked;
    const auto found = kept.find(task);
    return found == kept.end() ? std::nullopt : std::optional(found->second);
  }
  void keep(const PackTask& task, const PackedCavity& answer) override {
    const std::lock_guard lock(mutex_);
    kept[task] = answer;
  }
  std::map<PackTask, PackedCavity> kept;
  int asked = 0;

 private:
  std::mutex mutex_;
};

/// Everything of a candidate that decides or is printed, as one text.
std::string text_of(const Choice& choice) {
  std::string out;
  for (const Candidate& c : choice.candidates) {
    out += std::to_string(c.format) + stance_words(c.stances) + stance_words(c.used) + "," + std::to_string(c.series) + "," + std::to_string(c.parallel) + "," + std::to_string(c.places) + "," +
           std::to_string(c.proven) + "," + std::to_string(c.kwh) + "," + std::to_string(c.boxes_kg) + "," + std::to_string(c.front_share.value_or(-1)) + "," + std::to_string(c.cg_height_mm.value_or(-1)) +
           "," + std::to_string(static_cast<int>(c.standing)) + "," + std::to_string(c.beaten_by) + c.beaten_how;
    for (const int cells : c.per_cavity) out += " " + std::to_string(cells);
    out += "\n";
  }
  return out;
}

Choice run(const survey::Job& job, const std::vector<Format>& formats, int cores = 1, Store* store = nullptr, bool each_stance = true) {
  ChooseOptions options;
  options.each_stance = each_stance;
  Running running;
  running.cores = cores;
  running.store = store;
  return choose(job, formats, {}, options, running);
}

}  // namespace

TEST_CASE("choosing: places are those that packing alone finds") {
  const survey::Job job = two_bays();
  const std::vector<Format> formats = test::many_formats(5, 4);
  const Choice choice = run(job, formats);
  REQUIRE_FALSE(choice.candidates.empty());
  int compared = 0;
  std::set<std::tuple<std::size_t, std::vector<survey::Stance>>> seen;
  for (const Candidate& c : choice.candidates) {
    if (!c.proven || !seen.emplace(c.format, c.stances).second) continue;
    survey::Job alone = job;
    alone.cell = formats[c.format].cell;
    alone.cell.stances = c.stances;
    const plan::Plan plan = plan::make_packing_only(alone);
    int places = 0;
    for (const plan::CavityPlan& cavity : plan.cavities) places += cavity.packing.cells;
    CHECK(c.places == places);
    ++compared;
  }
  CHECK(compared >= 5);
}

TEST_CASE("choosing: figures of every candidate are what string and balance make of it") {
  const survey::Job job = two_bays();
  const std::vector<Format> formats = test::many_formats(4, 6);
  CountingStore store;
  const Choice choice = run(job, formats, 1, &store);
  int looked = 0;
  for (const Candidate& c : choice.candidates) {
    survey::Cell cell = formats[c.format].cell;
    survey::StringSpec string = *job.string;
    string.parallel = c.parallel;
    const wiring::StringResult judged = wiring::judge_string(cell, string, c.series);
    CHECK(c.nominal_v == Approx(judged.nominal_v));
    CHECK(c.kwh == Approx(judged.energy_kwh));
    CHECK(c.range_km->low == Approx(*judged.range_km));
    CHECK(c.series >= judged.window.lowest);
    CHECK(c.series <= judged.window.highest);
    for (const core::Check& check : judged.checks) CHECK(check.ok);
    CHECK(c.per_cavity[0] + c.per_cavity[1] == c.cells);
    CHECK(c.series * c.parallel == c.cells);
    CHECK(c.cells <= c.places);
    if (!c.fullest) continue;
    ++looked;
    // Masses: cells, and boxes beside them
    CHECK(c.boxes_kg > c.cells * cell.mass.value());
    CHECK(c.boxes_kg < c.cells * cell.mass.value() * 1.6);
  }
  CHECK(looked >= 4);
  std::set<std::pair<std::size_t, std::vector<survey::Stance>>> fullest;
  for (const Candidate& c : choice.candidates) {
    if (c.fullest) CHECK(fullest.emplace(c.format, c.stances).second);
  }
}

TEST_CASE("choosing: the split shown meets the balance, and no split by brute force is better") {
  const survey::Job job = two_bays();
  const std::vector<Format> formats = test::many_formats(2, 8);
  const Choice choice = run(job, formats);
  REQUIRE(choice.splits);
  REQUIRE(choice.split_of);
  const Candidate& c = choice.candidates[*choice.split_of];
  bool found = false;
  double least_over = 1e9, chosen_over = 0;
  for (const SplitRow& row : choice.splits->rows) {
    const double over = row.within_limits ? 0 : -*row.axle_in_hand_kg;
    if (row.chosen) {
      found = true;
      chosen_over = over;
      CHECK(row.cells == c.per_cavity);
      CHECK(row.front_share == Approx(*c.front_share).epsilon(1e-12));
      CHECK(*row.cg_height_mm == Approx(*c.cg_height_mm).epsilon(1e-12));
    }
    least_over = std::min(least_over, over);
  }
  CHECK(found);
  CHECK((chosen_over == 0) == (least_over == 0));
}

TEST_CASE("choosing: the same with one core, two, five, with and without what was kept") {
  const survey::Job job = two_bays();
  const std::vector<Format> formats = test::many_formats(6, 9);
  const std::string once = text_of(run(job, formats));
  CountingStore store;
  CHECK(text_of(run(job, formats, 2)) == once);
  CHECK(text_of(run(job, formats, 5, &store)) == once);
  CHECK(text_of(run(job, formats, 1, &store)) == once);
  CHECK(once.size() > 500);
}

TEST_CASE("choosing: a second run packs nothing; a format more packs only that") {
  const survey::Job job = two_bays();
  std::vector<Format> formats = test::many_formats(4, 10);
  CountingStore store;
  const Choice first = run(job, formats, 2, &store, false);
  CHECK(first.packed > 0);
  CHECK(first.from_store == 0);
  CHECK(store.kept.size() == static_cast<std::size_t>(first.packed));
  const Choice second = run(job, formats, 2, &store, false);
  CHECK(second.packed == 0);
  CHECK(second.from_store == first.packed);
  formats.push_back(test::many_formats(1, 77)[0]);
  formats.back().cell.name = "one more";
  CountingStore fresh;
  const Choice third = run(job, formats, 2, &store, false), alone = run(job, formats, 2, &fresh, false);
  CHECK(third.packed + third.from_store == alone.packed);
  CHECK(third.packed > 0);
  CHECK(third.packed <= 6);  // two bays; all stances at once, up to two alone
  CHECK(text_of(third) == text_of(alone));
}

TEST_CASE("choosing: costs are compared only when every format has one") {
  const survey::Job job = two_bays();
  std::vector<Format> formats = test::many_formats(3, 12);
  CHECK_FALSE(run(job, formats).has_cost);
  for (std::size_t i = 0; i < formats.size(); ++i) formats[i].cost_each = 10.0 + static_cast<double>(i);
  const Choice choice = run(job, formats);
  CHECK(choice.has_cost);
  for (const Candidate& c : choice.candidates) CHECK(*c.cost == Approx(c.cells * *formats[c.format].cost_each));
}

TEST_CASE("choosing: what cannot be compared is left out with its reason") {
  const survey::Job job = two_bays();
  std::vector<Format> formats = test::many_formats(3, 14);
  formats[0].cell.capacity.reset();
  formats[1].cell.thickness = core::Length::from_mm(900);
  const Choice choice = run(job, formats);
  REQUIRE(choice.left_out.size() == 2);
  CHECK(choice.left_out[0].find("capacity_ah") != std::string::npos);
  CHECK(choice.left_out[1].find("too few places") != std::string::npos);
  for (const Candidate& c : choice.candidates) CHECK(c.format == 2);
}

TEST_CASE("choosing: one fixed count in series is kept, whatever stands side by side") {
  survey::Job job = two_bays();
  job.string->series = 16;
  const Choice choice = run(job, test::many_formats(4, 15));
  REQUIRE_FALSE(choice.candidates.empty());
  for (const Candidate& c : choice.candidates) CHECK(c.series == 16);
}
