/// A free plan seen by a turned box, against distances of turned rectangles by Boost.Geometry.

#include <doctest/doctest.h>

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <numbers>

#include "cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;
using core::Heading;
using geometry::Side;
using region::FreePlan;
using region::Reading;
using region::Strips;

namespace bg = boost::geometry;

namespace {

using Spot = bg::model::d2::point_xy<double>;
using Line = bg::model::linestring<Spot>;
using Polygon = bg::model::polygon<Spot>;

/// A rectangle of a box's own frame.
struct Rectangle { Um u_low, u_high, v_low, v_high; };

/// Its corners in the car, unrounded.
Polygon in_car(const Rectangle& r, double degrees) {
  const double angle = degrees * std::numbers::pi / 180, c = std::cos(angle), s = std::sin(angle);
  Polygon out;
  const auto corners = {std::pair{r.u_low, r.v_low}, {r.u_high, r.v_low}, {r.u_high, r.v_high}, {r.u_low, r.v_high}};
  for (const auto& [u, v] : corners) {
    const double a = static_cast<double>(u), b = static_cast<double>(v);
    bg::append(out, Spot(a * c - b * s, a * s + b * c));
  }
  bg::correct(out);
  return out;
}

Line closed_line(const geometry::Loop& loop) {
  Line line;
  for (std::size_t k = 0; k <= loop.size(); ++k) {
    const geometry::PointUm& p = loop[k % loop.size()];
    line.emplace_back(static_cast<double>(p.s), static_cast<double>(p.t));
  }
  return line;
}

/// By how much the rectangle keeps more than the reach of every wall, um; deeply negative when it stands in material.
double spare_um(const FreePlan& plan, const Polygon& rectangle) {
  double spare = 1e9;
  Spot middle;
  bg::centroid(rectangle, middle);
  for (const geometry::Wall& wall : plan.walls(Strips::along_x)) {
    bool inside = wall.material() == Side::outside;
    for (const geometry::Loop& loop : wall.loops()) {
      const Line line = closed_line(loop);
      const double distance = loop.size() == 1 ? bg::distance(line.front(), rectangle) : bg::distance(line, rectangle);
      spare = std::min(spare, distance - static_cast<double>(wall.reach()));
      if (loop.size() < 3) continue;
      Polygon ring;
      bg::assign_points(ring, line);
      bg::correct(ring);
      inside ^= bg::within(middle, ring);
    }
    if (inside) return -1e9;
  }
  return spare;
}

/// Rectangles about a point of the cavity, grown or shrunk until they just touch, so that contacts are tried and not only clear cases.
Rectangle touching(Random& random, const FreePlan& plan, double degrees, Rectangle r) {
  for (int i = 0; i < 40; ++i) {
    const double spare = spare_um(plan, in_car(r, degrees));
    const Um step = spare < -1e8 ? -5'000 : std::llround(spare);
    if (std::abs(spare) < 6) break;
    const auto side = between(random, 0, 3);
    if (side == 0) r.u_low -= step;
    if (side == 1) r.u_high += step;
    if (side == 2) r.v_low -= step;
    if (side == 3) r.v_high += step;
    if (r.u_low >= r.u_high || r.v_low >= r.v_high) return {0, 1, 0, 1};
  }
  return r;
}

survey::KeepOut random_keep_out(Random& random, int kind) {
  survey::KeepOut keep_out;
  keep_out.name = "thing";
  const Um x = between(random, 200'000, 600'000), y = between(random, 300'000, 700'000);
  if (kind == 0) keep_out.shape = survey::BoxShape{{um(x), um(y), um(0)}, {um(x + 40'000), um(y + 30'000), um(400'000)}};
  if (kind == 1) keep_out.shape = survey::CylinderShape{{um(x), um(y), um(0)}, {um(x), um(y), um(400'000)}, um(50'000)};
  if (kind == 2) keep_out.shape = survey::PrismShape{points({{x, y}, {x + 60'000, y}, {x, y + 50'000}}), um(0), um(400'000)};
  keep_out.clearance = um(between(random, 0, 1) * 7'000);
  return keep_out;
}

struct Tally { int free = 0, refused = 0, close = 0; };

/// No rectangle is free that is not, none is refused that has 3.5 um to spare; loosely none is refused that keeps all.
void same_as_by_distance(Random& random, const FreePlan& plan, double degrees, Tally& tally) {
  const Heading heading = Heading::from_degrees(degrees);
  const FreePlan turned = plan.turned(heading);
  const FreePlan loose = plan.turned_loosely(heading, std::min<Um>(plan.least_reach(), FreePlan::corner_move_um));
  for (int i = 0; i < 150; ++i) {
    const core::Point2 middle = core::to_box(heading, {um(between(random, 150'000, 650'000)), um(between(random, 250'000, 750'000))});
    const Um half_u = between(random, 20'000, 150'000), half_v = between(random, 20'000, 150'000);
    Rectangle r{middle.a.um() - half_u, middle.a.um() + half_u, middle.b.um() - half_v, middle.b.um() + half_v};
    if (i % 2 == 0) r = touching(random, plan, heading.degrees(), r);
    const double spare = spare_um(plan, in_car(r, heading.degrees()));
    const bool free = turned.covers(r.u_low, r.u_high, r.v_low, r.v_high);
    CAPTURE(degrees);
    CAPTURE(spare);
    if (free) CHECK(spare >= 0);
    if (spare >= 3.5) CHECK(free);
    if (plan.least_reach() > 0 && spare >= 0) CHECK(loose.covers(r.u_low, r.u_high, r.v_low, r.v_high));
    (free ? tally.free : tally.refused) += 1;
    tally.close += std::abs(spare) < 10;
  }
}

}  // namespace

TEST_CASE("turned plan: random cavities across z and x with keep-outs, against distances of turned rectangles") {
  Random random(2024);
  Tally tally;
  for (int round = 0; round < 24; ++round) {
    const bool matched = round % 3 == 0;
    survey::Cavity cavity = random_cavity(random, round % 2 == 0 ? survey::Axis::z : survey::Axis::x, matched, round % 4 < 2);
    for (int kind = 0; kind < 3; ++kind) cavity.keep_outs.push_back(random_keep_out(random, kind));
    const region::HeightSpan span = round % 2 == 0 ? region::HeightSpan{150'000, 300'000} : region::HeightSpan{470'000, 530'000};
    const Um clearance = round % 5 == 0 ? 0 : 10'000;
    const FreePlan plan = region::free_plan(cavity, {clearance, clearance, 0}, Reading::common, span);
    same_as_by_distance(random, plan, static_cast<double>(between(random, -45'000, 45'000)) / 1000, tally);
  }
  CHECK(tally.free > 200);
  CHECK(tally.refused > 200);
  CHECK(tally.close > 200);
}

TEST_CASE("turned plan: a bay turned about the vertical is a bay square with the box") {
  // 400 x 300 mm, turned by 27 degrees; its free rectangle is 380 x 280.
  const Heading heading = Heading::from_degrees(27);
  Corners corners;
  for (const auto& [u, v] : {std::pair{0, 0}, {400'000, 0}, {400'000, 300'000}, {0, 300'000}}) {
    const core::Point2 at = core::to_car(heading, core::Point2{um(u), um(v)});
    corners.emplace_back(at.a.um(), at.b.um());
  }
  const survey::Cavity cavity = prism(survey::Axis::z, 0, 200'000, corners);
  const FreePlan turned = region::free_plan(cavity, {10'000, 10'000, 0}, Reading::common, {20'000, 150'000}).turned(heading);
  CHECK(turned.covers(10'004, 389'996, 10'004, 289'996));
  CHECK_FALSE(turned.covers(10'000, 389'996, 10'004, 289'996));
  CHECK_FALSE(turned.covers(10'004, 389'996, 10'004, 290'000));
  CHECK(turned.extent(Strips::along_x).length() >= 279'990);
  CHECK(turned.extent(Strips::along_x).length() <= 280'000);
}

TEST_CASE("turned plan: what is legal there is legal in the car once its corners are rounded") {
  Random random(7);
  for (int round = 0; round < 8; ++round) {
    const survey::Cavity cavity = random_cavity(random, survey::Axis::z, false, false);
    const FreePlan plan = region::free_plan(cavity, {10'000, 10'000, 0}, Reading::common, {150'000, 300'000});
    const Heading heading = Heading::from_degrees(static_cast<double>(between(random, -45'000, 45'000)) / 1000);
    const FreePlan turned = plan.turned(heading);
    for (int i = 0; i < 40; ++i) {
      const core::Point2 middle = core::to_box(heading, {um(between(random, 300'000, 500'000)), um(between(random, 400'000, 600'000))});
      const Um half = between(random, 20'000, 120'000);
      const Rectangle r = touching(random, plan, heading.degrees(), {middle.a.um() - half, middle.a.um() + half, middle.b.um() - half, middle.b.um() + half});
      if (!turned.covers(r.u_low, r.u_high, r.v_low, r.v_high)) continue;
      geometry::Loop outline;
      for (const auto& [u, v] : {std::pair{r.u_low, r.v_low}, {r.u_high, r.v_low}, {r.u_high, r.v_high}, {r.u_low, r.v_high}}) {
        const core::Point2 corner = core::to_car(heading, core::Point2{um(u), um(v)});
        outline.push_back({corner.a.um(), corner.b.um()});
      }
      CHECK(plan.admits(outline));
    }
  }
}

TEST_CASE("turned plan: unchanged when the heading is square") {
  Random random(3);
  const survey::Cavity cavity = random_cavity(random, survey::Axis::x, false, true);
  const FreePlan plan = region::free_plan(cavity, {10'000, 10'000, 0}, Reading::common, {470'000, 530'000});
  const FreePlan same = plan.turned(Heading());
  REQUIRE(same.walls(Strips::along_x).size() == plan.walls(Strips::along_x).size());
  for (std::size_t i = 0; i < plan.walls(Strips::along_x).size(); ++i) {
    CHECK(same.walls(Strips::along_x)[i].loops() == plan.walls(Strips::along_x)[i].loops());
    CHECK(same.walls(Strips::along_x)[i].reach() == plan.walls(Strips::along_x)[i].reach());
  }
}
