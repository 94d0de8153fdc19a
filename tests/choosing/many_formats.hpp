#pragma once
/// Invented cell formats by seeded variation round the sizes of large prismatic cells.

#include <cmath>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "cellstow/choosing/pack_formats.hpp"

namespace cellstow::test {

/// `count` formats: thickness 26 to 75, width 130 to 220, height 90 to 240 mm; 330 Wh/l and 2,090 kg/m3, as of a 280 Ah cell of
/// 72 x 174 x 207 mm and 5.4 kg; every one upright or on edge, every fourth flat too.
inline std::vector<choosing::Format> many_formats(int count, std::uint32_t seed) {
  std::mt19937 draw(seed);
  const auto between = [&](int low, int high) { return low + static_cast<int>(draw() % static_cast<std::uint32_t>(high - low + 1)); };
  std::vector<choosing::Format> formats;
  for (int i = 0; i < count; ++i) {
    const int thickness = between(26, 75), width = between(130, 220), height = between(90, 240);
    const double litres = thickness * width * height / 1e6;
    survey::Cell cell;
    cell.name = "invented " + std::to_string(i + 1);
    cell.thickness = core::Length::from_um(thickness * 1000);
    cell.width = core::Length::from_um(width * 1000);
    cell.height = core::Length::from_um(height * 1000);
    cell.terminal_top = core::Length::from_um((height + 14) * 1000);
    cell.mass = core::Kg::of(std::round(litres * 209) / 100);
    cell.capacity = core::AmpereHour::of(std::round(litres * 330 / 3.2));
    cell.voltage = survey::VoltageWindow{core::Volt::of(2.5), core::Volt::of(3.2), core::Volt::of(3.65)};
    cell.stances = {survey::Stance::upright, survey::Stance::on_edge};
    if (i % 4 == 3) cell.stances.push_back(survey::Stance::flat);
    formats.push_back({cell, {}});
  }
  return formats;
}

}  // namespace cellstow::test
