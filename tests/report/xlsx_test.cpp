#include <doctest/doctest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "report/outside.hpp"
#include "report/xlsx.hpp"

using namespace cellstow;

TEST_CASE("workbook: a reader of its own finds every sheet, text as text and numbers as numbers; same bytes again") {
  const report::Table cut{{"mark", "off", "length mm"}, {{"TW-S-B1", "2", "412.5"}, {"TW-S-B2", "1", "1e9 < 2 & \"x\""}}};
  const report::Table buy{{"what", "how many"}, {{"sheet EN AW-5754 H22, 3 mm", "2"}}};
  const std::string bytes = report::to_xlsx({{"cut list", cut}, {"buying list", buy}});
  CHECK((bytes == report::to_xlsx({{"cut list", cut}, {"buying list", buy}})));
  const outside::Folder folder("xlsx");
  std::ofstream(folder.path() / "lists.xlsx", std::ios::binary) << bytes;
  int status = 0;
  const std::string text = outside::run("/usr/bin/python3 " CELLSTOW_TESTS_DIR "/report/read_xlsx.py " + (folder.path() / "lists.xlsx").string(), status);
  CAPTURE(text);
  REQUIRE(status == 0);
  const nlohmann::json sheets = nlohmann::json::parse(text);
  CHECK(sheets["cut list"] == nlohmann::json({{"mark", "off", "length mm"}, {"TW-S-B1", 2.0, 412.5}, {"TW-S-B2", 1.0, "1e9 < 2 & \"x\""}}));
  CHECK(sheets["buying list"] == nlohmann::json::parse(R"([["what", "how many"], ["sheet EN AW-5754 H22, 3 mm", 2.0]])"));
}
