#pragma once
/// What the stages have to say about a design: checks, cautions, stages left out.

#include <string>
#include <vector>

namespace cellstow::core {

/// One design check. A check that fails is a result, not an error.
struct Check {
  std::string name;    ///< "front axle load, full"
  std::string where;   ///< part, box, load case: "tank well, block 2, 20 g forward"
  double value = 0;    ///< in `unit`
  double limit = 0;    ///< in `unit`
  std::string unit;    ///< "kg", "N", "MPa", "mm"
  double use = 0;      ///< share of the limit used: 1.0 is just met
  bool ok = false;
  std::string source;  ///< formula and where it comes from
  std::string cure;    ///< what would mend it, in the trade's words; empty when ok
};

/// A stage that did not run, and the input it missed.
struct LeftOut {
  std::string stage;
  std::string why;
};

/// value must not exceed limit; use = value / limit.
Check check_at_most(std::string name, std::string where, double value, double limit,
                    std::string unit, std::string source, std::string cure);

/// value must not fall below limit; use = limit / value.
Check check_at_least(std::string name, std::string where, double value, double limit,
                     std::string unit, std::string source, std::string cure);

/// Failing checks first, then by falling use, then by name and place.
void sort_worst_first(std::vector<Check>& checks);

}  // namespace cellstow::core
