#include "cellstow/balance/load_state.hpp"

#include <cmath>
#include <limits>

#include "cellstow/balance/axle_checks.hpp"

namespace cellstow::balance {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

struct Span {
  double wheelbase_mm = 0, track_front_mm = unknown, track_rear_mm = unknown;
};

/// Running sums; moments about the front-axle centreline, the centre plane and the ground.
struct Sums {
  double front_left_kg = 0, front_right_kg = 0, rear_left_kg = 0, rear_right_kg = 0;
  double front_kg = 0, rear_kg = 0;
  double y_kg_mm = 0, z_kg_mm = 0;
  double total_kg() const { return front_kg + rear_kg; }
};

/// A lump's weight goes to the axles by moments, and on either axle to left and right by
/// moments about the centre plane: right = part (1/2 + y / track). Summed over both axles this
/// keeps the rolling moment exact. How a twisted body shares it between the axles depends on
/// springs and frame, is not known from weighing, and is left aside.
void add(Sums& sums, const Lump& lump, double sign, const Span& span) {
  const double mass_kg = sign * lump.mass.value();
  const double rear_kg = mass_kg * lump.x_mm / span.wheelbase_mm;
  const double front_kg = mass_kg - rear_kg;
  const double front_side = lump.y_mm / span.track_front_mm;
  const double rear_side = lump.y_mm / span.track_rear_mm;
  sums.front_kg += front_kg;
  sums.rear_kg += rear_kg;
  sums.front_left_kg += front_kg * (0.5 - front_side);
  sums.front_right_kg += front_kg * (0.5 + front_side);
  sums.rear_left_kg += rear_kg * (0.5 - rear_side);
  sums.rear_right_kg += rear_kg * (0.5 + rear_side);
  sums.y_kg_mm += mass_kg * lump.y_mm;
  sums.z_kg_mm += mass_kg * lump.z_mm;
}

LoadState state_of(const Sums& sums, const char* name, double wheelbase_mm) {
  const double total_kg = sums.total_kg();
  const auto per_total = [total_kg](double value) {
    return total_kg != 0 ? value / total_kg : unknown;
  };
  LoadState state;
  state.name = name;
  state.total = Kg::of(total_kg);
  state.front = Kg::of(sums.front_kg);
  state.rear = Kg::of(sums.rear_kg);
  state.front_left = Kg::of(sums.front_left_kg);
  state.front_right = Kg::of(sums.front_right_kg);
  state.rear_left = Kg::of(sums.rear_left_kg);
  state.rear_right = Kg::of(sums.rear_right_kg);
  state.front_share = per_total(sums.front_kg);
  state.left_share = per_total(sums.front_left_kg + sums.rear_left_kg);
  state.cross_share = per_total(sums.front_left_kg + sums.rear_right_kg);
  state.cg_x_mm = per_total(sums.rear_kg * wheelbase_mm);
  state.cg_y_mm = per_total(sums.y_kg_mm);
  state.cg_z_mm = per_total(sums.z_kg_mm);
  return state;
}

double height_mm(const survey::Car& car, double wheelbase_mm, const Sums& sums) {
  if (const auto* height = std::get_if<core::Length>(&car.cg_height)) return height->mm();
  if (const auto* test = std::get_if<survey::TiltTest>(&car.cg_height)) {
    return cg_height_from_tilt_mm(wheelbase_mm, sums.total_kg(), sums.front_kg, *test);
  }
  return unknown;
}

Sums as_weighed(const survey::Car& car, const Span& span) {
  Sums sums;
  if (const auto* wheels = std::get_if<survey::WheelLoads>(&car.weighed)) {
    sums.front_left_kg = wheels->front_left.value();
    sums.front_right_kg = wheels->front_right.value();
    sums.rear_left_kg = wheels->rear_left.value();
    sums.rear_right_kg = wheels->rear_right.value();
    sums.front_kg = sums.front_left_kg + sums.front_right_kg;
    sums.rear_kg = sums.rear_left_kg + sums.rear_right_kg;
    sums.y_kg_mm = (sums.front_right_kg - sums.front_left_kg) * span.track_front_mm / 2 +
                   (sums.rear_right_kg - sums.rear_left_kg) * span.track_rear_mm / 2;
  } else if (const auto* axles = std::get_if<survey::AxleLoads>(&car.weighed)) {
    sums.front_kg = axles->front.value();
    sums.rear_kg = axles->rear.value();
    sums.front_left_kg = sums.front_right_kg = sums.front_kg / 2;
    sums.rear_left_kg = sums.rear_right_kg = sums.rear_kg / 2;
  }
  sums.z_kg_mm = sums.total_kg() * height_mm(car, span.wheelbase_mm, sums);
  return sums;
}

Lump lump_of(const survey::PlacedMass& part) {
  return {part.name, part.mass, part.at.x.mm(), part.at.y.mm(), part.at.z.mm()};
}

Lump lump_of(const survey::Seat& seat) {
  return {seat.name, seat.mass, seat.at.x.mm(), seat.at.y.mm(), seat.at.z.mm()};
}

/// One track stands in for the other when only one was measured.
Span span_of(const survey::Car& car) {
  Span span;
  span.wheelbase_mm = car.wheelbase->mm();
  if (car.track_front) span.track_front_mm = span.track_rear_mm = car.track_front->mm();
  if (car.track_rear) span.track_rear_mm = car.track_rear->mm();
  if (car.track_rear && !car.track_front) span.track_front_mm = span.track_rear_mm;
  return span;
}

std::vector<LoadState> states_of(const survey::Car& car, const std::vector<Lump>& boxes) {
  const Span span = span_of(car);
  Sums sums = as_weighed(car, span);
  std::vector<LoadState> states;
  const auto take = [&](const char* name) {
    states.push_back(state_of(sums, name, span.wheelbase_mm));
  };
  take("before");
  for (const auto& part : car.removed) add(sums, lump_of(part), -1, span);
  take("stripped");
  for (const auto& part : car.added) add(sums, lump_of(part), 1, span);
  for (const Lump& box : boxes) add(sums, box, 1, span);
  take("empty");
  for (std::size_t i = 0; i < 1 && i < car.seats.size(); ++i)
    add(sums, lump_of(car.seats[i]), 1, span);
  take("as_driven");
  for (std::size_t i = 1; i < car.seats.size(); ++i) add(sums, lump_of(car.seats[i]), 1, span);
  take("full");
  return states;
}

std::vector<RideChange> ride_of(const survey::Car& car, const std::vector<LoadState>& states) {
  std::vector<RideChange> ride;
  if (!car.wheel_rates) return ride;
  const auto rise_mm = [](Kg before, Kg now, core::NewtonPerMm per_wheel) {
    return (before - now).value() * core::standard_gravity_m_per_s2 / (2 * per_wheel.value());
  };
  const LoadState& before = states.front();
  for (std::size_t i = 1; i < states.size(); ++i) {
    ride.push_back({states[i].name, rise_mm(before.front, states[i].front, car.wheel_rates->front),
                    rise_mm(before.rear, states[i].rear, car.wheel_rates->rear)});
  }
  return ride;
}

bool can_run(const survey::Car& car, Balance& balance) {
  if (!car.wheelbase || *car.wheelbase <= core::Length()) {
    balance.left_out.push_back({"balance", "the car's wheelbase_mm is not given"});
  }
  if (std::holds_alternative<std::monostate>(car.weighed)) {
    balance.left_out.push_back(
        {"balance", "the car has not been weighed: wheel_loads_kg or axle_loads_kg is not given"});
  }
  return balance.left_out.empty();
}

}  // namespace

double cg_height_from_tilt_mm(double wheelbase_mm, double total_kg, double front_level_kg,
                              const survey::TiltTest& test) {
  const double sine = test.rise.mm() / wheelbase_mm;
  if (!(sine > 0 && sine < 1) || total_kg <= 0) return unknown;
  const double tangent = sine / std::sqrt(1 - sine * sine);
  // With the rear raised the mass centre leans forward and the front axle gains; with the front
  // raised it leans rearward and the front axle loses the same: only the sign turns.
  const double gain_kg = test.front_axle.value() - front_level_kg;
  const double toward_low_axle_kg = test.raised == survey::RaisedAxle::rear ? gain_kg : -gain_kg;
  return test.wheel_radius.mm() + wheelbase_mm * toward_low_axle_kg / (total_kg * tangent);
}

Balance balance_car(const survey::Car& car, const std::vector<Lump>& boxes) {
  Balance balance;
  if (!can_run(car, balance)) return balance;
  balance.states = states_of(car, boxes);
  balance.ride = ride_of(car, balance.states);
  const LoadState& before = balance.states[0];
  const LoadState& empty = balance.states[2];
  const double before_kg = before.total.value();
  balance.kerb_mass_change =
      before_kg > 0 ? (empty.total - before.total).value() / before_kg : unknown;
  balance.front_share_change_points = 100 * (empty.front_share - before.front_share);
  judge(car, boxes, balance);
  return balance;
}

}  // namespace cellstow::balance
