#include "cellstow/choosing/splits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "cellstow/box/build_box.hpp"
#include "cellstow/choosing/leverage.hpp"
#include "cellstow/packing/pack.hpp"
#include "cellstow/wiring/string_window.hpp"

namespace cellstow::choosing {
namespace {

/// More ways than this nobody reads; steps between counts grow instead.
constexpr double most_ways = 1'000;
/// Cells in series left out at most in the ways with fewer.
constexpr int most_left_out = 4;
/// Enough to know where the cells of an empty cavity would be.
constexpr long long little_work = 60'000;
constexpr double person_kg = 75;  ///< Commission Regulation (EU) 1230/2012, Annex I Part A 2.6.2.1

const balance::LoadState* find(const std::vector<balance::LoadState>& states, const char* name) {
  for (const balance::LoadState& state : states) {
    if (state.name == name) return &state;
  }
  return nullptr;
}

void add_boxes(AxleSums& sums, const std::vector<Offer>& offers, const std::vector<int>& cells) {
  for (std::size_t i = 0; i < offers.size(); ++i) sums.add(offers[i].kg_per_cell * cells[i], offers[i].x_mm, offers[i].z_mm);
}

/// The car without any box, in the three states that have boxes.
struct BareCar {
  balance::LoadState empty, as_driven, full;
  double wheelbase_mm;
};

SplitRow row_of(const survey::Car& car, const BareCar& bare, const SplitInput& input, const std::vector<int>& cells) {
  SplitRow row;
  row.cells = cells;
  row.total = std::accumulate(cells.begin(), cells.end(), 0);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    row.boxes += cells[i] > 0 ? input.offers[i].boxes : 0;
    row.boxes_kg += input.offers[i].kg_per_cell * cells[i];
  }
  for (const balance::LoadState* state : {&bare.empty, &bare.as_driven, &bare.full}) {
    AxleSums sums(*state, bare.wheelbase_mm);
    add_boxes(sums, input.offers, cells);
    if (state == &bare.as_driven) {
      row.front_share = sums.front_share();
      if (std::isfinite(sums.cg_height_mm())) row.cg_height_mm = sums.cg_height_mm();
    }
    if (state == &bare.full) {
      row.front_full_kg = sums.front_kg();
      row.rear_full_kg = sums.rear_kg();
    }
    if (!car.axle_limits) continue;
    const double in_hand_kg = std::min(car.axle_limits->front.value() - sums.front_kg(), car.axle_limits->rear.value() - sums.rear_kg());
    row.axle_in_hand_kg = std::min(row.axle_in_hand_kg.value_or(in_hand_kg), in_hand_kg);
  }
  if (car.front_share_target) row.meets_target = row.front_share >= car.front_share_target->min && row.front_share <= car.front_share_target->max;
  row.within_limits = !row.axle_in_hand_kg || *row.axle_in_hand_kg >= 0;
  row.chosen = cells == input.chosen;
  return row;
}

/// Height in steps of 20 mm: nothing is best by a hair.
std::array<long long, 5> figures_of(const SplitRow& row) {
  return {!row.within_limits, !row.meets_target, -row.total, row.boxes, row.cg_height_mm ? std::llround(*row.cg_height_mm / 20) : 0};
}

void mark_best_rows(std::vector<SplitRow>& rows) {
  const auto beaten = [&](const SplitRow& row) {
    const auto mine = figures_of(row);
    return std::any_of(rows.begin(), rows.end(), [&](const SplitRow& other) {
      const auto theirs = figures_of(other);
      return theirs != mine && std::equal(theirs.begin(), theirs.end(), mine.begin(), [](long long a, long long b) { return a <= b; });
    });
  };
  for (SplitRow& row : rows) row.best = !beaten(row);
}

void add_per_cell(const BareCar& bare, const SplitInput& input, SplitStudy& study) {
  AxleSums sums(bare.as_driven, bare.wheelbase_mm);
  add_boxes(sums, input.offers, input.chosen);
  for (std::size_t i = 0; i < input.offers.size(); ++i) {
    for (std::size_t j = i + 1; j < input.offers.size(); ++j) {
      const Offer &from = input.offers[i], &to = input.offers[j];
      if (from.most == 0 || to.most == 0) continue;
      const double taken = from.kg_per_cell, given = to.kg_per_cell;
      AxleSums moved = sums;
      moved.add(-taken, from.x_mm, from.z_mm);
      moved.add(given, to.x_mm, to.z_mm);
      study.per_cell.push_back({i, j, 100 * (moved.front_share() - sums.front_share())});
    }
  }
}

void add_load_left(const survey::Car& car, const balance::Balance& balance, SplitStudy& study) {
  if (!car.gross_limit) return;
  for (const char* name : {"empty", "as_driven", "full"}) {
    const double left_kg = (*car.gross_limit - find(balance.states, name)->total).value();
    study.load_left.push_back({name, left_kg, std::max(0, static_cast<int>(std::floor(left_kg / person_kg + 1e-9)))});
  }
}

std::vector<balance::Lump> movable(const survey::Car& car, const std::vector<balance::Lump>& boxes) {
  std::vector<balance::Lump> things;
  for (const survey::PlacedMass& part : car.added) things.push_back({part.name, part.mass, part.at.x.mm(), part.at.y.mm(), part.at.z.mm()});
  things.insert(things.end(), boxes.begin(), boxes.end());
  return things;
}

/// As planned where it holds boxes; else as it would be filled.
Offer offer_in_plan(const survey::Job& job, std::size_t i, const plan::CavityPlan& planned) {
  const survey::Cavity& cavity = job.cavities[i];
  std::vector<balance::Lump> boxes;
  for (const plan::BoxPlan& box : planned.boxes) boxes.push_back(plan::lump_of(box.box));
  Offer offer;
  if (!boxes.empty()) {
    offer = offer_of(boxes, planned.packing.cells);
  } else if (planned.most_cells > 0) {
    packing::PackOptions options;
    options.reading = cavity.sections.between;
    options.step_budget = little_work;
    options.mixed_budget = options.heading_budget = 0;
    const packing::CavityPacking packing = packing::pack_cavity(cavity, job.cell, job.rules, options);
    for (const packing::BoxLayout& layout : packing.boxes) boxes.push_back(plan::lump_of(box::build_box(layout, cavity, job.cell, job.rules, planned.mark, static_cast<int>(boxes.size()) + 1)));
    offer = offer_of(boxes, packing.cells);
  }
  offer.most = offer.kg_per_cell > 0 ? planned.most_cells : 0;
  offer.least = cavity.cells_wanted ? std::min(cavity.cells_wanted->min, offer.most) : 0;
  return offer;
}

std::optional<BoxReach> reach_of(const plan::Plan& plan) {
  std::optional<BoxReach> reach;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const core::Point2& corner : core::to_car(box.box.layout.heading, box.box.layout.outline)) {
        const double x_mm = corner.a.mm();
        if (!reach) reach = BoxReach{x_mm, x_mm};
        *reach = {std::min(reach->front_x_mm, x_mm), std::max(reach->rear_x_mm, x_mm)};
      }
    }
  }
  return reach;
}

/// Every way of sharing the cells as planned, then with fewer, as far as the drive allows; the split as planned even where the steps miss it.
void add_rows(const survey::Car& car, const BareCar& bare, const SplitInput& input, SplitStudy& out) {
  out.step = step_for(input.offers, input.parallel, most_ways);
  bool chosen_told = false;
  const int fewest = input.fewest > 0 ? std::max(input.fewest, out.cells - most_left_out * input.parallel) : out.cells;
  for (int total = out.cells; total >= std::min(fewest, out.cells); total -= input.parallel) {
    for_each_split(input.offers, total, out.step, [&](const std::vector<int>& cells) {
      out.rows.push_back(row_of(car, bare, input, cells));
      chosen_told |= out.rows.back().chosen;
    });
  }
  if (!chosen_told) out.rows.insert(out.rows.begin(), row_of(car, bare, input, input.chosen));
}

std::optional<SplitStudy> study(const survey::Job& job, const SplitInput& input, const std::optional<BoxReach>& reach,
                                const std::vector<survey::ChangeLimit>& limits) {
  if (!job.car) return std::nullopt;
  const survey::Car& car = *job.car;
  const balance::Balance without = balance::balance_car(car, {}), with = balance::balance_car(car, input.boxes);
  SplitStudy out;
  for (const int cells : input.chosen) out.cells += cells;
  if (without.states.empty() || out.cells == 0) return std::nullopt;
  out.wheelbase_mm = car.wheelbase->mm();
  out.target = car.front_share_target;
  out.offers = input.offers;
  for (const survey::Cavity& cavity : job.cavities) out.cavities.push_back(cavity.name);
  const BareCar bare{*find(without.states, "empty"), *find(without.states, "as_driven"), *find(without.states, "full"), out.wheelbase_mm};
  add_rows(car, bare, input, out);
  mark_best_rows(out.rows);
  add_per_cell(bare, input, out);
  out.window = shift_window(car, with.states);
  out.moves = moves(out.window, movable(car, input.boxes), out.wheelbase_mm);
  add_load_left(car, with, out);
  for (const balance::RideChange& ride : with.ride) {
    if (ride.state == "empty") out.attitude = attitude_of(ride, out.wheelbase_mm);
  }
  add_change_checks(car, with, reach, limits, out);
  return out;
}

}  // namespace

std::optional<SplitStudy> study_splits(const survey::Job& job, const SplitInput& input, const std::vector<survey::ChangeLimit>& limits) {
  return study(job, input, std::nullopt, limits);
}

std::optional<SplitStudy> study_splits(const survey::Job& job, const plan::Plan& plan, const std::vector<survey::ChangeLimit>& limits) {
  if (plan.cavities.size() != job.cavities.size() || plan.totals.cells == 0) return std::nullopt;
  SplitInput input;
  input.parallel = job.string ? job.string->parallel : 1;
  if (job.string && !job.string->series && job.cell.voltage) input.fewest = wiring::count_window(job.cell, *job.string).lowest * input.parallel;
  for (std::size_t i = 0; i < plan.cavities.size(); ++i) {
    input.offers.push_back(offer_in_plan(job, i, plan.cavities[i]));
    input.chosen.push_back(plan.cavities[i].packing.cells);
    for (const plan::BoxPlan& box : plan.cavities[i].boxes) input.boxes.push_back(plan::lump_of(box.box));
  }
  return study(job, input, reach_of(plan), limits);
}

}  // namespace cellstow::choosing
