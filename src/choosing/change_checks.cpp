#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "cellstow/choosing/splits.hpp"

namespace cellstow::choosing {
namespace {

using survey::ChangeOf;

const balance::LoadState* find(const balance::Balance& balance, const char* name) {
  for (const balance::LoadState& state : balance.states) {
    if (state.name == name) return &state;
  }
  return nullptr;
}

/// A figure against its row, or why there is none.
struct Figure {
  std::optional<double> value;
  const char* unit = "";
  bool at_most = true;
  std::string why_not, cure;
};

Figure share_figure(const balance::Balance& balance, bool of_itself) {
  const double before = find(balance, "before")->front_share, empty = find(balance, "empty")->front_share;
  const double points = 100 * std::abs(empty - before);
  return {of_itself ? points / before : points, of_itself ? "%" : "points", true, "",
          empty > before ? "cells or a component rearward" : "cells or a component forward"};
}

Figure axle_figure(const survey::Car& car, const balance::Balance& balance) {
  if (!car.axle_limits) return {{}, "kg", false, "the car's axle_limits_kg is not given", ""};
  const balance::LoadState& full = *find(balance, "full");
  return {std::min((car.axle_limits->front - full.front).value(), (car.axle_limits->rear - full.rear).value()), "kg", false, "",
          "shift cells to the other axle, or leave some out"};
}

Figure seat_figure(const survey::Car& car, const balance::Balance& balance) {
  if (!car.gross_limit) return {{}, "kg", false, "the car's gross_limit_kg is not given", ""};
  if (car.seats.empty()) return {{}, "kg", false, "no seats are given", ""};
  const double left_kg = (*car.gross_limit - find(balance, "empty")->total).value();
  return {left_kg / static_cast<double>(car.seats.size()), "kg", false, "", "fewer cells, or a seat taken out of the papers"};
}

Figure ride_figure(const balance::Balance& balance) {
  for (const balance::RideChange& ride : balance.ride) {
    if (ride.state == "empty") return {std::max(std::abs(ride.front_mm), std::abs(ride.rear_mm)), "mm", true, "", "other springs, or cells nearer the other axle"};
  }
  return {{}, "mm", true, "the car's wheel_rates_n_per_mm is not given", ""};
}

Figure edge_figure(const std::optional<BoxReach>& boxes, bool front, double limit_mm) {
  Figure figure{{}, "mm", false, "boxes were not laid out for this comparison", ""};
  if (!boxes) return figure;
  figure.why_not = front ? fmt::format("the job does not say where the car begins; the frontmost box begins at x = {:.0f}, so the car has to reach forward to x = {:.0f} at least",
                                       boxes->front_x_mm, boxes->front_x_mm - limit_mm)
                         : fmt::format("the job does not say where the car ends; the rearmost box ends at x = {:.0f}, so the car has to reach rearward to x = {:.0f} at least",
                                       boxes->rear_x_mm, boxes->rear_x_mm + limit_mm);
  return figure;
}

Figure figure_of(const survey::ChangeLimit& limit, const survey::Car& car, const balance::Balance& balance, const std::optional<BoxReach>& boxes) {
  switch (limit.of) {
    case ChangeOf::kerb_mass_percent: return {100 * std::abs(balance.kerb_mass_change), "%", true, "", "fewer or lighter cells"};
    case ChangeOf::front_share_points: return share_figure(balance, false);
    case ChangeOf::front_share_percent: return share_figure(balance, true);
    case ChangeOf::ride_height_mm: return ride_figure(balance);
    case ChangeOf::axle_in_hand_kg: return axle_figure(car, balance);
    case ChangeOf::load_per_seat_kg: return seat_figure(car, balance);
    case ChangeOf::behind_front_edge_mm: return edge_figure(boxes, true, limit.limit);
    case ChangeOf::ahead_of_rear_edge_mm: return edge_figure(boxes, false, limit.limit);
  }
  return {};
}

}  // namespace

void add_change_checks(const survey::Car& car, const balance::Balance& balance, const std::optional<BoxReach>& boxes,
                       const std::vector<survey::ChangeLimit>& limits, SplitStudy& study) {
  if (balance.states.empty()) return;
  for (const survey::ChangeLimit& limit : limits) {
    const Figure figure = figure_of(limit, car, balance, boxes);
    if (!figure.value || !std::isfinite(*figure.value)) {
      study.notes.push_back(limit.name + " (" + limit.applies + "): not told here, " + (figure.why_not.empty() ? "the figure is not known" : figure.why_not));
      continue;
    }
    study.change_checks.push_back((figure.at_most ? core::check_at_most : core::check_at_least)(
        limit.name + ", if this rule applies", limit.applies, *figure.value, limit.limit, figure.unit, limit.source, figure.cure));
    study.change_status.push_back(limit.status);
  }
}

Attitude attitude_of(const balance::RideChange& ride, double wheelbase_mm) {
  const double slope = (ride.front_mm - ride.rear_mm) / wheelbase_mm;
  return {ride.front_mm, ride.rear_mm, std::atan(slope) * 180 / std::numbers::pi, 10'000 * slope + ride.front_mm};
}

}  // namespace cellstow::choosing
