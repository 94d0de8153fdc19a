/// Filled lists back into the job.

#include <doctest/doctest.h>

#include "cellstow/survey/tape.hpp"
#include "csv.hpp"
#include "json_spans.hpp"

namespace survey = cellstow::survey;

namespace {

/// Written by hand, with its own blanks and order: none of it may change.
const std::string job = R"({ "title" : "odd   blanks",
  "format":"cellstow-job/1", "cavities": [ {"name":"boot, left", "sections": {"across":"x","at":[
   {"station_mm": 2300,
    "tape": {"side":"below", "datums":[{"name":"D1","at_mm":[-250,700]},{"name":"D2","at_mm":[250,700]}],
     "points":[{"name":"1","from_mm":{"D1":null,"D2" : null}},
               {"name":"2","from_mm":{"D1":400, "D2":300}},
               {"name":"3/b","from_mm":{"D1":null,"D2":null}}],
     "checks":[{"between":["1","3/b"],"reading_mm":null}]}} ]} } ]
}
)";

const std::string head = "no,cavity,section,from,to,reading,unit,remark\n";

std::string row(const std::string& from, const std::string& to, const std::string& reading, const std::string& unit = "") {
  return ",\"boot, left\",x 2300," + from + "," + to + "," + reading + "," + unit + ",\n";
}

survey::Entered entered(const std::string& list) {
  const auto got = survey::enter_readings(job, "job.json", list, "filled.csv");
  if (!got) FAIL(cellstow::core::to_text(got.error()));
  return *got;
}

std::string refused(const std::string& list) {
  const auto got = survey::enter_readings(job, "job.json", list, "filled.csv");
  REQUIRE_FALSE(got);
  return cellstow::core::to_text(got.error());
}

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("enter: readings go in as they were written, every other byte stays") {
  const survey::Entered got = entered(head + row("D1", "1", "300") + row("D2", "1", "15 3/4", "in") + row("D1", "3/b", "\"22 3/4\"\"\"") +
                                      row("3/b", "1", "24.5 cm"));
  std::string expected = with(job, "{\"D1\":null,\"D2\" : null}", "{\"D1\":300,\"D2\" : \"15 3/4 in\"}");
  expected = with(expected, "{\"D1\":null,\"D2\":null}", "{\"D1\":\"22 3/4\\\"\",\"D2\":null}");
  expected = with(expected, "\"reading_mm\":null", "\"reading_mm\":\"24.5 cm\"");
  CHECK(got.job_text == expected);
  CHECK(got.entered == 4);
  CHECK(got.changed.empty());
  CHECK(got.missing == std::vector<std::string>{"boot, left, x 2300: D2 to 3/b"});
}

TEST_CASE("enter: nothing filled, nothing changed; a new value is told with the old one") {
  CHECK(entered(head + row("D1", "1", "") + row("D2", "1", "")).job_text == job);
  const survey::Entered got = entered(head + row("D1", "2", "410") + row("D2", "2", "300"));
  CHECK(got.job_text == with(job, "\"D1\":400", "\"D1\":410"));
  CHECK(got.changed == std::vector<std::string>{"boot, left, x 2300: D1 to 2: 410 instead of 400"});
  CHECK(got.entered == 0);
  CHECK(got.missing.size() == 5);
}

TEST_CASE("enter: lists as spreadsheets write them") {
  // semicolons, a byte mark, line ends of two bytes, columns in another order and trailing ones dropped
  const std::string list = "\xEF\xBB\xBFreading;unit;cavity;section;from;to\r\n300;;\"boot, left\";x 2300;D1;1\r\n\r\n15 3/4\";;boot, left;x 2300;D2;1\r\n";
  const survey::Entered got = entered(list);
  CHECK(got.entered == 2);
  CHECK(got.job_text == with(job, "{\"D1\":null,\"D2\" : null}", "{\"D1\":300,\"D2\" : \"15 3/4\\\"\"}"));
}

TEST_CASE("enter: every fault of a list is told at its line, and nothing is entered") {
  const std::string list = head + row("D1", "1", "30O") + row("D9", "1", "300") + row("D2", "1", "440 mm", "in") + row("D1", "3/b", "12 lb") +
                           row("D1", "2", "400") + row("D1", "2", "401") + ",\"boot, left\",x 2300,D2,3/b,44,5,,,\n" + row("3/b", "1", "0.2");
  CHECK(refused(list) ==
        "filled.csv#line 2: error E109: not an amount with a unit\n"
        "  found: \"30O\"\n"
        "  expected: a number in mm, or text with its unit: mm, cm, m, in, ft\n"
        "filled.csv#line 3: error E229: reading that the job does not ask for\n"
        "  found: boot, left, x 2300: D9 to 1\n"
        "  expected: a cavity, section and two places as the job has them\n"
        "  hint: put it into the job first: under \"from_mm\" of its point, or as a check reading, with null\n"
        "filled.csv#line 4: error E228: reading with two units\n"
        "  found: \"440 mm\", \"in\"\n"
        "  expected: one unit, in either place\n"
        "filled.csv#line 5: error E110: unit of another kind\n"
        "  found: \"12 lb\"\n"
        "  expected: a number in mm, or text with its unit: mm, cm, m, in, ft\n"
        "filled.csv#line 7: error E229: reading named a second time\n"
        "  found: boot, left, x 2300: D1 to 2\n"
        "  expected: each reading once\n"
        "  hint: keep the right one of the two rows\n"
        "filled.csv#line 8: error E109: not an amount with a unit\n"
        "  found: \"44 5\"\n"
        "  expected: a number in mm, or text with its unit: mm, cm, m, in, ft\n"
        "filled.csv#line 9: error E107: number out of range\n"
        "  found: \"0.2 mm\"\n"
        "  expected: 1 to 20000 mm\n");
}

TEST_CASE("enter: a decimal comma makes one field too many") {
  const std::string text = refused(head + ",\"boot, left\",x 2300,D2,3/b,44,5,mm,wet floor\n");
  CHECK(text ==
        "filled.csv#line 2: error E228: row with more fields than the first line\n"
        "  found: 9\n"
        "  expected: 8\n"
        "  hint: decimals take a point, or the field quotes\n");
}

TEST_CASE("enter: something that is no filled list at all") {
  CHECK(refused("point,length\n1,440\n").starts_with(
      "filled.csv#line 1: error E228: first line without a column\n  found: no \"cavity\", \"section\", \"from\", \"to\", \"reading\"\n"));
  CHECK(refused("\n\n").starts_with("filled.csv: error E228: list without a row\n"));
}

TEST_CASE("enter: faults of the job are the job's") {
  const auto got = survey::enter_readings("{\"format\": \"cellstow-job/1\"}", "job.json", head, "filled.csv");
  REQUIRE_FALSE(got);
  CHECK(got.error().front().file == "job.json");
  CHECK(got.error().front().id == "E104");
}

TEST_CASE("lists: quotes, commas, line ends and lines that are counted (RFC 4180, section 2)") {
  const auto rows = survey::read_csv("a,b\r\n\"x \"\"y\"\", z\",\"two\nlines\"\n\nlast,\n");
  REQUIRE(rows.size() == 3);
  CHECK(rows[1].line == 2);
  CHECK(rows[1].fields == std::vector<std::string>{"x \"y\", z", "two\nlines"});
  CHECK(rows[2].line == 5);
  CHECK(rows[2].fields == std::vector<std::string>{"last", ""});
}

TEST_CASE("spans: every value of a text, whatever its blanks and escapes") {
  const std::string text = " { \"a/b\" : [ 1 , \"}\\\"]\" , { } ] , \"~\" : -1.5e3 } ";
  const auto spans = survey::value_spans(text);
  const auto value = [&](const char* pointer) { return text.substr(spans.at(pointer).from, spans.at(pointer).to - spans.at(pointer).from); };
  CHECK(value("/a~1b/0") == "1");
  CHECK(value("/a~1b/1") == "\"}\\\"]\"");
  CHECK(value("/a~1b/2") == "{ }");
  CHECK(value("/~0") == "-1.5e3");
  CHECK(spans.size() == 6);
}
