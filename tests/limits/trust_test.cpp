/// Which measurements are doubtful, and how many cells hang on them.

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/limits/trust.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;
using limits::Trust;

namespace {

std::vector<core::Length> all(std::size_t n, Um um_each) { return std::vector<core::Length>(n, um(um_each)); }

/// 5 cells of 100 and 40 mm over in one row.
survey::Cavity row(Um tape_error) {
  survey::Cavity cavity = shaft({{0, 0}, {540'000, 0}, {540'000, 260'000}, {0, 260'000}}, 300'000);
  cavity.tape_error = um(tape_error);
  return cavity;
}

survey::Rules loose() {
  survey::Rules rules;
  rules.box_outline = survey::BoxOutline::loose;
  rules.arrangement = survey::Arrangement::rows;
  for (core::Length* length : {&rules.body_clearance, &rules.lid_clearance, &rules.end_plate, &rules.strap_space, &rules.headroom}) *length = {};
  rules.block_cells = {1, 100};
  return rules;
}

survey::Cell tall() {
  survey::Cell one = cell(100'000, 200'000, 200'000);
  return one;
}

}  // namespace

TEST_CASE("drawn in: a rectangle by what each side is off, closed form") {
  const auto corners = points({{0, 0}, {500'000, 0}, {500'000, 300'000}, {0, 300'000}});
  const auto same = limits::drawn_in(corners, all(4, 3'000));
  REQUIRE(same);
  CHECK(*same == points({{3'000, 3'000}, {497'000, 3'000}, {497'000, 297'000}, {3'000, 297'000}}));
  // one bad corner moves the two walls that meet there
  const auto one = limits::drawn_in(corners, {um(3'000), um(10'000), um(3'000), um(3'000)});
  REQUIRE(one);
  CHECK(*one == points({{3'000, 10'000}, {490'000, 10'000}, {490'000, 297'000}, {3'000, 297'000}}));
  CHECK_FALSE(limits::drawn_in(corners, all(4, 150'000)));
  CHECK_FALSE(limits::drawn_in(corners, all(4, 200'000)));
}

TEST_CASE("drawn in: every edge of a random outline moves by its give or take, no less than a micrometre short") {
  std::mt19937_64 bits(7);
  int tried = 0;
  for (int i = 0; i < 300; ++i) {
    // a star with 5 to 12 points, turning left and right
    const int n = 5 + static_cast<int>(bits() % 8);
    std::vector<core::Point2> star;
    for (int k = 0; k < n; ++k) {
      const double angle = 6.283185307 * k / n, radius = 200'000 + static_cast<double>(bits() % 300'000);
      star.push_back({um(std::llround(radius * std::cos(angle))), um(std::llround(radius * std::sin(angle)))});
    }
    std::vector<core::Length> give;
    for (int k = 0; k < n; ++k) give.push_back(um(static_cast<Um>(bits() % 8'000)));
    const auto in = limits::drawn_in(star, give);
    if (!in) continue;
    ++tried;
    for (std::size_t k = 0; k < star.size(); ++k) {
      const std::size_t next = (k + 1) % star.size();
      const double dx = (star[next].a - star[k].a).mm(), dy = (star[next].b - star[k].b).mm(), length = std::hypot(dx, dy);
      const double wanted = std::max(give[k], give[next]).mm();
      for (const core::Point2& p : {(*in)[k], (*in)[next]}) {
        const double off = (dx * (p.b - star[k].b).mm() - dy * (p.a - star[k].a).mm()) / length;
        CHECK(off >= wanted - 0.002);
      }
    }
  }
  CHECK(tried > 250);
}

TEST_CASE("trust: what hangs on a doubtful section is the cells that no longer fit when it is off") {
  // 5 x 100 in 540 mm: 40 mm over. Off by 20.001 mm at both ends, only 4 fit.
  for (const auto& [off, cells] : {std::pair<Um, int>{20'000, 5}, {20'001, 4}}) {
    survey::Cavity cavity = row(3'000);
    survey::Measured measured;
    measured.corners = {{"1", {}}, {"2", um(off)}, {"3", {}}, {"4", um(off)}};
    cavity.sections.at[1].measured = measured;
    const limits::TrustList list = limits::trust_of(cavity, tall(), loose(), 5, {});
    CHECK(list.cells == 5);
    REQUIRE(list.items.size() == 3);
    CHECK(list.items[0].trust == Trust::doubtful);
    CHECK(list.items[0].what == "section at 300 mm");
    CHECK(list.items[0].why.find("corner 2 give or take") == 0);
    CHECK(list.items[0].give_or_take == um(off));
    CHECK(list.items[0].cells_if_off == cells);
    CHECK(list.items[1].trust == Trust::missing);
    CHECK(list.items[1].what == "openings");
    CHECK(list.items[2].trust == Trust::good);
    CHECK(list.cells_if_all_off == cells);
  }
}

TEST_CASE("trust: a remark makes a section doubtful; the lack of a sheet thickness or a section is told") {
  survey::Cavity cavity = row(3'000);
  cavity.sections.at[0].measured = survey::Measured{survey::MeasuredBy::tape, {}, {"D2 to point 4 is about 10 mm off"}};
  survey::Fixing fixing;
  fixing.name = "T1";
  cavity.fixings = {fixing};
  cavity.way_in.push_back({});
  packing::ReadingComparison readings;
  readings.measure_at = um(150'000);
  readings.decided_there = 1;
  const limits::TrustList list = limits::trust_of(cavity, tall(), loose(), 5, readings);
  REQUIRE(list.items.size() == 4);
  CHECK(list.items[0].why == "D2 to point 4 is about 10 mm off");
  CHECK(list.items[1].what == "a section at about 150 mm");
  CHECK(list.items[1].why == "if the walls run straight there, 1 cell more fit");
  CHECK(list.items[2].what == "body sheet at fixing T1");
}

TEST_CASE("trust: everything off is never more cells than any one thing off") {
  survey::Cavity cavity = row(21'000);
  cavity.keep_outs.push_back({"pipe", survey::KeepOutKind::fixed, core::Length{}, survey::BoxShape{{um(0), um(235'000), um(0)}, {um(30'000), um(260'000), um(300'000)}}});
  const limits::TrustList list = limits::trust_of(cavity, tall(), loose(), 5, {});
  REQUIRE(list.cells_if_all_off);
  CHECK(*list.cells_if_all_off < 5);
}
