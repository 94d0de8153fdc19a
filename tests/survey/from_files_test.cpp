/// Whole jobs whose sections come from a drawing, a list and a picture: what the later stages get to see.

#include <doctest/doctest.h>

#include <algorithm>

#include "cellstow/survey/read_job.hpp"
#include "tables.hpp"

namespace survey = cellstow::survey;
using survey::testing::small_tables;
using survey::testing::tests_folder;

namespace {

std::vector<survey::Section> sections_of(const std::string& sample) {
  const auto job = survey::read_job(tests_folder() / "accepted" / sample, {tests_folder()}, tests_folder() / "no_shapes", small_tables());
  REQUIRE_MESSAGE(job, (job ? "" : cellstow::core::to_text(job.error())));
  return job->cavities[0].sections.at;
}

bool has_corner(const survey::Section& section, double a_mm, double b_mm) {
  return std::any_of(section.outline.begin(), section.outline.end(), [&](const survey::Point2& corner) {
    return std::abs(corner.a.mm() - a_mm) < 0.002 && std::abs(corner.b.mm() - b_mm) < 0.002;
  });
}

}  // namespace

TEST_CASE("from files: one drawing, a layer a section, placed by two known points") {
  const auto sections = sections_of("from_drawing.json");
  REQUIRE(sections.size() == 2);
  CHECK(sections[1].station == survey::Length::from_mm(27.5 * 25.4));
  // drawn 600 apart, 600.4 in the car: the drawing is not stretched, each point is off by 0.2
  CHECK(sections[1].measured->remarks == std::vector<std::string>{"drawn on layer S700 of outlines/well.dxf",
                                                                  "drawing placed by 2 known points, off by up to 0.2 mm"});
  CHECK(has_corner(sections[1], 2000.2 - 10, -410));
  CHECK(has_corner(sections[1], 2000.2 + 610, -400 + 860));
  CHECK(sections[0].measured->corners.size() == sections[0].outline.size());
  CHECK(sections[0].measured->corners[0].give_or_take == survey::Length::from_um(2'000));
  CHECK(sections[0].holes.size() == 1);
  CHECK(has_corner(sections[0], 2000.2, -400));
}

TEST_CASE("from files: a list, a picture and a drawing beside one another") {
  const auto sections = sections_of("from_files.json");
  REQUIRE(sections.size() == 3);
  CHECK(sections[0].measured->by == survey::MeasuredBy::list);
  CHECK(sections[0].measured->remarks == std::vector<std::string>{"corners from the list outlines/well.csv, section 330"});
  CHECK(has_corner(sections[0], 78.75 * 25.4, -400));
  CHECK(has_corner(sections[0], 78.75 * 25.4, 15.75 * 25.4));
  REQUIRE(sections[0].measured->corners.size() == 4);
  CHECK(sections[0].measured->corners[0].name == "A");
  CHECK(sections[0].measured->corners[0].give_or_take == survey::Length::from_um(1'000));

  CHECK(sections[1].measured->by == survey::MeasuredBy::picture);
  CHECK(sections[1].holes.size() == 1);
  REQUIRE(sections[1].measured->corners.size() == 4);
  for (const survey::MeasuredCorner& corner : sections[1].measured->corners) {
    CHECK(corner.give_or_take > survey::Length::from_um(500));
    CHECK(corner.give_or_take < survey::Length::from_um(10'000));
  }
  REQUIRE(sections[1].measured->remarks.size() == 2);
  CHECK(sections[1].measured->remarks[0].starts_with("corners read off a picture, give or take up to "));
  CHECK(sections[1].measured->remarks[1].starts_with("5 known points, off by up to "));

  CHECK(sections[2].measured->by == survey::MeasuredBy::drawing);
  CHECK(has_corner(sections[2], 2610, -410));
  CHECK(has_corner(sections[2], 1990, 460));
}
