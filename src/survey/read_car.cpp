#include <fmt/format.h>

#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

constexpr Range load_range = at_least_zero(10'000);
constexpr Range mass_range = above_zero(10'000);
constexpr Range limit_range = above_zero(50'000);

std::optional<Kg> read_mass(const Node& node, const Range& range) {
  return read_as<Kg>(node, Kind::mass, range);
}

std::optional<AxleLoads> read_axle_pair(const Node& node, const Range& range) {
  const auto fields = Fields::of(node, "axle_loads");
  if (!fields) return {};
  AxleLoads loads;
  set_needed(*fields, "front", loads.front, read_mass, range);
  set_needed(*fields, "rear", loads.rear, read_mass, range);
  return loads;
}

std::optional<WheelLoads> read_wheel_loads(const Node& node) {
  const auto fields = Fields::of(node, "wheel_loads");
  if (!fields) return {};
  WheelLoads loads;
  set_needed(*fields, "front_left", loads.front_left, read_mass, load_range);
  set_needed(*fields, "front_right", loads.front_right, read_mass, load_range);
  set_needed(*fields, "rear_left", loads.rear_left, read_mass, load_range);
  set_needed(*fields, "rear_right", loads.rear_right, read_mass, load_range);
  return loads;
}

std::optional<TiltTest> read_tilt_test(const Node& node) {
  static constexpr Word<RaisedAxle> axles[] = {{"front", RaisedAxle::front},
                                               {"rear", RaisedAxle::rear}};
  const auto fields = Fields::of(node, "tilt_test");
  if (!fields) return {};
  TiltTest test;
  set_needed(*fields, "raised", test.raised, [](const Node& n) { return read_choice(n, axles); });
  set_needed(*fields, "rise_mm", test.rise, read_size);
  set_needed(*fields, "front_axle_kg", test.front_axle, read_mass, mass_range);
  set_needed(*fields, "wheel_radius_mm", test.wheel_radius, read_size);
  return test;
}

std::optional<ShareTarget> read_share_target(const Node& node) {
  const auto fields = Fields::of(node, "share_target");
  if (!fields) return {};
  const auto read_share = [](const Node& n) { return read_number(n, {0, 1}); };
  ShareTarget target;
  set(*fields, "min", target.min, read_share);
  set(*fields, "max", target.max, read_share);
  check_order(node, "min", target.min, "max", target.max, "");
  return target;
}

std::optional<Seat> read_seat(const Node& node) {
  const auto fields = Fields::of(node, "seat");
  if (!fields) return {};
  Seat seat;
  set_needed(*fields, "name", seat.name, read_name);
  set_needed(*fields, "at_mm", seat.at, read_point3);
  set(*fields, "mass_kg", seat.mass, read_mass, load_range);
  return seat;
}

std::optional<PlacedMass> read_placed_mass(const Node& node) {
  const auto fields = Fields::of(node, "placed_mass");
  if (!fields) return {};
  PlacedMass part;
  set_needed(*fields, "name", part.name, read_name);
  set_needed(*fields, "mass_kg", part.mass, read_mass, mass_range);
  set_needed(*fields, "at_mm", part.at, read_point3);
  return part;
}

std::optional<Car::WheelRates> read_wheel_rates(const Node& node) {
  const auto fields = Fields::of(node, "wheel_rates");
  if (!fields) return {};
  const auto read_rate = [](const Node& n) {
    return read_as<NewtonPerMm>(n, Kind::spring_rate, above_zero(10'000));
  };
  Car::WheelRates rates;
  set_needed(*fields, "front", rates.front, read_rate);
  set_needed(*fields, "rear", rates.rear, read_rate);
  return rates;
}

void read_weighing(const Fields& fields, Car& car) {
  const auto wheels = fields.find("wheel_loads_kg");
  const auto axles = fields.find("axle_loads_kg");
  if (wheels && axles)
    fields.node().log->add("E112", axles->pointer, "two keys that exclude each other",
                           "\"wheel_loads_kg\" and \"axle_loads_kg\"", "one of the two",
                           "keep the four wheels; the axles follow from them");
  if (axles)
    if (const auto loads = read_axle_pair(*axles, load_range)) car.weighed = *loads;
  if (wheels)
    if (const auto loads = read_wheel_loads(*wheels)) car.weighed = *loads;
}

void read_cg_height(const Fields& fields, Car& car) {
  const auto height = fields.find("cg_height_mm");
  const auto test = fields.find("tilt_test");
  if (height && test)
    fields.node().log->add("E112", test->pointer, "two keys that exclude each other",
                           "\"cg_height_mm\" and \"tilt_test\"", "one of the two");
  if (height)
    if (const auto read = read_size(*height)) car.cg_height = *read;
  if (test)
    if (const auto read = read_tilt_test(*test)) car.cg_height = *read;
}

std::optional<AxleLoads> level_loads(const Car& car) {
  if (const auto* wheels = std::get_if<WheelLoads>(&car.weighed))
    return AxleLoads{wheels->front_left + wheels->front_right,
                     wheels->rear_left + wheels->rear_right};
  if (const auto* axles = std::get_if<AxleLoads>(&car.weighed)) return *axles;
  return {};
}

/// Lifting one end moves load to the other as long as the centre of gravity is above the wheel
/// centres; a scale that says otherwise was misread.
void check_tilt(const Node& node, const TiltTest& test, const Car& car) {
  if (car.wheelbase && test.rise >= *car.wheelbase)
    node.log->add("E216", below(node.pointer, "rise_mm"), "tilt test cannot be right",
                  fmt::format("a rise of {} mm on a wheelbase of {} mm", in_mm(test.rise),
                              in_mm(*car.wheelbase)),
                  "a rise smaller than the wheelbase");
  const auto level = level_loads(car);
  if (!level) return;
  const double total_kg = level->front.value() + level->rear.value();
  const double front_kg = test.front_axle.value(), level_kg = level->front.value();
  const bool rear_raised = test.raised == RaisedAxle::rear;
  if (front_kg <= total_kg && (rear_raised ? front_kg >= level_kg : front_kg <= level_kg)) return;
  node.log->add("E216", below(node.pointer, "front_axle_kg"), "tilt test cannot be right",
                fmt::format("{:.1f} kg on the front axle with the {} raised, {:.1f} kg when level, "
                            "{:.1f} kg in all",
                            front_kg, rear_raised ? "rear" : "front", level_kg, total_kg),
                rear_raised ? "more on the front axle than when level, at most the whole car"
                            : "less on the front axle than when level",
                "check which end was raised, and that both weighings are of the same car");
}

void check_weighing(const Node& node, const Car& car) {
  const auto level = level_loads(car);
  if (!level || level->front.value() + level->rear.value() > 0) return;
  const bool wheels = std::holds_alternative<WheelLoads>(car.weighed);
  node.log->add("E118", below(node.pointer, wheels ? "wheel_loads_kg" : "axle_loads_kg"),
                "values contradict each other", "a car of 0 kg", "the loads read off the scales");
}

}  // namespace

std::optional<Car> read_car(const Node& node) {
  const auto fields = Fields::of(node, "car");
  if (!fields) return {};
  Car car;
  set(*fields, "name", car.name, read_name);
  set(*fields, "class", car.vehicle_class, read_name);
  set(*fields, "wheelbase_mm", car.wheelbase, read_size);
  set(*fields, "track_front_mm", car.track_front, read_size);
  set(*fields, "track_rear_mm", car.track_rear, read_size);
  const std::size_t before = node.log->size();
  read_weighing(*fields, car);
  read_cg_height(*fields, car);
  if (node.log->size() == before) {
    check_weighing(node, car);
    if (const auto* test = std::get_if<TiltTest>(&car.cg_height))
      check_tilt({node.json, below(node.pointer, "tilt_test"), node.log}, *test, car);
  }
  set(*fields, "axle_limits_kg", car.axle_limits, read_axle_pair, limit_range);
  set(*fields, "gross_limit_kg", car.gross_limit, read_mass, limit_range);
  set(*fields, "front_share_target", car.front_share_target, read_share_target);
  set(*fields, "seats", car.seats,
      [](const Node& n) { return read_named<Seat>(n, 0, "seats", read_seat); });
  const auto read_parts = [](const Node& n) {
    return read_named<PlacedMass>(n, 0, "parts", read_placed_mass);
  };
  set(*fields, "removed", car.removed, read_parts);
  set(*fields, "added", car.added, read_parts);
  set(*fields, "wheel_rates_n_per_mm", car.wheel_rates, read_wheel_rates);
  return car;
}

}  // namespace cellstow::survey
