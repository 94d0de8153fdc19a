#include "cellstow/balance/axle_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace cellstow::balance {
namespace {

const char* const moments = "static equilibrium of the level car, moments about the axles";

const LoadState* find(const Balance& balance, const char* name) {
  for (const LoadState& state : balance.states) {
    if (state.name == name) return &state;
  }
  return nullptr;
}

std::string place(const survey::Car& car) { return car.name.empty() ? "car" : car.name; }

/// A state's name as people write it.
std::string in_words(const LoadState& state) {
  std::string words = state.name;
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

/// Up to the next tenth: what a cure names must be enough. 1e-6 forgives binary noise.
double tenths_up(double value) { return std::ceil(value * 10 - 1e-6) / 10; }

/// Taking mass out where shifting alone cannot help.
std::string cure_by_taking_out(double over_kg) {
  return fmt::format("take out {:.1f} kg, or leave cells out", tenths_up(over_kg));
}

struct Axle {
  const char* name;
  Kg LoadState::*load;
  Kg survey::AxleLoads::*limit;
  double front_sign;  ///< change of the front load per kg taken off this axle by shifting
};

constexpr Axle front_axle{"front axle load", &LoadState::front, &survey::AxleLoads::front, -1};
constexpr Axle rear_axle{"rear axle load", &LoadState::rear, &survey::AxleLoads::rear, 1};

std::string axle_cure(const survey::Car& car, const LoadState& state, const Axle& axle,
                      double over_kg, const std::vector<Lump>& boxes) {
  const Kg both = car.axle_limits->front + car.axle_limits->rear;
  if (state.total > both) {
    return "over both axle limits together: " + cure_by_taking_out((state.total - both).value());
  }
  return cure_by_moving(axle.front_sign * over_kg, car.wheelbase->mm(), boxes);
}

void check_axle(const survey::Car& car, const LoadState& state, const Axle& axle,
                const std::vector<Lump>& boxes, Balance& balance) {
  const double load_kg = (state.*axle.load).value();
  const double limit_kg = ((*car.axle_limits).*axle.limit).value();
  balance.checks.push_back(core::check_at_most(
      fmt::format("{}, {}", axle.name, in_words(state)), place(car), load_kg, limit_kg, "kg",
      std::string("axle limit from the car's plate; ") + moments,
      axle_cure(car, state, axle, load_kg - limit_kg, boxes)));
  const double in_hand_kg = limit_kg - load_kg;
  if (state.name == "full" && in_hand_kg >= 0 && in_hand_kg < customary::in_hand_kg) {
    balance.cautions.push_back(
        fmt::format("{}, full: {:.1f} kg in hand under the limit of {:.1f} kg; {:.0f} kg "
                    "is usual (common practice)",
                    axle.name, in_hand_kg, limit_kg, customary::in_hand_kg));
  }
}

/// Only said when it happens: a car with weight on every wheel needs no line for it.
void check_on_the_ground(const survey::Car& car, const LoadState& state, Balance& balance) {
  const std::pair<const char*, Kg> loads[] = {{"front axle", state.front},
                                              {"rear axle", state.rear},
                                              {"front left wheel", state.front_left},
                                              {"front right wheel", state.front_right},
                                              {"rear left wheel", state.rear_left},
                                              {"rear right wheel", state.rear_right}};
  for (const auto& [name, load] : loads) {
    if (!(load.value() < 0)) continue;
    balance.checks.push_back(core::check_at_least(
        fmt::format("{} stays on the ground, {}", name, in_words(state)), place(car), load.value(),
        0, "kg", moments, "check the masses and places given; with these the car would tip"));
  }
}

void check_axles(const survey::Car& car, const std::vector<Lump>& boxes, Balance& balance) {
  for (const LoadState& state : balance.states) check_on_the_ground(car, state, balance);
  if (!car.axle_limits) {
    balance.left_out.push_back({"axle limits", "the car's axle_limits_kg is not given"});
    return;
  }
  for (const LoadState& state : balance.states) {
    check_axle(car, state, front_axle, boxes, balance);
    check_axle(car, state, rear_axle, boxes, balance);
  }
}

void check_gross(const survey::Car& car, Balance& balance) {
  if (!car.gross_limit) {
    balance.left_out.push_back({"gross limit", "the car's gross_limit_kg is not given"});
    return;
  }
  const double total_kg = find(balance, "full")->total.value(), limit_kg = car.gross_limit->value();
  balance.checks.push_back(
      core::check_at_most("gross weight, full", place(car), total_kg, limit_kg, "kg",
                          "gross limit from the car's plate; all seats taken, no luggage",
                          cure_by_taking_out(total_kg - limit_kg)));
}

void check_share(const survey::Car& car, const std::vector<Lump>& boxes, Balance& balance) {
  if (!car.front_share_target) return;
  const LoadState& state = *find(balance, "as_driven");
  const double share = state.front_share, total_kg = state.total.value();
  const auto cure = [&](double wanted) {
    return cure_by_moving((wanted - share) * total_kg, car.wheelbase->mm(), boxes);
  };
  const double least = car.front_share_target->min, most = car.front_share_target->max;
  const std::string source = std::string("target of the job file, driver only; ") + moments;
  balance.checks.push_back(core::check_at_least("front share not below the target, as driven",
                                                place(car), 100 * share, 100 * least, "%", source,
                                                cure(least)));
  balance.checks.push_back(core::check_at_most("front share not above the target, as driven",
                                               place(car), 100 * share, 100 * most, "%", source,
                                               cure(most)));
}

void note_sides(const survey::Car& car, Balance& balance) {
  if (std::holds_alternative<survey::AxleLoads>(car.weighed)) {
    balance.notes.push_back(
        "only the axles were weighed: the car as it came is taken as equal left and right; "
        "an old car rarely is");
  }
  if (!car.track_front && !car.track_rear) {
    balance.left_out.push_back(
        {"left and right", "track_front_mm and track_rear_mm are not given"});
    return;
  }
  if (!car.track_front || !car.track_rear) {
    balance.notes.push_back("one track is not given and is taken equal to the other");
  }
  balance.notes.push_back(
      "wheel loads: each part is shared left and right by its distance from the centre, on "
      "both axles alike; springs and a twisted frame may share it otherwise, so weigh the "
      "finished car on four scales");
  const LoadState& before = *find(balance, "before");
  const LoadState& empty = *find(balance, "empty");
  if (std::abs(empty.left_share - 0.5) > customary::side_share_scatter) {
    balance.cautions.push_back(
        fmt::format("{:.1f} % of the empty car stands on the left wheels (before: {:.1f} %); "
                    "47.5 to 52.5 % is usual (common practice)",
                    100 * empty.left_share, 100 * before.left_share));
  }
}

void note_retrofit(Balance& balance) {
  const LoadState& before = *find(balance, "before");
  const LoadState& empty = *find(balance, "empty");
  const double points = balance.front_share_change_points;
  const double relative = (empty.front_share - before.front_share) / before.front_share;
  if (!std::isfinite(balance.kerb_mass_change) || !std::isfinite(relative)) return;
  const std::string figures = fmt::format(
      "kerb mass {:.1f} to {:.1f} kg ({:+.1f} %), front share {:.1f} to {:.1f} % ({:+.1f} points, "
      "{:+.1f} "
      "% of itself)",
      before.total.value(), empty.total.value(), 100 * balance.kerb_mass_change,
      100 * before.front_share, 100 * empty.front_share, points, 100 * relative);
  const char* const rule =
      "two European retrofit regimes ask for kerb mass within 20 % and front share within 10 % of "
      "the car as it "
      "came, with the plate limits unchanged; whether one applies, and whether it means points or "
      "per cent, "
      "read locally";
  const bool outside = std::abs(balance.kerb_mass_change) > customary::kerb_mass_change ||
                       std::abs(points) > 100 * customary::front_share_change ||
                       std::abs(relative) > customary::front_share_change;
  (outside ? balance.cautions : balance.notes).push_back(figures + ": " + rule);
}

/// Judged with nobody in the car: people lower any car, converted or not.
void note_ride(const survey::Car& car, Balance& balance) {
  if (!car.wheel_rates) {
    balance.left_out.push_back({"ride height", "the car's wheel_rates_n_per_mm is not given"});
    return;
  }
  for (const RideChange& change : balance.ride) {
    if (change.state != "empty") continue;
    const double worst_mm = std::max(std::abs(change.front_mm), std::abs(change.rear_mm));
    const std::string figures = fmt::format("ride height, empty: front {:+.1f} mm, rear {:+.1f} mm",
                                            change.front_mm, change.rear_mm);
    if (worst_mm > customary::new_springs_mm) {
      balance.cautions.push_back(
          figures +
          ": over 25 mm, new springs are usual (common practice); headlamps, "
          "ground clearance and brake balance change with it");
    } else if (worst_mm > customary::springs_stay_mm) {
      balance.cautions.push_back(
          figures +
          ": over 20 mm, about as much as the old springs should take (common "
          "practice); check headlamps and ground clearance");
    } else {
      balance.notes.push_back(figures + "; positive is higher");
    }
  }
}

void note_rest(const survey::Car& car, Balance& balance) {
  if (car.seats.empty()) {
    balance.notes.push_back("no seats given: as driven and full are the same as empty");
  }
  if (std::isnan(balance.states.front().cg_z_mm)) {
    balance.left_out.push_back({"height of the centre of gravity",
                                "neither cg_height_mm nor a usable tilt_test is given"});
  }
  if (std::holds_alternative<survey::TiltTest>(car.cg_height)) {
    balance.notes.push_back(
        "tilt test: holds with the suspension blocked, brakes off and the raised wheels free to "
        "roll; a few kilograms on the scale are tens of millimetres of height");
  }
  balance.notes.push_back(
      "changed axle loads change brakes, tyre loads and headlamp aim: have them checked, and "
      "weigh the finished car");
}

}  // namespace

std::string cure_by_moving(double front_change_kg, double wheelbase_mm,
                           const std::vector<Lump>& boxes) {
  if (front_change_kg == 0 || !std::isfinite(front_change_kg)) return {};
  const double moment_kg_mm = std::abs(front_change_kg) * wheelbase_mm;
  const bool rearward = front_change_kg < 0;
  const char* const way = rearward ? "rearward" : "forward";
  const auto heavier = [](const Lump& p, const Lump& q) { return p.mass < q.mass; };
  const auto ahead = [](const Lump& p, const Lump& q) { return p.x_mm < q.x_mm; };
  const auto heaviest = std::max_element(boxes.begin(), boxes.end(), heavier);
  if (heaviest == boxes.end() || heaviest->mass <= Kg::of(0)) {
    return fmt::format(
        "move {:.1f} kg 300 mm {}, or any other weight and distance that multiply to {:.0f} kg mm",
        tenths_up(moment_kg_mm / 300), way, moment_kg_mm);
  }
  std::string cure =
      fmt::format("move {} ({:.1f} kg) {:.0f} mm {}", heaviest->name, heaviest->mass.value(),
                  std::ceil(moment_kg_mm / heaviest->mass.value()), way);
  const auto [first, last] = std::minmax_element(boxes.begin(), boxes.end(), ahead);
  const Lump& from = rearward ? *first : *last;
  const Lump& to = rearward ? *last : *first;
  const double distance_mm = last->x_mm - first->x_mm;
  if (distance_mm > 0 && moment_kg_mm / distance_mm <= from.mass.value()) {
    cure +=
        fmt::format(", or {:.1f} kg from {} to {}, {:.0f} mm {}",
                    tenths_up(moment_kg_mm / distance_mm), from.name, to.name, distance_mm, way);
  }
  return cure;
}

void judge(const survey::Car& car, const std::vector<Lump>& boxes, Balance& balance) {
  check_axles(car, boxes, balance);
  check_gross(car, balance);
  check_share(car, boxes, balance);
  note_sides(car, balance);
  note_retrofit(balance);
  note_ride(car, balance);
  note_rest(car, balance);
}

}  // namespace cellstow::balance
