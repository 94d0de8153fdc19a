#include "cellstow/report/choice.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cellstow/report/write.hpp"
#include "report/choice_parts.hpp"
#include "report/drawing_checks.hpp"
#include "report/fixture.hpp"
#include "report/split_parts.hpp"

namespace {

using namespace cellstow;
using choosing::Candidate;
using choosing::Standing;

Candidate candidate(std::size_t format, double kwh, double kg, Standing standing) {
  Candidate c;
  c.format = format;
  c.stances = c.used = {survey::Stance::upright};
  c.series = 34;
  c.cells = 34;
  c.places = 36;
  c.per_cavity = {18, 16};
  c.fullest = standing != Standing::fewer;
  c.nominal_v = 108.8;
  c.kwh = kwh;
  c.range_km = choosing::Band{kwh * 5, kwh * 5.4};
  c.boxes_kg = kg;
  c.boxes = 2;
  c.front_share = 0.44 + kg / 10'000;
  c.cg_height_mm = 480;
  c.standing = standing;
  return c;
}

choosing::SplitStudy study_of(const std::string& name) {
  choosing::SplitStudy study;
  study.cavities = {name, "tank well"};
  study.offers = {{0, 18, 1, 6, 100, 0, 500}, {0, 20, 1, 6, 1800, 0, 450}};
  study.cells = 30;
  for (int a = 18; a >= 10; --a) {
    choosing::SplitRow row;
    row.cells = {a, 30 - a};
    row.total = 30;
    row.boxes = 2;
    row.boxes_kg = 180;
    row.front_share = 0.35 + 0.007 * a;
    row.cg_height_mm = 470;
    row.axle_in_hand_kg = a - 12;
    row.within_limits = a >= 12;
    row.chosen = a == 15;
    row.best = a == 14;
    study.rows.push_back(row);
  }
  study.per_cell = {{0, 1, -0.4}};
  study.window = {5, 20, "least front share wanted, driver only", "front axle limit, all seats taken", true};
  study.moves = {{"charger " + name, 40, 1500, -1000, 500, 0, 0, false}, {"lamp", 1, 1500, -40'000, -38'500, 0, 0, true}};
  study.load_left = {{"empty", 200, 2}, {"full", -3, 0}};
  study.attitude = choosing::Attitude{-10, 12, -0.6, -110};
  study.change_checks = {core::check_at_most("mass, if this rule applies", "somewhere", 22, 20, "%", "a text", "less")};
  study.change_status = {"not confirmed"};
  study.target = survey::ShareTarget{0.43, 0.47};
  study.wheelbase_mm = 2300;
  return study;
}

struct Made { std::vector<choosing::Format> formats; choosing::Choice choice; };

Made choice_of(const std::string& name) {
  Made made;
  for (int i = 0; i < 6; ++i) {
    choosing::Format format;
    format.cell.name = name + " " + std::to_string(i);
    made.formats.push_back(format);
    made.choice.candidates.push_back(candidate(static_cast<std::size_t>(i), 30 - i, 200 - 3 * i, i < 3 ? Standing::best : i < 5 ? Standing::beaten : Standing::fewer));
  }
  for (Candidate& c : made.choice.candidates) {
    if (c.standing == Standing::beaten) c.beaten_by = 1, c.beaten_how = "as many kWh, 14 kg lighter";
  }
  made.choice.candidates[2].breaks = {"rear axle, all seats taken: 12 kg over"};
  made.choice.target = survey::ShareTarget{0.43, 0.47};
  made.choice.split_of = 0;
  made.choice.splits = study_of(name);
  made.choice.left_out = {name + ": no cell fits"};
  return made;
}

survey::Job job_of(const std::string& name) {
  survey::Job job = fixture::two_cavities().job;
  job.title = name;
  for (survey::Cavity& cavity : job.cavities) cavity.name = name;
  return job;
}

}  // namespace

TEST_CASE("choice: the page is well-formed, whatever the names") {
  for (const std::string& name : {std::string("plain"), fixture::nasty}) {
    const Made made = choice_of(name);
    std::string page = report::choice_page(job_of(name), made.formats, made.choice);
    // The script is not markup: its text would have to be escaped in XML, and must not be in HTML
    const std::size_t script = page.find("<script>"), end = page.find("</script>");
    REQUIRE(script != std::string::npos);
    page.erase(script, end + 9 - script);
    CHECK(outside::faults_as_xml(page) == "");
  }
}

TEST_CASE("choice: nothing of a name reaches the script or leaves its cell") {
  const Made made = choice_of("</script><script>alert(1)</script>\"'&");
  const std::string page = report::choice_page(job_of("</script><script>alert(1)</script>"), made.formats, made.choice);
  CHECK(page.find("<script>alert") == std::string::npos);
  CHECK(std::count(page.begin(), page.end(), '\0') == 0);
}

TEST_CASE("choice: pictures lie on the paper, no lettering on other lettering") {
  const Made made = choice_of("a format");
  const auto drawings = report::choice_drawings(made.choice);
  CHECK(drawings.size() == 2);
  for (const report::Drawing& drawing : drawings) {
    CAPTURE(drawing.name);
    check_inside(drawing);
    check_no_overlap(drawing);
  }
  const auto splits = report::split_drawing(*made.choice.splits);
  REQUIRE(splits);
  check_inside(*splits);
  check_no_overlap(*splits);
}

TEST_CASE("choice: what is beaten says by which and with what; limits gone past are named") {
  const Made made = choice_of("a format");
  const std::string page = report::choice_page(job_of("a job"), made.formats, made.choice);
  CHECK(page.find("beaten by no. 2: as many kWh, 14 kg lighter") != std::string::npos);
  CHECK(page.find("rear axle, all seats taken: 12 kg over") != std::string::npos);
  for (const char* never : {"Pareto", "optimal", "dominated"}) CHECK(page.find(never) == std::string::npos);
  const auto json = report::choice_to_json(job_of("a job"), made.formats, made.choice);
  CHECK(json["candidates"].size() == 6);
  CHECK(json["candidates"][3]["beaten_by"]["number"] == 2);
}

TEST_CASE("splits: the section tells moves, load left, attitude and rules") {
  const std::string section = report::page_splits(study_of("front trunk"), "splits.csv");
  for (const char* words : {"takes 0.40 points off", "5.0 kg heavier", "forward", "longer than the wheelbase", "more people of 75 kg", "over", "110 mm lower at 10 m", "NO", "not confirmed"}) {
    CAPTURE(words);
    CHECK(section.find(words) != std::string::npos);
  }
  CHECK(report::split_table(study_of("front trunk")).rows.size() == 9);
}

TEST_CASE("splits: the report holds the section only when it is given") {
  const fixture::Case c = fixture::two_cavities();
  const choosing::SplitStudy study = study_of(fixture::nasty);
  CHECK(report::page(c.job, c.plan).find("Splitting the cells") == std::string::npos);
  const std::string page = report::page(c.job, c.plan, {{}, &study});
  CHECK(page.find("Splitting the cells") != std::string::npos);
  CHECK(outside::faults_as_xml(page) == "");
}
