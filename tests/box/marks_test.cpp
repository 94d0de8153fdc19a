#include "cellstow/box/marks.hpp"

#include <doctest/doctest.h>

#include "cellstow/box/build_box.hpp"

using namespace cellstow;

namespace {

std::vector<std::string> marks_of(const std::vector<std::string>& names) {
  std::vector<survey::Cavity> cavities;
  for (const std::string& name : names) {
    cavities.emplace_back();
    cavities.back().name = name;
  }
  return box::cavity_marks(cavities);
}

}  // namespace

TEST_CASE("cavity marks: initials, or two letters of a single word") {
  CHECK(marks_of({"tank well", "boot", "under rear seat"}) ==
        std::vector<std::string>{"TW", "BO", "URS"});
  CHECK(marks_of({"engine-bay", "well 2", "4x4 tunnel", "3"}) ==
        std::vector<std::string>{"EB", "WE", "TU", "BX"});
}

TEST_CASE("cavity marks: clashes are numbered in file order, and a mark never ends in a figure") {
  CHECK(marks_of({"tank well", "trunk wall", "boot", "tail wing"}) ==
        std::vector<std::string>{"TW", "2TW", "BO", "3TW"});
  // the second box of "tank well" and the cavity after it stay apart
  CHECK(box::box_mark("TW", 2) == "TW2");
  CHECK(box::box_mark("TW", 1) == "TW");
}

TEST_CASE("cavity marks: a cavity added at the end changes no earlier mark") {
  const std::vector<std::string> names = {"well",    "west side", "wells",
                                          "wet end", "w e",       "engine bay"};
  const std::vector<std::string> all = marks_of(names);
  for (std::size_t n = 0; n < names.size(); ++n) {
    const std::vector<std::string> some =
        marks_of({names.begin(), names.begin() + static_cast<long>(n)});
    CHECK(some == std::vector<std::string>(all.begin(), all.begin() + static_cast<long>(n)));
  }
}
