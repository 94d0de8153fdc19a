#include "cellstow/restraint/plate.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "cellstow/restraint/joint.hpp"

namespace restraint = cellstow::restraint;
using restraint::BeamEnds;

TEST_CASE("beam: steel bar 600 x 50 x 10 mm under 5 N/mm, worked by hand from handbook cases") {
  const double stiffness = 210000.0 * 50 * 1000 / 12, modulus = restraint::flat_modulus_mm3(50, 10);
  const auto hinged = restraint::beam_even(5, 600, stiffness, BeamEnds::hinged);
  const auto clamped = restraint::beam_even(5, 600, stiffness, BeamEnds::clamped);
  CHECK(hinged.moment_n_mm / modulus == doctest::Approx(270));
  CHECK(hinged.sag_mm == doctest::Approx(9.64).epsilon(0.001));
  CHECK(clamped.moment_n_mm / modulus == doctest::Approx(180));
  CHECK(clamped.sag_mm == doctest::Approx(1.93).epsilon(0.002));
}

TEST_CASE("beam: point loads and cantilever keep the handbook's ratios") {
  const auto hinged = restraint::beam_middle(1000, 400, 1e8, BeamEnds::hinged);
  const auto clamped = restraint::beam_middle(1000, 400, 1e8, BeamEnds::clamped);
  CHECK(hinged.moment_n_mm == doctest::Approx(100000));  // P L / 4
  CHECK(clamped.moment_n_mm == doctest::Approx(50000));  // P L / 8
  CHECK(hinged.sag_mm == doctest::Approx(4 * clamped.sag_mm));
  const auto arm = restraint::cantilever_end(500, 200, 1e8);
  CHECK(arm.moment_n_mm == doctest::Approx(100000));
  // a beam on two supports is two cantilevers back to back
  CHECK(arm.sag_mm == doctest::Approx(hinged.sag_mm));
}

TEST_CASE("net: pull of a shallow parabola, worked by hand") {
  // 10 N/mm, 400 mm, 20 mm sag: 10 000 N, at the ends 10 198 N
  CHECK(restraint::cable_pull_n(10, 400, 20) == doctest::Approx(10000));
  CHECK(restraint::cable_end_pull_n(10, 400, 20) == doctest::Approx(10198).epsilon(1e-5));
  // the same as a strip 1 mm wide pulled by 10 000 N: 20 mm bulge, 2/3 % stretch
  const auto net = restraint::net_under_pressure(10, 400, 10000);
  CHECK(net.bulge_mm == doctest::Approx(20));
  CHECK(net.stretch == doctest::Approx(8.0 / 3 / 400));
}

TEST_CASE("net: sag of a line, Wadhwa, Electrical Power Systems, Example 7.1") {
  // 0.65 kg/m and 0.38 kg/m of wind, breaking 4250 kg/cm2 on 0.95 cm, factor 5, span 160 m: printed sag 4 m
  const double pull_kg = std::numbers::pi / 4 * 0.95 * 0.95 * 4250 / 5, load_kg_per_m = std::hypot(0.65, 0.38);
  CHECK(pull_kg == doctest::Approx(602.5).epsilon(0.001));
  CHECK(restraint::net_under_pressure(load_kg_per_m, 160, pull_kg).bulge_mm == doctest::Approx(4).epsilon(0.001));
}

TEST_CASE("capstan: printed ratios, and a strap round a square edge") {
  CHECK(restraint::capstan_ratio(0.3, 2 * std::numbers::pi) == doctest::Approx(6.6).epsilon(0.005));
  CHECK(restraint::capstan_ratio(0.6, 10 * std::numbers::pi) == doctest::Approx(153552935).epsilon(1e-6));
  CHECK(1 / restraint::capstan_ratio(0.2, std::numbers::pi / 2) == doctest::Approx(0.730).epsilon(0.001));
}

TEST_CASE("plate: square and long plates keep Timoshenko's coefficients") {
  // Timoshenko and Woinowsky-Krieger, Tables 8 and 35: supported square w = 0.00406 q a^4/D, M = 0.0479 q a^2;
  // clamped square w = 0.00126 q a^4/D, edge M = 0.0513 q a^2 (from memory). E t^3 = 12 (1 - 0.3^2) D, stress = 6 M / t^2.
  const auto supported = restraint::plate_factors(1, BeamEnds::hinged), clamped = restraint::plate_factors(1, BeamEnds::clamped);
  CHECK(supported.alpha == doctest::Approx(0.00406 * 12 * 0.91).epsilon(0.005));
  CHECK(supported.beta == doctest::Approx(0.0479 * 6).epsilon(0.005));
  CHECK(clamped.alpha == doctest::Approx(0.00126 * 12 * 0.91).epsilon(0.005));
  CHECK(clamped.beta == doctest::Approx(0.0513 * 6).epsilon(0.005));
  // a very long plate is a strip: w L^2 / 8 and w L^2 / 12
  CHECK(restraint::plate_factors(50, BeamEnds::hinged).beta == doctest::Approx(6.0 / 8));
  CHECK(restraint::plate_factors(50, BeamEnds::clamped).beta == doctest::Approx(6.0 / 12));
}

TEST_CASE("fan: a spot on a clamped round plate yields at 4 pi m whatever its radius") {
  // Johansen; equal strength under the spot and round the rim: P = 4 pi m, m = f t^2 / 4
  CHECK(restraint::fan_force_n(100, 100, 9) == doctest::Approx(4 * std::numbers::pi * 100 * 9 / 4));
}
