#pragma once
/// Invented cars for the tests of this stage.

#include <stdexcept>

#include "cellstow/balance/load_state.hpp"

namespace cellstow::balance {

inline core::Point3 at_mm(double x, double y, double z) {
  return {core::Length::from_mm(x), core::Length::from_mm(y), core::Length::from_mm(z)};
}

/// A car of which only wheelbase and axle loads are known.
inline survey::Car car_on_axles(double wheelbase_mm, double front_kg, double rear_kg) {
  survey::Car car;
  car.wheelbase = core::Length::from_mm(wheelbase_mm);
  car.weighed = survey::AxleLoads{Kg::of(front_kg), Kg::of(rear_kg)};
  return car;
}

/// A small rear-heavy car, weighed on four scales.
inline survey::Car small_car() {
  survey::Car car;
  car.name = "small car";
  car.wheelbase = core::Length::from_mm(2160);
  car.track_front = core::Length::from_mm(1310);
  car.track_rear = core::Length::from_mm(1290);
  car.weighed = survey::WheelLoads{Kg::of(180), Kg::of(172), Kg::of(250), Kg::of(258)};
  car.cg_height = core::Length::from_mm(480);
  car.seats = {{"driver", at_mm(1250, -340, 550), Kg::of(75)},
               {"passenger", at_mm(1250, 340, 550), Kg::of(75)}};
  car.removed = {{"engine", Kg::of(110), at_mm(2300, 0, 500)},
                 {"tank", Kg::of(35), at_mm(300, 60, 600)}};
  car.added = {{"motor", Kg::of(60), at_mm(2250, 0, 450)}};
  return car;
}

inline std::vector<Lump> two_boxes() {
  return {{"front box", Kg::of(100), 200, 40, 520}, {"rear box", Kg::of(110), 1700, -30, 480}};
}

inline const LoadState& state(const Balance& balance, const std::string& name) {
  for (const LoadState& s : balance.states) {
    if (s.name == name) return s;
  }
  throw std::out_of_range(name);
}

}  // namespace cellstow::balance
