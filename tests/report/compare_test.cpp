/// Two jobs set side by side, as a reader gets to see it.

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "cellstow/report/compare.hpp"
#include "cellstow/report/write.hpp"
#include "fixture.hpp"
#include "report/drawing.hpp"
#include "report/walls_view.hpp"

using namespace cellstow;

namespace {

survey::Catalogue threads_of(const survey::Job& job) {
  survey::Catalogue out;
  for (const survey::Cavity& cavity : job.cavities)
    for (const survey::Fixing& fixing : cavity.fixings) {
      survey::Thread& thread = out.threads[fixing.thread];
      thread.name = fixing.thread;
      thread.major_diameter = core::Length::from_mm(8);
      thread.clearance_hole = core::Length::from_mm(9);
    }
  return out;
}

report::Comparison compare(const survey::Job& first, const survey::Job& second) {
  survey::Catalogue catalogue = threads_of(first);
  catalogue.threads.merge(threads_of(second).threads);
  return report::compare({"a.json", first, {}}, {"b.json", second, {}}, catalogue, core::Length::from_mm(30));
}

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("compare: a job and itself") {
  for (const auto& which : {fixture::two_cavities(), fixture::loose_cells()}) {
    const auto got = compare(which.job, which.job);
    CHECK(got.same());
    CHECK(has(report::to_text(got), "Nothing differs."));
    const differences::Made made = report::made_of(report::plan_to_json(which.job, which.plan));
    CHECK(differences::compare_made(made, made).empty());
  }
}

TEST_CASE("compare: every value of a job stands under a name of its own") {
  survey::Job named_like_a_part = fixture::two_cavities().job;
  named_like_a_part.cavities[0].name = "car";
  named_like_a_part.cavities[1].name = "rules";
  for (const survey::Job& job : {fixture::two_cavities().job, named_like_a_part}) {
    std::set<std::pair<std::string, std::string>> names;
    const auto values = report::values_of(job);
    for (const auto& value : values) names.insert({value.group, value.what});
    CHECK(names.size() == values.size());
    CHECK(values.size() > 60);
  }
}

TEST_CASE("compare: one change, one line, in the words of the trade") {
  const survey::Job first = fixture::two_cavities().job;
  survey::Job second = first;
  second.rules.body_clearance = core::Length::from_mm(12.5);
  second.cell.mass = core::Kg::of(first.cell.mass.value() + 1);
  const auto got = compare(first, second);
  REQUIRE(got.values.size() == 2);
  CHECK(got.values[0].what == "mass, kg");
  CHECK(got.values[1].group == "rules");
  CHECK(got.values[1].what == "body clearance, mm");
  CHECK(got.values[1].second == "12.5");
  CHECK(has(report::to_text(got), "body clearance, mm"));
}

TEST_CASE("compare: a named thing that one has and the other has not is told once, a lone cavity as a whole") {
  survey::Job first = fixture::two_cavities().job;
  survey::KeepOut extra;
  extra.name = "horn";
  extra.shape = survey::BoxShape{{}, {core::Length::from_mm(1), core::Length::from_mm(1), core::Length::from_mm(1)}};
  survey::Job second = first;
  second.cavities[0].keep_outs.push_back(extra);
  auto got = compare(first, second);
  REQUIRE(got.values.size() == 1);
  CHECK(got.values[0].what == "keep outs: horn");
  second = first;
  second.cavities.pop_back();
  got = compare(first, second);
  REQUIRE(got.values.size() == 1);
  CHECK(got.values[0].what == "as a whole");
  CHECK(got.values[0].change == differences::Change::only_first);
  CHECK(has(report::to_text(got), "not there"));
}

TEST_CASE("compare: the page escapes what it is given, the tables are files of their own") {
  survey::Job first = fixture::nasty_names().job, second = first;
  REQUIRE_FALSE(second.cavities[0].fixings.empty());
  second.cavities[0].fixings[0].at.x = second.cavities[0].fixings[0].at.x + core::Length::from_mm(7);
  const auto files = report::comparison_files(compare(first, second));
  const std::string& page = files.at("compare.html");
  CHECK_FALSE(has(page, fixture::nasty));
  CHECK(has(page, "Holes that differ"));
  CHECK(has(page, "Holes that serve both"));
  CHECK(has(files.at("lists/holes.csv"), ",7,0,0,7,"));
}

TEST_CASE("compare: plans: a part of another size stands under its mark") {
  const auto first = fixture::two_cavities();
  auto second = first;
  auto plan = report::plan_to_json(second.job, second.plan);
  report::Compared a{"a.json", first.job, report::made_of(plan)}, b = a;
  auto& boxes = plan["cavities"][0]["boxes"];
  REQUIRE_FALSE(boxes[0]["straps"].empty());
  boxes[0]["straps"][0]["thickness_mm"] = 99;
  b.made = report::made_of(plan);
  const auto got = report::compare(a, b, threads_of(first.job), core::Length::from_mm(30));
  REQUIRE(got.made);
  REQUIRE(got.made->parts.size() == 1);
  CHECK(got.made->parts[0].mark == boxes[0]["straps"][0]["mark"]);
  CHECK(has(got.made->parts[0].second, "99"));
  CHECK_FALSE(got.same());
  b.made.reset();
  CHECK(report::compare(a, b, threads_of(first.job), core::Length::from_mm(30)).remarks.size() == 1);
}

TEST_CASE("compare: pictures of walls: no text on another, nothing beyond the paper, whatever the names") {
  for (const auto& which : {fixture::two_cavities(), fixture::nasty_names(), fixture::loose_cells()}) {
    survey::Job other = which.job;
    for (survey::Cavity& cavity : other.cavities)
      for (survey::Section& section : cavity.sections.at) section.outline[0].a = section.outline[0].a - core::Length::from_mm(12);
    std::vector<differences::SectionDifference> differ;
    for (std::size_t i = 0; i < other.cavities.size(); ++i)
      for (const auto& one : differences::compare_sections(which.job.cavities[i], other.cavities[i])) differ.push_back(one);
    auto drawings = report::wall_drawings(which.job, other, differ);
    CHECK(drawings.size() == which.job.cavities.size());
    for (auto& one : report::sides_drawings(other.cavities, differences::left_right(other.cavities))) drawings.push_back(one);
    for (const report::Drawing& drawing : drawings) {
      CAPTURE(drawing.title);
      const report::Patch paper{0, 0, drawing.width, drawing.height};
      std::vector<report::Patch> texts;
      for (const report::Item& item : drawing.items) {
        if (const auto* label = std::get_if<report::Label>(&item)) {
          const report::Patch patch = report::text_patch(*label);
          CHECK((patch.left >= 0 && patch.top >= 0 && patch.right <= paper.right && patch.bottom <= paper.bottom));
          for (const report::Patch& text : texts) CHECK_FALSE(text.overlaps(patch));
          texts.push_back(patch);
        }
        if (const auto* stroke = std::get_if<report::Stroke>(&item))
          for (const report::Spot& spot : stroke->points) CHECK((spot.x >= 0 && spot.y >= 0 && spot.x <= paper.right && spot.y <= paper.bottom));
      }
    }
  }
}
