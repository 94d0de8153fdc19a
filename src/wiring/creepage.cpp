#include "cellstow/wiring/creepage.hpp"

namespace cellstow::wiring {

double creepage_mm(double volts) {
  constexpr double table[][2] = {{63, 2.0},  {100, 2.2}, {125, 2.4}, {160, 2.5}, {200, 3.2}, {250, 4.0},
                                 {320, 5.0}, {400, 6.3}, {500, 8.0}, {630, 10},  {800, 12.5}};
  for (const auto& row : table) {
    if (volts <= row[0]) return row[1];
  }
  return 0;
}

}  // namespace cellstow::wiring
