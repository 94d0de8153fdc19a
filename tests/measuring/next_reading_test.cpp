#include <doctest/doctest.h>

#include "cellstow/measuring/doubts.hpp"
#include "cellstow/measuring/next_reading.hpp"
#include "measuring/known_section.hpp"

using namespace cellstow::measuring;
using namespace cellstow::measuring::testing;

namespace {

double worst_major(const Fit& fit) {
  double worst = 0;
  for (std::size_t i = 0; i < fit.points.size(); ++i) worst = std::max(worst, ellipse_of(fit, i).major_mm);
  return worst;
}

std::size_t unchecked_points(const Network& network, const Fit& fit) {
  std::size_t count = 0;
  for (std::size_t p = network.datums.size(); p < network.places(); ++p) {
    bool open = false;
    for (std::size_t i = 0; i < network.readings.size(); ++i) {
      open |= (network.readings[i].from == p || network.readings[i].to == p) && fit.readings[i].share < least_share;
    }
    count += open;
  }
  return count;
}

Network with(Network network, std::size_t from, std::size_t to, const std::vector<Place>& corners) {
  const auto place = [&](std::size_t n) { return network.is_point(n) ? corners[n - network.datums.size()] : network.datums[n].at; };
  network.readings.push_back({from, to, distance(place(from), place(to)), 2});
  return network;
}

}  // namespace

TEST_CASE("next reading: what it promises is what a new fit with that reading gives") {
  // every datum in line, one point near it and so loose; all readings checked by further datums
  const KnownSection section{{{-500, 600}, {-200, 600}, {200, 600}, {500, 600}}, {{-430, 300}, {0, 550}, {430, 350}}, {}, {}};
  Network network = read_exactly(section, 2);
  for (Point& point : network.points) point.side = Side::low_b;
  const auto fit = fit_points(network, section.corners);
  REQUIRE(fit);
  const auto next = next_reading(network, *fit, 2);
  REQUIRE(next);
  CHECK_FALSE(next->makes_checked);
  const auto after = fit_points(with(network, next->from, next->to, section.corners), section.corners);
  REQUIRE(after);
  CHECK(ellipse_of(*after, next->point).major_mm == doctest::Approx(next->after_mm));
  CHECK(ellipse_of(*fit, next->point).major_mm == doctest::Approx(next->before_mm));
  // brute force: no other length leaves a shorter longest ellipse
  for (std::size_t to = 4; to < 7; ++to) {
    for (std::size_t from = 4; from < to; ++from) {
      const auto other = fit_points(with(network, from, to, section.corners), section.corners);
      REQUIRE(other);
      CHECK(worst_major(*other) >= worst_major(*after) - 1e-9);
    }
  }
}

TEST_CASE("next reading: first of all a slip must be able to show") {
  const KnownSection section = boot(2);
  const Network network = read_exactly(section, 2);
  const auto fit = fit_points(network, section.corners);
  REQUIRE(fit);
  CHECK(unchecked_points(network, *fit) == 8);
  const auto next = next_reading(network, *fit, 2);
  REQUIRE(next);
  CHECK(next->makes_checked);
  CHECK(network.is_point(next->from));   // one length between two points checks both
  const Network longer = with(network, next->from, next->to, section.corners);
  const auto after = fit_points(longer, section.corners);
  REQUIRE(after);
  CHECK(unchecked_points(longer, *after) == 6);
  CHECK(next->expected_mm == doctest::Approx(longer.readings.back().mm));
  double hidden = 0;
  for (std::size_t i = 0; i < longer.readings.size(); ++i) {
    const Reading& r = longer.readings[i];
    const std::size_t place = network.datums.size() + next->point;
    if ((r.from == place || r.to == place) && i + 1 < longer.readings.size()) hidden = std::max(hidden, least_slip_mm(r, after->readings[i].share));
  }
  CHECK(next->least_slip_mm == doctest::Approx(hidden));
}

TEST_CASE("next reading: nothing is asked for that is measured already or hardly helps") {
  KnownSection section = boot(4);
  for (std::size_t i = 0; i < 8; ++i) {
    for (std::size_t j = 0; j < i; ++j) section.checks.push_back({j, i});
  }
  const Network network = read_exactly(section, 2);
  const auto fit = fit_points(network, section.corners);
  REQUIRE(fit);
  CHECK_FALSE(next_reading(network, *fit, 2));
}
