#include <doctest/doctest.h>

#include <algorithm>

#include "fabrication/boxes.hpp"

namespace {

using namespace cellstow::fabrication;
using namespace cellstow::fabrication::testing;

const SheetPart& part(const SheetWork& work, const std::string& mark) {
  const auto found = std::find_if(work.parts.begin(), work.parts.end(), [&](const SheetPart& p) { return p.mark == mark; });
  REQUIRE(found != work.parts.end());
  return *found;
}

}  // namespace

TEST_CASE("marks say part, revision and which way it goes") {
  cellstow::survey::Rules rules = plain_rules();
  const SheetWork work = make_sheet_work(stepped_box(500, 400, 200, 150, 250, rules), rules, "B3");
  const SheetPart& floor = part(work, "TW-FLOOR");
  REQUIRE(floor.flat.etch_texts.size() == 1);
  CHECK(floor.flat.etch_texts[0].text == "TW-FLOOR rev B3 FRONT");
  CHECK(floor.flat.etch_lines[0].to.a < floor.flat.etch_lines[0].from.a);  // the arrow's shaft points to the front, -u
  const SheetPart& wall = part(work, "TW-WALL-REAR-1");
  CHECK(wall.flat.etch_texts[0].text == "TW-WALL-REAR-1 rev B3 UP");
  CHECK(wall.flat.etch_lines[0].to.b > wall.flat.etch_lines[0].from.b);
}

TEST_CASE("lettering lies on metal, clear of holes and bends; bends have a tick at both ends") {
  for (std::uint32_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const Made made = random_made(seed);
    for (const SheetPart& p : made.work.parts) {
      CAPTURE(p.mark);
      const FlatExtent extent = extent_of(p.flat.outline);
      CHECK(p.flat.etch_lines.size() >= 2 * p.flat.bends.size());
      for (const EtchText& text : p.flat.etch_texts) {
        const double right = text.at.a + text.height * static_cast<double>(text.text.size());
        CHECK(text.at.a > 0);
        CHECK(right < extent.high.a);
        for (const FlatHole& hole : p.flat.holes) {
          if (hole.kind != HoleKind::round) continue;
          const double r = hole.diameter / 2;
          const bool clear = hole.centre.a + r < text.at.a || hole.centre.a - r > right || hole.centre.b + r < text.at.b ||
                             hole.centre.b - r > text.at.b + text.height;
          CHECK(clear);
        }
      }
    }
  }
}
