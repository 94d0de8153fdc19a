/// The resolved job as report writes it, read back.

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>

#include "cellstow/report/write.hpp"
#include "cellstow/survey/read_job.hpp"
#include "keys.hpp"
#include "tables.hpp"

namespace fs = std::filesystem;
namespace survey = cellstow::survey;
using cellstow::report::job_to_json;
using survey::testing::small_tables;
using survey::testing::tests_folder;

namespace {

std::string text_of(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

survey::Job read(const std::string& text) {
  const auto job = survey::read_job_text(text, "job.json", tests_folder() / "accepted", {},
                                         tests_folder() / "no_shapes", small_tables());
  if (!job) FAIL(cellstow::core::to_text(job.error()));
  return *job;
}

std::vector<fs::path> accepted_samples() {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(tests_folder() / "accepted"))
    if (entry.path().extension() == ".json") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  return paths;
}

void collect_keys(const nlohmann::ordered_json& json, std::set<std::string>& keys) {
  if (json.is_object())
    for (const auto& [key, value] : json.items()) {
      keys.insert(key);
      collect_keys(value, keys);
    }
  if (json.is_array())
    for (const auto& value : json) collect_keys(value, keys);
}

}  // namespace

TEST_CASE("round trip: a written job reads back and writes the same bytes") {
  CHECK(accepted_samples().size() >= 3);
  for (const fs::path& sample : accepted_samples()) {
    CAPTURE(sample.filename().string());
    const std::string once = job_to_json(read(text_of(sample))).dump(2);
    CHECK(job_to_json(read(once)).dump(2) == once);
  }
}

TEST_CASE("round trip: a job in plain numbers comes back value for value") {
  // every value of the file stands in the written job at the same place, or is one of those listed
  const auto given =
      nlohmann::ordered_json::parse(text_of(tests_folder() / "accepted" / "everything.json"));
  const auto written = job_to_json(read(given.dump()));
  const std::set<std::string> resolved = {
      "/$schema",                // for editors
      "/rules/materials/strap",  // name turned into the full row
      "/rules/materials/hold_down",
      "/cavities/0/sections/at/0",  // sections sorted by station, holes turned
      "/cavities/0/sections/at/1"};
  const auto flat = given.flatten();
  int compared = 0;
  for (const auto& [pointer, value] : flat.items()) {
    const bool skip = std::any_of(resolved.begin(), resolved.end(), [&](const std::string& start) {
      return pointer.starts_with(start);
    });
    if (skip) continue;
    CAPTURE(pointer);
    const nlohmann::ordered_json::json_pointer at(pointer);
    REQUIRE(written.contains(at));
    CHECK(written[at] == value);
    ++compared;
  }
  CHECK(compared > 180);
}

TEST_CASE("round trip: every key of the format is written by some sample") {
  std::set<std::string> written;
  for (const fs::path& sample : accepted_samples())
    collect_keys(job_to_json(read(text_of(sample))), written);
  std::set<std::string> known;
  for (const survey::ObjectKeys& object : survey::known_objects()) {
    if (object.object.ends_with("_file") || object.object.ends_with("_reference")) continue;
    known.insert(object.keys.begin(), object.keys.end());
  }
  // for editors, and ways of giving something that a resolved job gives in plain corners and numbers
  for (const char* key : {"$schema", "based_on", "slope_deg", "nose_up", "right_down", "tape", "datums", "points", "checks", "from_mm",
                          "side", "reading_mm"}) {
    known.erase(key);
  }
  for (const char* key : {"from_drawing", "from_scan", "drawing", "list", "picture"}) known.erase(key);
  CHECK(written == known);
}

TEST_CASE("round trip: lengths are printed exactly") {
  // every micrometre up to the thickness of any sheet, and coarser up to 10 m
  survey::Job job = read(text_of(tests_folder() / "accepted" / "smallest.json"));
  std::vector<cellstow::core::Point2>& many = job.cavities[0].sections.at[0].outline;
  for (std::int64_t um = 1; um < 10'000'000; um += um < 20'000 ? 1 : 997)
    many.push_back({cellstow::core::Length::from_um(um), {}});
  const auto written = job_to_json(job)["cavities"][0]["sections"]["at"][0]["outline_mm"];
  int wrong = 0;
  for (std::size_t i = 0; i < many.size(); ++i) {
    const std::string text = written[i][0].dump();
    const std::size_t point = std::min(text.find('.'), text.size());
    const double mm = std::stod(text);
    wrong += text.size() - point > 4 || cellstow::core::Length::from_mm_up(mm) != many[i].a ||
             cellstow::core::Length::from_mm(mm) != many[i].a;
  }
  CHECK(wrong == 0);
}
