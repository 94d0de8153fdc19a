/// The chance that the cut box goes in, against closed forms.

#include <doctest/doctest.h>

#include <cmath>

#include "cellstow/limits/fit.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

/// A box 20 mm off the long walls of an 8 m bay, `gap` off the walls at its far sides.
packing::BoxLayout box_in(Um front, Um rear, Um length) {
  packing::BoxLayout box;
  box.outline = points({{front, 20'000}, {length - rear, 20'000}, {length - rear, 7'980'000}, {front, 7'980'000}});
  box.z_bottom = um(50'000);
  box.lid_top = um(200'000);
  return box;
}

survey::Cavity bay(Um give_or_take) {
  survey::Cavity cavity = shaft({{0, 0}, {500'000, 0}, {500'000, 8'000'000}, {0, 8'000'000}}, 300'000);
  cavity.tape_error = um(give_or_take);
  return cavity;
}

/// Chance that one coordinate of a point spread evenly over the unit disc is above h: the area of a segment of
/// the circle over its own, (acos h - h sqrt(1 - h2)) / pi.
double beyond(double h) { return (std::acos(h) - h * std::sqrt(1 - h * h)) / 3.14159265358979; }

}  // namespace

TEST_CASE("published: Wilson interval") {
  // 4 of 20 by hand from the formula: middle (0.2 + z2/40) / (1 + z2/20), z = 1.959964.
  const auto share = limits::counted_share(4, 20);
  CHECK(share.share == doctest::Approx(0.2));
  CHECK(share.low == doctest::Approx(0.0806578).epsilon(1e-4));
  CHECK(share.high == doctest::Approx(0.4160172).epsilon(1e-4));
  CHECK(limits::counted_share(0, 50).low == doctest::Approx(0));
  CHECK(limits::counted_share(50, 50).high == doctest::Approx(1));
  CHECK(limits::counted_share(50, 50).low < 0.95);
}

TEST_CASE("fit: one wall, two sections: four corners must each stay out of a segment of their disc") {
  for (const double h : {0.3, 0.6, 0.8}) {
    CAPTURE(h);
    limits::FitOptions options;
    options.samples = 4'000;
    const limits::Fit fit = limits::chance_of_fit(bay(10'000), box_in(100'000, static_cast<Um>(h * 10'000), 500'000), options);
    const double expected = std::pow(1 - beyond(h), 4);
    CHECK_FALSE(fit.certain);
    CHECK(fit.samples == 4'000);
    CHECK(std::fabs(fit.chance.share - expected) < 4 * std::sqrt(expected * (1 - expected) / 4'000));
    CHECK(fit.touched_most == "cavity wall, rear side of the box");
    CHECK(fit.touches == 4'000 - static_cast<int>(std::lround(fit.chance.share * 4'000)));
  }
}

TEST_CASE("fit: between two walls, eight corners; the shrink is where 99 in 100 fit") {
  const Um gap = 5'000;
  const limits::Fit fit = limits::chance_of_fit(bay(10'000), box_in(gap, gap, 500'000), {1, 4'000});
  const double expected = std::pow(1 - beyond(0.5), 8);
  CHECK(std::fabs(fit.chance.share - expected) < 4 * std::sqrt(expected * (1 - expected) / 4'000));
  REQUIRE(fit.shrink);
  // Shrunk by s on every side the gap is 5 + s: the least step at which (1 - beyond)^8 reaches 0.99, give or take one step.
  double s_mm = 0;
  while (std::pow(1 - beyond(0.5 + s_mm / 10), 8) < 0.99) s_mm += 0.5;
  CHECK(std::fabs(fit.shrink->mm() - s_mm) <= 0.5);
}

TEST_CASE("fit: certain where no point can reach, and said up to where") {
  const limits::Fit fit = limits::chance_of_fit(bay(3'000), box_in(10'000, 12'000, 500'000));
  CHECK(fit.certain);
  CHECK(fit.samples == 0);
  CHECK(fit.nothing_touches_up_to == mm(10));
  const limits::Fit just = limits::chance_of_fit(bay(10'000), box_in(10'000, 12'000, 500'000));
  CHECK(just.certain);
  const limits::Fit unsaid = limits::chance_of_fit(bay(0), box_in(10'000, 12'000, 500'000));
  CHECK(unsaid.give_or_take == mm(0));
  CHECK_FALSE(unsaid.certain);
  CHECK(unsaid.samples == 0);
}

TEST_CASE("fit: a floor that may come up under the whole box is not overlooked") {
  // Sections across x: the floor is measured, and lies 4 mm under the box.
  survey::Cavity cavity;
  cavity.sections.across = survey::Axis::x;
  for (const Um station : {Um{0}, Um{400'000}}) {
    cavity.sections.at.push_back({um(station), points({{0, 46'000}, {600'000, 46'000}, {600'000, 400'000}, {0, 400'000}}), {}});
  }
  packing::BoxLayout box;
  box.outline = points({{50'000, 50'000}, {350'000, 50'000}, {350'000, 550'000}, {50'000, 550'000}});
  box.z_bottom = um(50'000);
  box.lid_top = um(200'000);
  cavity.tape_error = mm(3.9);
  CHECK(limits::chance_of_fit(cavity, box).certain);
  CHECK(limits::chance_of_fit(cavity, box).nothing_touches_up_to == mm(4));
  cavity.tape_error = mm(20);
  const limits::Fit fit = limits::chance_of_fit(cavity, box);
  CHECK_FALSE(fit.certain);
  CHECK(fit.chance.share < 0.6);
  CHECK_FALSE(fit.shrink);   // no shrink sideways helps
}

TEST_CASE("fit: same seed, same answer; more give or take, less chance; a keep-out is named") {
  survey::Cavity cavity = bay(12'000);
  survey::KeepOut post;
  post.name = "post";
  post.shape = survey::CylinderShape{{mm(250), mm(7'990), mm(0)}, {mm(250), mm(7'990), mm(300)}, mm(8)};
  cavity.keep_outs.push_back(post);
  const packing::BoxLayout box = box_in(100'000, 100'000, 500'000);  // 6 mm off the post
  const limits::Fit fit = limits::chance_of_fit(cavity, box);
  CHECK(fit.touched_most == "post, right side of the box");
  CHECK(fit.touches == limits::chance_of_fit(cavity, box).touches);
  cavity.tape_error = mm(8);
  const limits::Fit finer = limits::chance_of_fit(cavity, box);
  CHECK(finer.chance.share > fit.chance.share);
  // A coordinate evenly over a ball is above h with chance (2 - 3 h + h3) / 4 (cap of a sphere).
  const double h = 0.75, cap = (2 - 3 * h + h * h * h) / 4;
  CHECK(std::fabs(1 - finer.chance.share - cap) < 4 * std::sqrt(cap * (1 - cap) / 2'000));
}
