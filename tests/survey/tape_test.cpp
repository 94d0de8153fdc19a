/// Sections by tape: from readings as written to corners in the car's own axes.

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <numbers>

#include "cellstow/survey/read_job.hpp"
#include "cellstow/survey/tape.hpp"
#include "tables.hpp"

namespace survey = cellstow::survey;
using survey::testing::small_tables;
using survey::testing::tests_folder;

namespace {

std::string sample(const std::string& name) {
  std::ifstream stream(tests_folder() / "accepted" / name, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

survey::Job read(const std::string& text) {
  const auto job = survey::read_job_text(text, "job.json", tests_folder() / "accepted", {}, tests_folder() / "no_shapes", small_tables());
  if (!job) FAIL(cellstow::core::to_text(job.error()));
  return *job;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

/// A 3-4-5 box below two datums 500 apart: corners 240 and 480 below the datums' line.
const std::string small_job = R"({
  "format": "cellstow-job/1",
  "cell": {"name": "test cell", "thickness_mm": 71, "width_mm": 182, "height_mm": 279, "mass_kg": 5.6},
  "cavities": [{"name": "well", "sections": {"across": "x", "at": [
    {"station_mm": 2300, "tape": {
      "side": "below",
      "datums": [{"name": "D1", "at_mm": [-250, 700]}, {"name": "D2", "at_mm": [250, 700]}],
      "points": [
        {"name": "a", "from_mm": {"D1": 300, "D2": 400}},
        {"name": "b", "from_mm": {"D1": 400, "D2": 300}},
        {"name": "c", "from_mm": {"D1": 576.888, "D2": 512.64}},
        {"name": "d", "from_mm": {"D1": 512.64, "D2": 576.888}}]}},
    {"station_mm": 2800, "outline_mm": [[-200, 200], [200, 200], [200, 460], [-200, 460]]}]}}]
})";

}  // namespace

TEST_CASE("tape: corners of the 3-4-5 triangle, in the order listed, with names and give or take") {
  const survey::Section section = read(small_job).cavities[0].sections.at[0];
  REQUIRE(section.measured);
  CHECK(section.measured->by == survey::MeasuredBy::tape);
  REQUIRE(section.measured->corners.size() == 4);
  // a lies 180 along from D1 and 240 below; b is its mirror; d, c 180 in from either side and 480 below
  const double expected[][2] = {{-70, 460}, {-70, 220}, {70, 220}, {70, 460}};
  const char* names[] = {"a", "d", "c", "b"};
  for (std::size_t i = 0; i < 4; ++i) {
    CAPTURE(i);
    CHECK(section.measured->corners[i].name == names[i]);
    CHECK(std::abs(section.outline[i].a.mm() - expected[i][0]) < 0.01);
    CHECK(std::abs(section.outline[i].b.mm() - expected[i][1]) < 0.01);
  }
  // crossing at 90 degrees: a circle, 2.4477 standard deviations of 2 / 1.96 mm, rounded up to the micrometre
  CHECK(std::abs(section.measured->corners[0].give_or_take->mm() - 2.447747 * 2 / 1.959964) < 0.001);
  CHECK(section.measured->remarks.front().starts_with("Nothing checks the readings of points a, b, c and d"));
}

TEST_CASE("tape: each reading in its own unit gives what millimetres give") {
  const auto mm = read(small_job).cavities[0].sections.at[0];
  const auto mixed = read(replaced(replaced(small_job, "\"D1\": 300", "\"D1\": \"30 cm\""), "\"D2\": 400", "\"D2\": \"0.4 m\"")).cavities[0].sections.at[0];
  CHECK(mixed.outline == mm.outline);
  const auto inch = read(replaced(small_job, "\"D1\": 300", "\"D1\": \"11 13/16 in\"")).cavities[0].sections.at[0];
  CHECK(std::abs(inch.outline[0].a.mm() - mm.outline[0].a.mm()) < 0.1);  // 11 13/16 in is 300.04 mm
}

TEST_CASE("tape: a slipped reading is told, kept in, and makes the give or take larger") {
  std::string text = sample("tape.json");
  const auto good = read(text).cavities[0].sections.at[0];
  text = replaced(text, "\"D1\": 522", "\"D1\": 562");
  const auto slipped = read(text).cavities[0].sections.at[0];
  CHECK(slipped.measured->remarks[0].find("D1 to point 1 reads about 4") != std::string::npos);
  CHECK(slipped.measured->corners[0].give_or_take->mm() > good.measured->corners[0].give_or_take->mm() + 10);
  CHECK(slipped.outline[0] != good.outline[0]);
  CHECK(slipped.outline[4] != slipped.outline[0]);
}

TEST_CASE("tape: slope in the plane of the section, by the formula for a turn") {
  const auto level = read(small_job).cavities[0].sections.at[0];
  const auto turned = read(replaced(small_job, "\"across\": \"x\",", "\"across\": \"x\", \"slope_deg\": {\"right_down\": 2},")).cavities[0].sections.at[0];
  const double t = 2 * std::numbers::pi / 180;
  for (std::size_t i = 0; i < level.outline.size(); ++i) {
    const double y = level.outline[i].a.mm(), z = level.outline[i].b.mm();
    CHECK(std::abs(turned.outline[i].a.mm() - (y * std::cos(t) - z * std::sin(t))) < 0.001);
    CHECK(std::abs(turned.outline[i].b.mm() - (y * std::sin(t) + z * std::cos(t))) < 0.001);
  }
  CHECK(turned.station == level.station);
  CHECK(turned.measured->remarks.back() == "The car stood nose up 0 degrees, right side down 2 degrees: corners are turned back into the car's own axes.");
}

TEST_CASE("tape: slope out of the plane moves the station and says how far the section leans") {
  const auto level = read(small_job).cavities[0].sections.at[0];
  const auto turned = read(replaced(small_job, "\"across\": \"x\",", "\"across\": \"x\", \"slope_deg\": {\"nose_up\": 1.5},")).cavities[0].sections.at[0];
  const double t = 1.5 * std::numbers::pi / 180;
  // x = s cos t - z sin t; heights run from 220 to 460
  CHECK(std::abs(turned.station.mm() - (2300 * std::cos(t) - 340 * std::sin(t))) < 0.01);
  for (std::size_t i = 0; i < level.outline.size(); ++i) {
    CHECK(turned.outline[i].a == level.outline[i].a);
    CHECK(std::abs(turned.outline[i].b.mm() - (2300 * std::sin(t) + level.outline[i].b.mm() * std::cos(t))) < 0.01);
  }
  // 120 mm above and below the middle, times sin 1.5 degrees
  CHECK(turned.measured->remarks.back().ends_with("The section leans: its corners lie up to 3.1 mm before and behind its station."));
}

TEST_CASE("tape: what is still to be measured is read too, and worked out as far as it goes") {
  const auto all = survey::read_tape_sections_text(small_job, "job.json");
  REQUIRE(all);
  REQUIRE(all->size() == 1);
  const survey::TapeSection& section = all->front();
  CHECK(section.cavity == "well");
  CHECK(survey::section_name(section) == "x 2300");
  CHECK(section.readings.size() == 8);
  REQUIRE(section.fit);
  CHECK(section.network_points.size() == 4);
  const auto part = survey::read_tape_sections_text(replaced(small_job, "\"D1\": 300", "\"D1\": null"), "job.json");
  REQUIRE(part);
  REQUIRE(part->front().fit);
  CHECK(part->front().network_points == std::vector<std::size_t>{1, 2, 3});
  CHECK_FALSE(part->front().readings[0].mm);
  // a job with nothing but the tape, and lengths that do not meet: told, not refused
  std::string bare = replaced(small_job, "  \"cell\": {\"name\": \"test cell\", \"thickness_mm\": 71, \"width_mm\": 182, \"height_mm\": 279, \"mass_kg\": 5.6},\n", "");
  bare = replaced(bare, "\"D1\": 300", "\"D1\": 60");
  const auto short_of = survey::read_tape_sections_text(bare, "job.json");
  REQUIRE(short_of);
  CHECK_FALSE(short_of->front().fit);
  REQUIRE(short_of->front().remarks.size() == 1);
  CHECK(short_of->front().remarks[0] ==
        "Point a: lengths that do not meet. D1 to point a: 60, D2 to point a: 400: 40 mm short of meeting. one of the two is slipped, or taken from another datum.");
}

TEST_CASE("tape: the job below is looked for where the reader of jobs looks for it, the shipped tables' folder too") {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "cellstow_tape_below", shipped = tests_folder() / "accepted";
  std::filesystem::create_directories(folder);
  const std::filesystem::path job = folder / "next.json";
  std::ofstream(job) << R"({"format": "cellstow-job/1", "based_on": {"file": ")" << (shipped / "tape.json").generic_string() << "\"}}";
  const auto below = survey::read_tape_sections(shipped / "tape.json", {}, shipped), next = survey::read_tape_sections(job, {}, shipped);
  const auto refused = survey::read_tape_sections(job, {}, tests_folder() / "no_shapes");
  std::filesystem::remove_all(folder);
  REQUIRE(below);
  REQUIRE(next);
  CHECK(next->size() == below->size());
  CHECK(next->front().cavity == below->front().cavity);
  CHECK_FALSE(refused);
}

TEST_CASE("tape: a job without a tape has nothing to print") {
  const auto none = survey::read_tape_sections_text(sample("smallest.json"), "job.json");
  REQUIRE_FALSE(none);
  CHECK(none.error().front().id == "E104");
}
