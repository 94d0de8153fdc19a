#include "cellstow/restraint/creepage.hpp"

namespace cellstow::restraint {

double creepage_mm(double volts) {
  constexpr double rows[][2] = {{63, 2.0},  {100, 2.2}, {125, 2.4}, {160, 2.5}, {200, 3.2}, {250, 4.0},
                                {320, 5.0}, {400, 6.3}, {500, 8.0}, {630, 10.0}, {800, 12.5}};
  for (const auto& row : rows)
    if (volts <= row[0]) return row[1];
  return 12.5 * volts / 800;
}

}  // namespace cellstow::restraint
