#include "cellstow/measuring/known_points.hpp"

#include <cassert>
#include <cmath>

namespace cellstow::measuring {

DrawnPoint placed(const DrawingPlacing& placing, const DrawnPoint& drawn) {
  return {placing.cosine * drawn.a_mm - placing.sine * drawn.b_mm + placing.shift_a_mm,
          placing.sine * drawn.a_mm + placing.cosine * drawn.b_mm + placing.shift_b_mm};
}

DrawingPlacing place_drawing(std::span<const KnownPair> pairs) {
  assert(pairs.size() >= 2);
  const double n = static_cast<double>(pairs.size());
  DrawnPoint drawn_middle, at_middle;
  for (const auto& [drawn, at] : pairs) {
    drawn_middle = {drawn_middle.a_mm + drawn.a_mm / n, drawn_middle.b_mm + drawn.b_mm / n};
    at_middle = {at_middle.a_mm + at.a_mm / n, at_middle.b_mm + at.b_mm / n};
  }
  double along = 0, across = 0;
  for (const auto& [drawn, at] : pairs) {
    const double da = drawn.a_mm - drawn_middle.a_mm, db = drawn.b_mm - drawn_middle.b_mm;
    const double ta = at.a_mm - at_middle.a_mm, tb = at.b_mm - at_middle.b_mm;
    along += da * ta + db * tb;
    across += da * tb - db * ta;
  }
  const double turn = std::atan2(across, along);
  DrawingPlacing placing{std::cos(turn), std::sin(turn), 0, 0};
  const DrawnPoint turned = placed(placing, drawn_middle);
  placing.shift_a_mm = at_middle.a_mm - turned.a_mm;
  placing.shift_b_mm = at_middle.b_mm - turned.b_mm;
  return placing;
}

std::vector<double> off_by_mm(const DrawingPlacing& placing, std::span<const KnownPair> pairs) {
  std::vector<double> off;
  for (const auto& [drawn, at] : pairs) {
    const DrawnPoint there = placed(placing, drawn);
    off.push_back(std::hypot(there.a_mm - at.a_mm, there.b_mm - at.b_mm));
  }
  return off;
}

}  // namespace cellstow::measuring
