#include "cellstow/core/frame.hpp"

#include <cmath>
#include <numbers>

namespace cellstow::core {
namespace {

InPlan turned(InPlan point, double angle_deg) {
  const double angle = angle_deg * (std::numbers::pi / 180.0);
  const double c = std::cos(angle), s = std::sin(angle);
  return {point.a * c - point.b * s, point.a * s + point.b * c};
}

InPlan in_um(Point2 point) {
  return {static_cast<double>(point.a.um()), static_cast<double>(point.b.um())};
}

Point2 on_grid(InPlan um) {
  return {Length::from_um(std::llround(um.a)), Length::from_um(std::llround(um.b))};
}

}  // namespace

Heading Heading::from_degrees(double degrees) {
  return Heading(std::llround(degrees / 90.0 * static_cast<double>(steps_per_quarter)));
}

InPlan to_car(Heading heading, InPlan in_box) {
  return heading.is_square() ? in_box : turned(in_box, heading.degrees());
}

InPlan to_box(Heading heading, InPlan in_car) {
  return heading.is_square() ? in_car : turned(in_car, -heading.degrees());
}

Point2 to_car(Heading heading, Point2 in_box) {
  return heading.is_square() ? in_box : on_grid(to_car(heading, in_um(in_box)));
}

Point2 to_box(Heading heading, Point2 in_car) {
  return heading.is_square() ? in_car : on_grid(to_box(heading, in_um(in_car)));
}

std::vector<Point2> to_car(Heading heading, std::vector<Point2> in_box) {
  for (Point2& point : in_box) point = to_car(heading, point);
  return in_box;
}

}  // namespace cellstow::core
