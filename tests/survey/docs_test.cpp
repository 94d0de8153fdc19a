/// docs/job-file.md against the reader.

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

#include "cellstow/survey/read_job.hpp"
#include "keys.hpp"
#include "tables.hpp"

namespace survey = cellstow::survey;

namespace {

std::string job_page() {
  std::ifstream stream(std::filesystem::path(CELLSTOW_TESTS_DIR) / ".." / "docs" / "job-file.md",
                       std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

}  // namespace

TEST_CASE("docs: the example is a job") {
  const std::string page = job_page();
  const std::string fence = "```json\n";
  const std::size_t start = page.find(fence);
  REQUIRE(start != std::string::npos);
  const std::size_t from = start + fence.size();
  const auto job =
      survey::read_job_text(page.substr(from, page.find("```", from) - from), "job-file.md", ".",
                            {}, ".", survey::testing::small_tables());
  CHECK_MESSAGE(job, (job ? "" : cellstow::core::to_text(job.error())));
}

TEST_CASE("docs: every key is written about") {
  const std::string page = job_page();
  for (const survey::ObjectKeys& object : survey::known_objects())
    for (const std::string_view key : object.keys) {
      CAPTURE(object.object);
      CAPTURE(key);
      const std::string name(key);
      const bool written = page.find("`" + name + "`") != std::string::npos ||
                           page.find("\"" + name + "\"") != std::string::npos;
      CHECK(written);
    }
}
