#include <doctest/doctest.h>

#include "cellstow/measuring/fit.hpp"
#include "measuring/known_section.hpp"

using namespace cellstow::measuring;
using namespace cellstow::measuring::testing;

namespace {

/// One point from places round it, each reading with a standard deviation of 1.
Network star(const std::vector<Place>& datums, const std::vector<double>& lengths) {
  Network network{{}, {{"U", {}}}, {}};
  for (std::size_t i = 0; i < datums.size(); ++i) {
    network.datums.push_back({std::string(1, static_cast<char>('A' + i)), datums[i]});
    network.readings.push_back({i, datums.size(), lengths[i], deviations_in_give_or_take});
  }
  return network;
}

}  // namespace

TEST_CASE("fit: published trilateration of one station from three, in feet") {
  // Ghilani, Wolf, Adjustment Computations: Spatial Data Analysis, 4th ed. (2006), example 14.1 (from memory):
  // lengths from A, B, C; printed results U = (6861.32, 3727.82), residuals, standard deviation 0.10
  const Network network = star({{865.40, 4527.15}, {2432.55, 2047.25}, {2865.22, 27.15}}, {6049.00, 4736.83, 5446.49});
  const auto fit = fit_points(network, {{6800, 3800}});
  REQUIRE(fit);
  CHECK(std::abs(fit->points[0].a - 6861.32) < 0.005);
  CHECK(std::abs(fit->points[0].b - 3727.82) < 0.005);
  CHECK(fit->spare_readings == 1);
  CHECK(std::abs(std::sqrt(fit->misfit / fit->spare_readings) - 0.10) < 0.005);
  // the book's residual is fitted less measured
  const double printed[] = {-0.037, 0.077, -0.047};
  for (std::size_t i = 0; i < 3; ++i) CHECK(std::abs(-fit->readings[i].residual_mm - printed[i]) < 0.0005);
}

TEST_CASE("fit: no place near it has a smaller sum of squares") {
  // brute force round the answer, steps from 0.01 to 10 mm in 36 directions
  Noise noise(7);
  for (int run = 0; run < 50; ++run) {
    const KnownSection section = with_checks(boot(3));
    Network network = read_with_noise(section, 4, noise);
    const auto fit = fit_points(network, section.corners);
    REQUIRE(fit);
    const auto misfit_with = [&](std::size_t point, Place at) {
      double sum = 0;
      for (const Reading& r : network.readings) {
        const auto place = [&](std::size_t n) { return n < 3 ? network.datums[n].at : n - 3 == point ? at : fit->points[n - 3]; };
        sum += std::pow((r.mm - distance(place(r.from), place(r.to))) / deviation(r), 2);
      }
      return sum;
    };
    int better = 0;
    for (std::size_t point = 0; point < fit->points.size(); ++point) {
      for (int direction = 0; direction < 36; ++direction) {
        for (const double step : {0.01, 0.1, 1.0, 10.0}) {
          const double angle = direction * std::numbers::pi / 18;
          better += misfit_with(point, {fit->points[point].a + step * std::cos(angle), fit->points[point].b + step * std::sin(angle)}) < fit->misfit;
        }
      }
    }
    CHECK(better == 0);
  }
}

TEST_CASE("fit: ellipse of two equal lengths that cross at any angle") {
  // A'A has the eigenvalues 1 + cos g and 1 - cos g along and across the bisector of the two lengths:
  // half axes s / sqrt(1 +- cos g). At 90 degrees a circle of the readings' own give or take.
  for (const double angle : {20.0, 30.0, 60.0, 90.0, 120.0, 150.0}) {
    CAPTURE(angle);
    const double g = angle * std::numbers::pi / 180;
    const Network network = star({{-400 * std::sin(g / 2), -400 * std::cos(g / 2)}, {400 * std::sin(g / 2), -400 * std::cos(g / 2)}}, {400, 400});
    const auto fit = fit_points(network, {{3, 5}});
    REQUIRE(fit);
    CHECK(distance(fit->points[0], {0, 0}) < 1e-6);
    const Ellipse ellipse = ellipse_of(*fit, 0);
    const double cosine = std::abs(std::cos(g));
    CHECK(ellipse.major_mm == doctest::Approx(deviations_in_ellipse / std::sqrt(1 - cosine)));
    CHECK(ellipse.minor_mm == doctest::Approx(deviations_in_ellipse / std::sqrt(1 + cosine)));
    // flat towards the datums: loose across, and the other way round
    if (angle < 90) CHECK(ellipse.direction_deg == doctest::Approx(0).epsilon(1e-6));
    if (angle > 90) CHECK(std::abs(ellipse.direction_deg) == doctest::Approx(90));
  }
}

TEST_CASE("fit: shares of all readings add up to the spare readings") {
  // trace of the redundancy matrix. Source: Baarda (1968) (from memory)
  Noise noise(3);
  const KnownSection section = with_checks(boot(4));
  const Network network = read_with_noise(section, 2, noise);
  const auto fit = fit_points(network, section.corners);
  REQUIRE(fit);
  double sum = 0;
  for (const ReadingFit& reading : fit->readings) sum += reading.share;
  CHECK(fit->spare_readings == 4 * 8 + 6 - 16);
  CHECK(sum == doctest::Approx(fit->spare_readings));
}

TEST_CASE("fit: three datums evenly round a point, one reading long") {
  // by symmetry each reading has a share of 1/3, and a slip e leaves every residual at e/3
  std::vector<Place> round;
  for (int i = 0; i < 3; ++i) round.push_back({1000 * std::cos(i * 2 * std::numbers::pi / 3), 1000 * std::sin(i * 2 * std::numbers::pi / 3)});
  const auto fit = fit_points(star(round, {1000.3, 1000, 1000}), {{1, 1}});
  REQUIRE(fit);
  for (const ReadingFit& reading : fit->readings) {
    CHECK(reading.share == doctest::Approx(1.0 / 3).epsilon(1e-3));
    CHECK(reading.residual_mm == doctest::Approx(0.1).epsilon(1e-3));
  }
}

TEST_CASE("fit: turned and shifted with the datums, nothing else changes") {
  Noise noise(11);
  const KnownSection section = with_checks(boot(3));
  Network network = read_with_noise(section, 2, noise);
  const auto fit = fit_points(network, section.corners);
  REQUIRE(fit);
  const double turn = 0.7;
  const auto moved = [&](Place p) { return Place{p.a * std::cos(turn) - p.b * std::sin(turn) + 50, p.a * std::sin(turn) + p.b * std::cos(turn) - 20}; };
  std::vector<Place> start;
  for (Datum& datum : network.datums) datum.at = moved(datum.at);
  for (const Place& corner : section.corners) start.push_back(moved(corner));
  const auto turned = fit_points(network, start);
  REQUIRE(turned);
  CHECK(turned->misfit == doctest::Approx(fit->misfit));
  for (std::size_t i = 0; i < fit->points.size(); ++i) {
    CHECK(distance(turned->points[i], moved(fit->points[i])) < 1e-6);
    CHECK(ellipse_of(*turned, i).major_mm == doctest::Approx(ellipse_of(*fit, i).major_mm));
  }
}

TEST_CASE("fit: readings that do not fix a point give nothing") {
  CHECK_FALSE(fit_points(star({{0, 0}, {100, 0}}, {50, 50}), {{50, 0}}));
  CHECK_FALSE(fit_points(star({{0, 0}}, {50}), {{50, 0}}));
}

TEST_CASE("fit: the ellipse holds the true corner as often as it says") {
  // 4000 sections of 8 corners: 95 in 100, give or take 4 standard deviations of the count
  // (corners of one section are independent without checks)
  for (const std::size_t datums : {2u, 3u, 4u}) {
    CAPTURE(datums);
    Noise noise(1000 + static_cast<std::uint32_t>(datums));
    const KnownSection section = boot(datums);
    int inside = 0, within = 0, all = 0;
    for (int run = 0; run < 4000; ++run) {
      const Network network = read_with_noise(section, 2, noise);
      const auto fit = fit_points(network, section.corners);
      REQUIRE(fit);
      for (std::size_t i = 0; i < section.corners.size(); ++i, ++all) {
        const Ellipse e = ellipse_of(*fit, i);
        const double da = fit->points[i].a - section.corners[i].a, db = fit->points[i].b - section.corners[i].b;
        const double t = e.direction_deg * std::numbers::pi / 180;
        const double along = (da * std::cos(t) + db * std::sin(t)) / e.major_mm, across = (db * std::cos(t) - da * std::sin(t)) / e.minor_mm;
        inside += along * along + across * across <= 1;
        within += std::hypot(da, db) <= e.major_mm;
      }
    }
    const double share = static_cast<double>(inside) / all;
    MESSAGE(datums << " datums: inside the ellipse " << 100 * share << " %, within its longer half axis " << 100.0 * within / all << " %");
    CHECK(std::abs(share - 0.95) < 4 * std::sqrt(0.95 * 0.05 / all));
    CHECK(within >= inside);
  }
}
