#include "cellstow/core/length.hpp"

#include <cmath>

namespace cellstow::core {

Length Length::from_mm(double mm) { return from_um(std::llround(mm * 1000.0)); }

Length Length::from_mm_up(double mm) {
  constexpr double binary_noise_um = 1e-4;
  return from_um(static_cast<Um>(std::ceil(mm * 1000.0 - binary_noise_um)));
}

}  // namespace cellstow::core
