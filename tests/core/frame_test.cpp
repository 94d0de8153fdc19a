/// Turning between the frames of a box and of the car, against plane trigonometry.

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

#include "cellstow/core/frame.hpp"

using namespace cellstow::core;

namespace {

Point2 at(Um a, Um b) { return {Length::from_um(a), Length::from_um(b)}; }

}  // namespace

TEST_CASE("heading: u lies the heading from +x towards +y") {
  const Heading third = Heading::from_degrees(30);
  const InPlan u = to_car(third, {1, 0}), v = to_car(third, {0, 1});
  CHECK(u.a == doctest::Approx(std::sqrt(3.0) / 2));   // exact values of sine and cosine at 30 degrees
  CHECK(u.b == doctest::Approx(0.5));
  CHECK(v.a == doctest::Approx(-0.5));
  CHECK(v.b == doctest::Approx(std::sqrt(3.0) / 2));
}

TEST_CASE("heading: a 3-4-5 triangle keeps whole micrometres") {
  const Heading heading = Heading::from_degrees(std::atan2(3.0, 4.0) * 180 / std::acos(-1.0));
  CHECK(to_car(heading, at(5'000'000, 0)) == at(4'000'000, 3'000'000));
  CHECK(to_car(heading, at(0, 5'000'000)) == at(-3'000'000, 4'000'000));
  CHECK(to_box(heading, at(4'000'000, 3'000'000)) == at(5'000'000, 0));
}

TEST_CASE("heading: there and back moves a point by a micrometre at most, a square heading not at all") {
  for (const double degrees : {-44.9, -17.3, 0.001, 12.0, 45.0}) {
    const Heading heading = Heading::from_degrees(degrees);
    for (const Um a : {-1'234'567, 0, 999'999}) {
      const Point2 back = to_box(heading, to_car(heading, at(a, 654'321)));
      CHECK(std::abs(back.a.um() - a) <= 1);
      CHECK(std::abs(back.b.um() - 654'321) <= 1);
    }
  }
  CHECK(to_car(Heading(), at(-7, 3)) == at(-7, 3));
  const InPlan same = to_car(Heading(), {0.1, -0.7});
  CHECK(same.a == 0.1);
  CHECK(same.b == -0.7);
}

TEST_CASE("heading: steps are exact as degrees") {
  CHECK(Heading::from_degrees(45).steps() == Heading::steps_per_quarter / 2);
  CHECK(Heading::from_degrees(45).degrees() == 45.0);
  CHECK(Heading::from_degrees(Heading::from_steps(1'234'567).degrees()).steps() == 1'234'567);
  CHECK(Heading::from_degrees(1e-9).is_square());
}
