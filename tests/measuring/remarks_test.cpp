/// Whole sentences, as the one who measured reads them.

#include <doctest/doctest.h>

#include "cellstow/measuring/measure.hpp"
#include "measuring/known_section.hpp"

using namespace cellstow::measuring;
using namespace cellstow::measuring::testing;

namespace {

std::vector<std::string> remarks_of(const Network& network) {
  const auto measured = measure(network, 2);
  REQUIRE(measured);
  return remarks(network, *measured);
}

}  // namespace

TEST_CASE("remarks: a slip where four lengths tell which") {
  Network network = read_exactly(boot(4), 2);
  CHECK(std::abs(distance(boot(4).datums[1], boot(4).corners[6]) - 922.66) < 0.01);
  network.readings[8 + 6].mm = 942.7;
  const auto said = remarks_of(network);
  REQUIRE(said.size() >= 3);
  CHECK(said[0] == "D2 to point 7 does not fit the others: 942.7 mm is about 20 mm long, 923 would fit. Read it again.");
  CHECK(said[1] == "No reading was changed or left out: the corners lie as all readings together say, and their give or take is larger for the doubt.");
}

TEST_CASE("remarks: a slip where three lengths cannot tell which") {
  Network network = read_exactly(boot(3), 2);
  network.readings[8 + 6].mm += 20;
  const auto said = remarks_of(network);
  CHECK(said[0].starts_with("Point 7 does not close: "));
  CHECK(said[0].find("D2 to point 7 reads about 20 mm long") != std::string::npos);
  CHECK(said[0].ends_with("Read them again; one more length to point 7 would tell which."));
}

TEST_CASE("remarks: swapped readings") {
  Network network = read_exactly(boot(4), 2);
  std::swap(network.readings[2].mm, network.readings[8 + 2].mm);
  const auto said = remarks_of(network);
  CHECK(said[0] == "D1 to point 3 (809.9) and D2 to point 3 (573.8) look swapped: exchanged, they fit the others. Look at the sheet, or read them again.");
}

TEST_CASE("remarks: two lengths each, one flat") {
  const KnownSection section{{{-500, 0}, {500, 0}}, {{20, 60}, {0, 400}}, {}, {}};
  Network network = read_exactly(section, 2);
  for (Point& point : network.points) point.side = Side::high_b;
  const auto said = remarks_of(network);
  REQUIRE(said.size() == 4);
  CHECK(said[0].starts_with("Point 1: its lengths cross at 166 degrees, flatter than 30 to 150; no fault of a reading, but the point is only good to give or take "));
  CHECK(said[1] == "Nothing checks the readings of points 1 and 2: a slip there cannot be seen. A third length or a check reading would show it.");
  CHECK(said[2].starts_with("Corners are good to give or take 2."));
  CHECK(said[2].ends_with("the worst is point 1."));
  CHECK(said[3].starts_with("Worth measuring next: point 1 to point 2 (about 341 mm): a slip of "));
}
