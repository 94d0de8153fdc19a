/// Drawings written by an independent library read back as the outline that was drawn: ezdxf, see write_dxf.py.

#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <numbers>

#include "dxf_drawing.hpp"
#include "given_outline.hpp"
#include "report/outside.hpp"
#include "tables.hpp"

namespace survey = cellstow::survey;
using survey::DrawingWanted;
using survey::GivenOutline;

namespace {

constexpr double pi = std::numbers::pi;

std::map<std::string, std::string> write_drawings() {
  const outside::Folder folder("drawings");
  int status = 0;
  const std::string told = outside::run("/usr/bin/python3 " CELLSTOW_TESTS_DIR "/survey/write_dxf.py " + folder.path().string(), status);
  REQUIRE_MESSAGE(status == 0, told);
  std::map<std::string, std::string> drawings;
  for (const auto& entry : std::filesystem::directory_iterator(folder.path())) drawings[entry.path().stem().string()] = outside::bytes(entry.path());
  return drawings;
}

const std::string& drawn(const std::string& name) {
  static const std::map<std::string, std::string> drawings = write_drawings();
  return drawings.at(name);
}

GivenOutline read(const std::string& name, const std::string& layer, const DrawingWanted& wanted = {}) {
  const auto given = survey::outline_from_dxf(drawn(name), name + ".dxf", layer, wanted);
  REQUIRE_MESSAGE(given, (given ? "" : cellstow::core::to_text(given.error())));
  return *given;
}

DrawingWanted unit(double mm) {
  DrawingWanted wanted;
  wanted.unit_mm = mm;
  return wanted;
}

double area_mm2(const survey::Ring& ring) { return static_cast<double>(survey::twice_area_um2(ring)) / 2e6; }

/// The well of write_dxf.py in closed form: 600 x 850, a corner of 50 rounded off, half a circle of 100 taken.
const double well_mm2 = 600 * 850 - (1 - pi / 4) * 50 * 50 - pi * 100 * 100 / 2;
const double post_mm2 = pi * 20 * 20;
/// The chords may take a strip of 0.1 mm along the arcs, and no more.
const double strip_mm2 = 0.1 * (50 * pi / 2 + 100 * pi);
const double post_strip_mm2 = 0.1 * 2 * pi * 20.1;

void check_well(const GivenOutline& given) {
  CHECK(area_mm2(given.outline) < well_mm2);
  CHECK(area_mm2(given.outline) > well_mm2 - strip_mm2);
  REQUIRE(given.holes.size() == 1);
  CHECK(std::abs(area_mm2(given.holes[0])) > post_mm2);
  CHECK(std::abs(area_mm2(given.holes[0])) < post_mm2 + post_strip_mm2);
  CHECK(given.outline[0] == cellstow::core::Point2{});  // the lowest corner, on the drawn origin
}

/// No free place of the polygon lies outside what was drawn: checked at the corners and the middles of the edges.
void check_inside_drawn(const survey::Ring& outline) {
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const auto &p = outline[i], &q = outline[(i + 1) % outline.size()];
    for (const auto& [a, b] : {std::pair{p.a.mm(), p.b.mm()}, {(p.a.mm() + q.a.mm()) / 2, (p.b.mm() + q.b.mm()) / 2}}) {
      CAPTURE(a);
      CAPTURE(b);
      CHECK(a >= -0.001);
      CHECK(a <= 600.001);
      CHECK(b >= -0.001);
      CHECK(b <= 850.001);
      CHECK(std::hypot(a, b - 425) >= 100 - 0.001);
      if (a > 550 && b > 800) CHECK(std::hypot(a - 550, b - 800) <= 50 + 0.001);
    }
  }
}

}  // namespace

TEST_CASE("drawing: the same well drawn in pieces and as polylines, in R12 and R2010, in mm, cm and inches") {
  const std::pair<const char*, DrawingWanted> ways[] = {
      {"pieces_r2010", {}}, {"in_order_r2010", {}}, {"light_r2010", {}},    {"heavy_r2010", {}},     {"light_r2000_inch", {}},
      {"pieces_r2010_cm", {}}, {"below", {}}, {"pieces_r12", unit(1)}, {"heavy_r12", unit(1)}, {"pieces_r12_inch", unit(25.4)}};
  for (const auto& [name, wanted] : ways) {
    CAPTURE(name);
    const GivenOutline given = read(name, "S330", wanted);
    check_well(given);
    check_inside_drawn(given.outline);
    CHECK(given.measured.by == survey::MeasuredBy::drawing);
  }
}

TEST_CASE("drawing: however it is drawn, corner by corner the same to a micrometre") {
  const GivenOutline first = read("light_r2010", "S330");
  for (const char* name : {"pieces_r2010", "in_order_r2010", "heavy_r2010", "light_r2000_inch", "pieces_r2010_cm", "below"}) {
    CAPTURE(name);
    const GivenOutline other = read(name, "S330");
    REQUIRE(other.outline.size() == first.outline.size());
    for (std::size_t i = 0; i < first.outline.size(); ++i) {
      CHECK(std::abs(other.outline[i].a.um() - first.outline[i].a.um()) <= 1);
      CHECK(std::abs(other.outline[i].b.um() - first.outline[i].b.um()) <= 1);
    }
  }
}

TEST_CASE("drawing: two layers are two sections, and lettering is left aside by name") {
  const GivenOutline second = read("pieces_r2010", "S700");
  CHECK(second.outline.size() == 4);
  CHECK(area_mm2(second.outline) == 620 * 870);
  CHECK(second.holes.empty());
  CHECK(second.measured.remarks.empty());
  const auto& remarks = read("pieces_r2010", "S330").measured.remarks;
  CHECK(remarks == std::vector<std::string>{"4 round pieces laid out in straight ones, at most 0.1 mm on the tight side",
                                            "left aside on the layer: 1 TEXT"});
}

TEST_CASE("drawing: a drawing without a unit asks for it, and one with a unit is not overruled") {
  for (const auto& [name, wanted] : {std::pair{"pieces_r12", DrawingWanted{}}, {"light_r2000_inch", unit(1)}}) {
    const auto given = survey::outline_from_dxf(drawn(name), "x.dxf", "S330", wanted);
    REQUIRE_FALSE(given);
    REQUIRE(given.error().size() == 1);
    CHECK(given.error()[0].id == "E231");
  }
}

TEST_CASE("drawing: splines, ellipses and blocks are refused by name") {
  const auto given = survey::outline_from_dxf(drawn("curves"), "curves.dxf", "S330", {});
  REQUIRE_FALSE(given);
  std::string told;
  for (const auto& problem : given.error()) {
    CHECK(problem.id == "E233");
    told += problem.found + "\n";
  }
  for (const char* kind : {"SPLINE", "ELLIPSE", "INSERT"}) CHECK(told.find(kind) != std::string::npos);
}

TEST_CASE("drawing: known points turn and shift it, and a mirrored drawing is turned over") {
  // a quarter turn: drawn (a, b) is at (1000 - b, 200 + a)
  DrawingWanted turned;
  turned.known = {{{0, 0}, {1000, 200}}, {{600, 0}, {1000, 800}}, {{0, 850}, {150, 200}}};
  const GivenOutline there = read("light_r2010", "S330", turned);
  CHECK(area_mm2(there.outline) == doctest::Approx(area_mm2(read("light_r2010", "S330").outline)));
  bool corner = false;
  for (const auto& point : there.outline) corner |= std::abs(point.a.um() - 1'000'000) <= 1 && std::abs(point.b.um() - 800'000) <= 1;
  CHECK(corner);
  CHECK(there.measured.remarks[0] == "drawing placed by 3 known points, off by up to 0.0 mm");
  // seen from the other side: a runs the other way; the rounded corner comes to the left
  DrawingWanted mirrored;
  mirrored.mirrored = true;
  mirrored.known = {{{0, 0}, {600, 0}}, {{600, 0}, {0, 0}}};
  const GivenOutline over = read("light_r2010", "S330", mirrored);
  CHECK(area_mm2(over.outline) == doctest::Approx(area_mm2(read("light_r2010", "S330").outline)));
  for (const auto& point : over.outline) CHECK(std::hypot(std::max(0.0, 50 - point.a.mm()), std::max(0.0, point.b.mm() - 800)) <= 50.001);
}

TEST_CASE("drawing: the sample of many layers reads as drawn, gaps closed and told") {
  const auto path = survey::testing::tests_folder() / "accepted" / "outlines" / "well.dxf";
  const auto given = survey::outline_from_dxf(outside::bytes(path), "well.dxf", "S330", {});
  REQUIRE(given);
  CHECK(given->measured.remarks[0] == "1 gap of 0.28 mm closed, at (600.0, 0.0)");
  const double rounded = 600 * 850 - (1 - pi / 4) * 2500;
  CHECK(area_mm2(given->outline) < rounded);
  CHECK(area_mm2(given->outline) > rounded - 0.1 * 25 * pi);
}

TEST_CASE("drawing: line ends of either kind read the same") {
  std::string with_returns;
  for (const char c : drawn("heavy_r2010")) with_returns += c == '\n' ? std::string("\r\n") : std::string(1, c);
  const auto given = survey::outline_from_dxf(with_returns, "x.dxf", "S330", {});
  REQUIRE(given);
  CHECK(given->outline == read("heavy_r2010", "S330").outline);
}

TEST_CASE("drawing: cut short anywhere it is refused, never read as less") {
  const std::string& whole = drawn("pieces_r12");
  const std::size_t end = whole.rfind("EOF");
  for (std::size_t length = 0; length < end; length += 7) {
    const auto given = survey::outline_from_dxf(std::string_view(whole).substr(0, length), "x.dxf", "S330", unit(1));
    REQUIRE_FALSE(given);
    REQUIRE_FALSE(given.error().empty());
  }
}
