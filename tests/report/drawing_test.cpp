#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "report/drawing.hpp"
#include "report/drawing_checks.hpp"
#include "report/fixture.hpp"
#include "report/hatch.hpp"
#include "report/look.hpp"
#include "report/outside.hpp"
#include "report/page_drawings.hpp"
#include "report/svg.hpp"

namespace {

using namespace cellstow::report;

std::vector<fixture::Case> cases() {
  return {fixture::two_cavities(), fixture::nasty_names(), fixture::loose_cells()};
}

}  // namespace

TEST_CASE("drawings: everything lies on the paper and no lettering on other lettering") {
  for (const fixture::Case& c : cases()) {
    for (const Drawing& drawing : all_drawings(c.job, c.plan)) {
      CAPTURE(drawing.title);
      check_inside(drawing);
      check_no_overlap(drawing);
    }
  }
}

TEST_CASE("drawings: well-formed XML with every coordinate in the view box") {
  const outside::Folder folder("svg");
  int number = 0;
  for (const fixture::Case& c : cases()) {
    for (const Drawing& drawing : all_drawings(c.job, c.plan)) {
      std::ofstream(folder.path() / (std::to_string(number++) + ".svg"), std::ios::binary) << to_svg(drawing, SvgUse::own_file);
    }
  }
  CHECK(number > 15);
  int status = 0;
  const std::string out = outside::run("/usr/bin/python3 " CELLSTOW_TESTS_DIR "/report/read_svg.py " + folder.path().string() + "/*.svg", status);
  CHECK(out == "");
  CHECK(status == 0);
}

TEST_CASE("drawings: the paper size is the view box in mm, so 100 % is true to scale") {
  const fixture::Case c = fixture::two_cavities();
  const Drawing view = all_drawings(c.job, c.plan)[2];
  CHECK(view.name == "TW-plan");
  CHECK(view.scale == "1:6");
  const std::string svg = to_svg(view, SvgUse::own_file);
  CHECK(svg.find("viewBox=\"0 0 267 ") != std::string::npos);
  CHECK(svg.find("width=\"267mm\"") != std::string::npos);
  // The box is 560 mm long: 93.33 mm on paper.
  double longest = 0;
  for (const Item& item : view.items) {
    const auto* stroke = std::get_if<Stroke>(&item);
    if (!stroke || stroke->pen != Pen::wall) continue;
    for (const Spot& p : stroke->points) {
      for (const Spot& q : stroke->points) longest = std::max(longest, p.x - q.x);
    }
  }
  CHECK(longest == doctest::Approx(560.0 / 6));
}

TEST_CASE("looks: front is left and right is up from above, left is left from behind") {
  const Flat above = seen(Look::from_above, 100, 20, 3);
  CHECK(above.a == 100);
  CHECK(above.b == 20);
  const Flat left = seen(Look::from_left, 100, 20, 3);
  CHECK(left.a == 100);
  CHECK(left.b == 3);
  const Flat behind = seen(Look::from_behind, 100, 20, 3);
  CHECK(behind.a == 20);
  CHECK(behind.b == 3);
}

TEST_CASE("way in: a tilted pass tells between which angles it goes") {
  const fixture::Case c = fixture::two_cavities();   // 28 to 51 degrees
  bool told = false;
  for (const Drawing& drawing : all_drawings(c.job, c.plan)) {
    for (const Item& item : drawing.items) {
      const auto* label = std::get_if<Label>(&item);
      told |= label && label->text.find("any angle from 28 to 51") != std::string::npos;
    }
  }
  CHECK(told);
}

TEST_CASE("car: no lettering lies across the edge of a box, and every seat is named once") {
  for (const fixture::Case& c : cases()) {
    const auto car = car_drawing(c.job, c.plan);
    if (!car) continue;
    std::string all_text;
    for (const Item& item : car->items) {
      const auto* label = std::get_if<Label>(&item);
      if (!label) continue;
      all_text += label->text + "\n";
      const Patch patch = text_patch(*label);
      for (const Item& other : car->items) {
        const auto* edge = std::get_if<Stroke>(&other);
        if (!edge || edge->pen != Pen::wall) continue;
        for (std::size_t i = 0; i < edge->points.size(); ++i) {
          const Spot &a = edge->points[i], &b = edge->points[(i + 1) % edge->points.size()];
          CAPTURE(label->text);
          for (int step = 0; step <= 200; ++step) {
            const double x = a.x + (b.x - a.x) * step / 200, y = a.y + (b.y - a.y) * step / 200;
            REQUIRE_FALSE((x > patch.left && x < patch.right && y > patch.top && y < patch.bottom));
          }
        }
      }
    }
    for (const auto& seat : c.job.car->seats) CHECK(all_text.find(" " + seat.name.substr(0, 6)) != std::string::npos);
  }
}

TEST_CASE("drawings: every cell that nothing hides carries its number") {
  const fixture::Case c = fixture::two_cavities();
  const Drawing view = all_drawings(c.job, c.plan)[2];
  for (int n = 1; n <= 18; ++n) {
    const bool found = std::any_of(view.items.begin(), view.items.end(), [n](const Item& item) {
      const auto* label = std::get_if<Label>(&item);
      return label && label->bold && label->text == std::to_string(n);
    });
    CAPTURE(n);
    CHECK(found);
  }
}

TEST_CASE("shapes: inset moves every wall inward by its thickness") {
  const std::vector<Flat> l_shape{{0, 0}, {60, 0}, {60, 30}, {20, 30}, {20, 50}, {0, 50}};
  const std::vector<Flat> got = inset(l_shape, 3);
  const std::vector<Flat> wanted{{3, 3}, {57, 3}, {57, 27}, {17, 27}, {17, 47}, {3, 47}};
  REQUIRE(got.size() == wanted.size());
  for (std::size_t i = 0; i < got.size(); ++i) {
    CHECK(got[i].a == doctest::Approx(wanted[i].a));
    CHECK(got[i].b == doctest::Approx(wanted[i].b));
  }
}

TEST_CASE("shapes: a hatch fills what it should") {
  const std::vector<Spot> l_shape{{0, 0}, {60, 0}, {60, 30}, {20, 30}, {20, 50}, {0, 50}};
  double length = 0;
  for (const auto& [from, to] : hatch(l_shape, 1, -1, 0.1)) length += std::hypot(to.x - from.x, to.y - from.y);
  CHECK(length * 0.1 == doctest::Approx(60 * 30 + 20 * 20).epsilon(0.01));
}
