/// Every kind of bad job file has a sample in refused/ with the whole text it must be answered
/// with.
///
/// After a change of wording, write the texts anew and read the difference before committing it:
///
///   CELLSTOW_WRITE_EXPECTED=1 build/tests/survey/test_survey --test-case="refused*"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <set>

#include "cellstow/survey/read_job.hpp"
#include "tables.hpp"

namespace fs = std::filesystem;
namespace survey = cellstow::survey;
using survey::testing::small_tables;
using survey::testing::tests_folder;

namespace {

std::string text_of(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

std::vector<fs::path> samples() {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(tests_folder() / "refused"))
    if (entry.path().extension() == ".json") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  return paths;
}

void replace_all(std::string& text, const std::string& from, const std::string& to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at))
    text.replace(at, from.size(), to);
}

cellstow::core::Problems problems_of(const fs::path& sample) {
  const auto job =
      survey::read_job_text(text_of(sample), sample.filename().string(), sample.parent_path(), {},
                            tests_folder() / "no_shapes", small_tables());
  return job ? cellstow::core::Problems{} : job.error();
}

/// As printed, with the folder of the samples cut from file names.
std::string answer(const fs::path& sample) {
  std::string text = cellstow::core::to_text(problems_of(sample));
  replace_all(text, sample.parent_path().generic_string() + "/", "");
  return text;
}

}  // namespace

TEST_CASE("refused: every sample is answered with its whole text") {
  const bool write = std::getenv("CELLSTOW_WRITE_EXPECTED") != nullptr;
  for (const fs::path& sample : samples()) {
    CAPTURE(sample.filename().string());
    fs::path expected = sample;
    expected.replace_extension(".expected.txt");
    const std::string got = answer(sample);
    CHECK_FALSE(got.empty());
    if (write) std::ofstream(expected, std::ios::binary) << got;
    CHECK(got == text_of(expected));
  }
}

TEST_CASE("refused: there are many samples, each with a text of its own") {
  const std::vector<fs::path> all = samples();
  CHECK(all.size() >= 60);
  std::size_t texts = 0;
  for (const auto& entry : fs::directory_iterator(tests_folder() / "refused"))
    texts += entry.path().string().ends_with(".expected.txt");
  CHECK(texts == all.size());
}

TEST_CASE(
    "refused: every id the job reader can give has a sample, and stands in the list of errors") {
  std::set<std::string> known = {
      "E101", "E102", "E103", "E104", "E105", "E106", "E107", "E108", "E109", "E110",
      "E111", "E112", "E113", "E114", "E115", "E116", "E117", "E118", "E201", "E202",
      "E203", "E204", "E205", "E206", "E207", "E208", "E209", "E210", "E211", "E212",
      "E213", "E214", "E215", "E216", "E220", "E221", "E222", "E223",
      "E224", "E225", "E226", "E227", "E250", "E251", "E252", "E253", "E254", "E304", "E401", "E403"};
  known.merge(std::set<std::string>{"E230", "E231", "E232", "E233", "E234", "E235", "E236", "E237", "E238", "E239", "E240", "E241", "E242", "E243",
                                    "E244", "E245", "E246", "E247", "E248", "E249"});
  std::set<std::string> met;
  for (const fs::path& sample : samples())
    for (const auto& problem : problems_of(sample)) met.insert(problem.id);
  CHECK(met == known);
  const std::string listed = text_of(fs::path(CELLSTOW_TESTS_DIR) / ".." / "docs" / "errors.md");
  for (const std::string& id : known) {
    CAPTURE(id);
    const bool stands_in_the_list = listed.find("| " + id + " |") != std::string::npos;
    CHECK(stands_in_the_list);
  }
}

TEST_CASE("refused: the same problems in the same order every time") {
  for (const fs::path& sample : samples()) {
    CAPTURE(sample.filename().string());
    CHECK(answer(sample) == answer(sample));
  }
}
