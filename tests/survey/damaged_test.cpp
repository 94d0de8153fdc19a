/// Jobs damaged byte by byte: never a crash, and never a change that is taken without notice.

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <random>

#include "cellstow/report/write.hpp"
#include "cellstow/survey/read_job.hpp"
#include "strict_json.hpp"
#include "tables.hpp"

namespace survey = cellstow::survey;
using survey::testing::small_tables;
using survey::testing::tests_folder;

namespace {

void cut(std::string& text, const std::string& part) {
  REQUIRE(text.find(part) != std::string::npos);
  text.erase(text.find(part), part.size());
}

/// Directions are left out: only their ratios count, so a longer one says the same.
std::string good_text() {
  std::ifstream stream(tests_folder() / "accepted" / "everything.json", std::ios::binary);
  std::string text{std::istreambuf_iterator<char>(stream), {}};
  cut(text, "\"axis\": [0, 0, 1], ");
  cut(text, ", \"move\": [0, 0, -1]");
  return text;
}

cellstow::core::Result<survey::Job> read(const std::string& text) {
  static const survey::Catalogue tables = small_tables();
  return survey::read_job_text(text, "job.json", tests_folder() / "accepted", {}, tests_folder(),
                               tables);
}

/// One byte changed, dropped, doubled or put in.
void damage(std::string& text, std::mt19937& random) {
  const std::size_t at = random() % text.size();
  const char byte = random() % 4 == 0 ? static_cast<char>(random() % 256)
                                      : "0123456789.,-{}[]\":abcxyz "[random() % 26];
  switch (random() % 4) {
    case 0:
      text[at] = byte;
      break;
    case 1:
      text.erase(at, 1);
      break;
    case 2:
      text.insert(at, 1, text[at]);
      break;
    default:
      text.insert(at, 1, byte);
  }
}

/// The tree without what the format leaves to editors.
survey::Json plain(const std::string& text) {
  survey::ProblemLog log("job.json");
  survey::Json json = *survey::parse_strict(text, log);
  json.erase("$schema");
  return json;
}

}  // namespace

TEST_CASE("damaged: what is accepted says what its bytes say") {
  const std::string good = good_text();
  const auto good_job = read(good);
  REQUIRE(good_job);
  const survey::Json good_plain = plain(good);
  const std::string good_resolved = cellstow::report::job_to_json(*good_job).dump();
  std::mt19937 random(77);
  int accepted = 0, different = 0;
  for (int round = 0; round < 2000; ++round) {
    std::string text = good;
    for (unsigned i = 0; i <= random() % 3; ++i) damage(text, random);
    const auto job = read(text);
    if (!job) {
      REQUIRE_FALSE(job.error().empty());
      continue;
    }
    ++accepted;
    const bool same_text = plain(text) == good_plain;
    const std::string resolved = cellstow::report::job_to_json(*job).dump();
    INFO(text);
    REQUIRE((resolved == good_resolved) == same_text);
    different += !same_text;
    const auto again = read(resolved);
    REQUIRE(again);
    REQUIRE(cellstow::report::job_to_json(*again).dump() == resolved);
  }
  CHECK(accepted > 100);
  CHECK(different > 50);
}

TEST_CASE("damaged: a file that ends early is refused at every length") {
  const std::string good = good_text();
  const std::size_t last_brace = good.find_last_of('}');
  for (std::size_t length = 0; length <= last_brace; length += 17)
    REQUIRE_FALSE(read(good.substr(0, length)));
}

TEST_CASE("damaged: nesting without end is refused, not followed") {
  CHECK_FALSE(read(std::string(200'000, '[')));
  std::string objects;
  for (int i = 0; i < 50'000; ++i) objects += "{\"a\":";
  CHECK_FALSE(read(objects));
}
