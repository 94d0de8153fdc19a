/// Lengths, checks and problem texts.

#include <doctest/doctest.h>

#include "cellstow/core/finding.hpp"
#include "cellstow/core/length.hpp"
#include "cellstow/core/problem.hpp"

using namespace cellstow::core;

TEST_CASE("length: millimetres to whole micrometres, nearest and up") {
  CHECK(Length::from_mm(0.1).um() == 100);
  CHECK(Length::from_mm(0.1 + 0.2).um() == 300);
  CHECK(Length::from_mm(12.375 * 25.4).um() == 314'325);    // 12 3/8 in = 314.325 mm
  CHECK(Length::from_mm_up(17.3125 * 25.4).um() == 439'738);
  CHECK(Length::from_mm_up(1.0001).um() == 1'001);
  CHECK(Length::from_mm_up(0.3).um() == 300);               // 0.3 is not exact in binary
  CHECK(Length::from_mm_up(3).um() == 3'000);
  CHECK(Length::from_mm(-2.5).mm() == -2.5);
}

TEST_CASE("check: use, contact with the limit, limits of zero") {
  const Check met = check_at_most("axle", "front", 540, 540, "kg", "plate", "move mass");
  CHECK(met.ok);
  CHECK(met.use == 1.0);
  CHECK(met.cure.empty());
  const Check over = check_at_most("axle", "front", 541, 540, "kg", "plate", "move mass");
  CHECK_FALSE(over.ok);
  CHECK(over.cure == "move mass");
  CHECK(check_at_least("count", "", 34, 34, "cells", "", "").ok);
  CHECK_FALSE(check_at_least("count", "", 33, 34, "cells", "", "more").ok);
  CHECK_FALSE(check_at_least("count", "", 0, 34, "cells", "", "more").ok);
  CHECK_FALSE(check_at_most("force", "", 1, 0, "N", "", "none allowed").ok);
}

TEST_CASE("check: failing ones first, then by use") {
  std::vector<Check> checks{check_at_most("a", "", 1, 10, "", "", ""), check_at_most("b", "", 9, 10, "", "", ""),
                            check_at_most("c", "", 11, 10, "", "", ""), check_at_most("d", "", 30, 10, "", "", "")};
  sort_worst_first(checks);
  CHECK(checks[0].name == "d");
  CHECK(checks[1].name == "c");
  CHECK(checks[2].name == "b");
  CHECK(checks[3].name == "a");
}

TEST_CASE("problem: text with and without pointer and hint") {
  CHECK(to_text(Problem{"E203", "car.json", "/cavities/0", "outline crosses itself", "edges 4 and 9", "a simple outline", "swap two corners"}) ==
        "car.json#/cavities/0: error E203: outline crosses itself\n  found: edges 4 and 9\n  expected: a simple outline\n  hint: swap two corners\n");
  CHECK(to_text(Problem{"E401", "car.json", "", "file cannot be read", "no such file", "a job file", ""}) ==
        "car.json: error E401: file cannot be read\n  found: no such file\n  expected: a job file\n");
}
