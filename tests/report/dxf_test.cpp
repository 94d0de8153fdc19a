#include <doctest/doctest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "report/dxf.hpp"
#include "report/fixture.hpp"
#include "report/outside.hpp"
#include "report/part_mark.hpp"

namespace {

using namespace cellstow;

std::vector<box::Panel> panels(const fixture::Case& c) {
  std::vector<box::Panel> out;
  for (const plan::CavityPlan& cavity : c.plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      out.insert(out.end(), box.box.panels.begin(), box.box.panels.end());
    }
  }
  return out;
}

/// Shoelace formula.
double area(const std::vector<core::Point2>& outline) {
  double twice = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const core::Point2 &p = outline[i], &q = outline[(i + 1) % outline.size()];
    twice += p.a.mm() * q.b.mm() - q.a.mm() * p.b.mm();
  }
  return std::abs(twice) / 2;
}

nlohmann::json read_back(const box::Panel& panel) {
  const outside::Folder folder("dxf");
  std::ofstream(folder.path() / "part.dxf", std::ios::binary) << report::to_dxf(panel);
  int status = 0;
  const std::string text = outside::run("/usr/bin/python3 " CELLSTOW_TESTS_DIR "/report/read_dxf.py " +
                                            (folder.path() / "part.dxf").string(), status);
  CAPTURE(text);
  REQUIRE(status == 0);
  return nlohmann::json::parse(text);
}

}  // namespace

TEST_CASE("cut files: a general-purpose reader finds the part as it is") {
  for (const box::Panel& panel : panels(fixture::two_cavities())) {
    CAPTURE(panel.mark);
    const nlohmann::json got = read_back(panel);
    CHECK(got["version"] == "AC1015");
    CHECK(got["units"] == 4);
    CHECK(got["errors"] == 0);
    CHECK(got["outlines"] == 1);
    CHECK(got["closed"] == true);
    CHECK(got["bulges"] == false);
    CHECK(got["area"].get<double>() == doctest::Approx(area(panel.outline)).epsilon(1e-12));
    CHECK(got["cut_layers"] == nlohmann::json({"CUT"}));
    CHECK(got["layers"] == nlohmann::json({"CUT", "MARK"}));
    REQUIRE(got["circles"].size() == panel.holes.size());
    REQUIRE(got["text"].size() == 1);
    CHECK(got["text"][0].get<std::string>().starts_with(panel.mark));
  }
}

TEST_CASE("cut files: holes come back where they are, none twice") {
  box::Panel panel = panels(fixture::two_cavities())[1];
  panel.holes.push_back(panel.holes[0]);
  const nlohmann::json got = read_back(panel);
  CHECK(got["circles"] == nlohmann::json({{12.0, 12.0, 5.5}, {12.0, 568.0, 5.5}, {548.0, 12.0, 5.5}}));
}

TEST_CASE("cut files: nasty names stay on one line of plain letters") {
  for (const box::Panel& panel : panels(fixture::nasty_names())) {
    const nlohmann::json got = read_back(panel);
    CHECK(got["errors"] == 0);
    const std::string name = report::dxf_name(panel);
    CAPTURE(name);
    CHECK(name.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-") == std::string::npos);
    CHECK(name.find("..") == std::string::npos);
    CHECK(name.front() != '.');
  }
}

TEST_CASE("cut files: the name says mark, name, material, thickness and quantity") {
  CHECK(report::dxf_name(panels(fixture::two_cavities())[0]) == "TW-F_floor_EN-AW-5754-H22_3mm_1off.dxf");
}

TEST_CASE("cut files: same part, same bytes") {
  const box::Panel panel = panels(fixture::two_cavities())[0];
  CHECK(report::to_dxf(panel) == report::to_dxf(panel));
}

TEST_CASE("part mark: inside the outline, clear of holes, left off a part too small for it") {
  const auto l_shaped = panels(fixture::two_cavities())[0];
  const auto mark = report::part_mark(l_shaped);
  REQUIRE(mark);
  CHECK(mark->text == "TW-F FRONT");
  CHECK(mark->arrow[0].second.a < mark->arrow[0].first.a);
  box::Panel small = l_shaped;
  for (core::Point2& p : small.outline) p = {core::Length::from_um(p.a.um() / 50), core::Length::from_um(p.b.um() / 50)};
  CHECK_FALSE(report::part_mark(small));
  box::Panel wall = l_shaped;
  wall.name = "wall, front 1";
  const auto up = report::part_mark(wall);
  REQUIRE(up);
  CHECK(up->arrow[0].second.b > up->arrow[0].first.b);
}
