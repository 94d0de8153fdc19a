#pragma once
/// Sections whose corners are known, and what a tape would read on them.

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

#include "cellstow/measuring/measure.hpp"

namespace cellstow::measuring::testing {

/// Normal deviates by Box and Muller from a generator whose stream the standard fixes: the same on every machine.
class Noise {
 public:
  explicit Noise(std::uint32_t seed) : generator_(seed) {}
  double uniform() { return (static_cast<double>(generator_()) + 0.5) / 4294967296.0; }
  double normal() { return std::sqrt(-2 * std::log(uniform())) * std::cos(2 * std::numbers::pi * uniform()); }
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(uniform() * static_cast<double>(n)); }

 private:
  std::mt19937 generator_;
};

struct KnownSection {
  std::vector<Place> datums, corners;
  std::vector<std::pair<std::size_t, std::size_t>> checks;   ///< between corners
  std::optional<Side> side;                                  ///< of all corners
};

/// An invented boot section with a step and a sloping back, mm; datums on the opening's edge and the floor.
inline KnownSection boot(std::size_t datums) {
  const std::vector<Place> nails = {{-520, 760}, {540, 770}, {30, 905}, {-30, 140}};
  return {{nails.begin(), nails.begin() + static_cast<std::ptrdiff_t>(datums)},
          {{-410, 250}, {-150, 250}, {-140, 330}, {380, 340}, {430, 520}, {400, 690}, {-380, 700}, {-440, 480}},
          {},
          datums < 4 ? std::optional(Side::low_b) : std::nullopt};
}

inline KnownSection with_checks(KnownSection section) {
  section.checks = {{0, 5}, {3, 6}, {0, 3}, {4, 7}, {1, 5}, {2, 6}};
  return section;
}

/// Every corner from every datum, then the checks, read without error. The first three datums lie nearly in line, all
/// corners below them.
inline Network read_exactly(const KnownSection& section, double give_or_take_mm) {
  Network network;
  for (std::size_t i = 0; i < section.datums.size(); ++i) network.datums.push_back({"D" + std::to_string(i + 1), section.datums[i]});
  for (std::size_t i = 0; i < section.corners.size(); ++i) {
    network.points.push_back({std::to_string(i + 1), section.side});
  }
  const std::size_t first = section.datums.size();
  for (std::size_t d = 0; d < first; ++d) {
    for (std::size_t c = 0; c < section.corners.size(); ++c) {
      network.readings.push_back({d, first + c, distance(section.datums[d], section.corners[c]), give_or_take_mm});
    }
  }
  for (const auto& [c, e] : section.checks) {
    network.readings.push_back({first + c, first + e, distance(section.corners[c], section.corners[e]), give_or_take_mm});
  }
  return network;
}

/// The same, each reading off by what its give or take says.
inline Network read_with_noise(const KnownSection& section, double give_or_take_mm, Noise& noise) {
  Network network = read_exactly(section, give_or_take_mm);
  for (Reading& reading : network.readings) reading.mm += deviation(reading) * noise.normal();
  return network;
}

}  // namespace cellstow::measuring::testing
