#pragma once
/// Random and hand-made cavities for the region tests.

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>

#include "true_space.hpp"

namespace cellstow::test {

using core::Length;
using Random = std::mt19937_64;
using Corners = std::vector<std::pair<Um, Um>>;

inline Length um(Um value) { return Length::from_um(value); }

inline Um between(Random& random, Um low, Um high) {
  return std::uniform_int_distribution<Um>(low, high)(random);
}

inline std::vector<survey::Point2> points(const Corners& corners) {
  std::vector<survey::Point2> result;
  for (const auto& [a, b] : corners) result.push_back({um(a), um(b)});
  return result;
}

/// Corners at rising angles about a centre: simple by construction.
struct Star { Um a, b; std::vector<double> angles, radii_um; };

inline Star random_star(Random& random, Um a, Um b, int corners, double least_um, double most_um) {
  std::uniform_real_distribution<double> share(0, 1);
  Star star{a, b, {}, {}};
  for (int k = 0; k < corners; ++k) {
    star.angles.push_back((k + 0.15 + 0.7 * share(random)) * 6.283185307179586 / corners);
    star.radii_um.push_back(least_um + (most_um - least_um) * share(random));
  }
  return star;
}

/// The same star with its corners moved a little.
inline Star moved(Random& random, Star star, double by_um) {
  std::uniform_real_distribution<double> share(-1, 1);
  for (double& r : star.radii_um) r += by_um * share(random);
  for (double& angle : star.angles) angle += 0.05 * share(random);
  return star;
}

inline std::vector<survey::Point2> loop_of(const Star& star, bool clockwise = false) {
  std::vector<survey::Point2> loop;
  for (std::size_t k = 0; k < star.angles.size(); ++k) {
    loop.push_back({um(star.a + std::llround(star.radii_um[k] * std::cos(star.angles[k]))),
                    um(star.b + std::llround(star.radii_um[k] * std::sin(star.angles[k])))});
  }
  if (clockwise) std::reverse(loop.begin(), loop.end());
  return loop;
}

/// A cavity of three or four sections that all hold a common core; with matched corners when asked.
inline survey::Cavity random_cavity(Random& random, survey::Axis across, bool matched, bool hole) {
  survey::Cavity cavity;
  cavity.name = "test bay";
  cavity.sections.across = across;
  const auto corners = [&] { return static_cast<int>(between(random, 5, 9)); };
  Star star = random_star(random, 400'000, 500'000, corners(), 250'000, 420'000);
  Star pipe = random_star(random, 450'000, 480'000, 5, 30'000, 60'000);
  Um station = between(random, 90'000, 110'000);
  const auto count = between(random, 3, 4);
  for (Um i = 0; i < count; ++i) {
    survey::Section section{um(station), loop_of(star), {}};
    if (hole) section.holes.push_back(loop_of(pipe, true));
    cavity.sections.at.push_back(section);
    station += between(random, 150'000, 300'000);
    star = matched ? moved(random, star, 20'000)
                   : random_star(random, 400'000, 500'000, corners(), 250'000, 420'000);
    pipe = moved(random, pipe, 8'000);
  }
  return cavity;
}

/// Sections of the same outline at the first and the last station.
inline survey::Cavity prism(survey::Axis across, Um from, Um to, const Corners& outline) {
  survey::Cavity cavity;
  cavity.name = "test bay";
  cavity.sections.across = across;
  for (const Um station : {from, to}) cavity.sections.at.push_back({um(station), points(outline), {}});
  return cavity;
}

}  // namespace cellstow::test
