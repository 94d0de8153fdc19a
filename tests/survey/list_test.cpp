/// Lists of corners: RFC 4180 section by section, units in headings and in values, sections and holes.

#include <doctest/doctest.h>

#include "comma_list.hpp"
#include "given_outline.hpp"

namespace survey = cellstow::survey;
using cellstow::core::Axis;
using cellstow::core::Length;

namespace {

std::vector<std::vector<std::string>> fields_of(std::string_view text) {
  const survey::CommaList list = survey::parse_comma_list(text);
  CHECK(list.faults.empty());
  std::vector<std::vector<std::string>> fields;
  for (const survey::CommaRow& row : list.rows) fields.push_back(row.fields);
  return fields;
}

survey::GivenOutline read(std::string_view text, const survey::ListWanted& wanted = {}) {
  const auto given = survey::outline_from_csv(text, "list.csv", wanted);
  REQUIRE_MESSAGE(given, (given ? "" : cellstow::core::to_text(given.error())));
  return *given;
}

}  // namespace

TEST_CASE("list: the definitions of RFC 4180, section 2, one by one") {
  using Fields = std::vector<std::vector<std::string>>;
  CHECK(fields_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == Fields{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});  // 1
  CHECK(fields_of("aaa,bbb,ccc\r\nzzz,yyy,xxx") == Fields{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});      // 2
  CHECK(fields_of("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx") == Fields{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});  // 5
  CHECK(fields_of("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx") == Fields{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});  // 6
  CHECK(fields_of("\"aaa\",\"b\"\"bb\",\"ccc\"") == Fields{{"aaa", "b\"bb", "ccc"}});  // 7
  CHECK(fields_of(" a , b\n,\n") == Fields{{" a ", " b"}, {"", ""}});  // 4: blanks belong to a field; LF alone as well
  CHECK(fields_of("\xEF\xBB\xBFname\n") == Fields{{"name"}});
}

TEST_CASE("list: lines are counted through line ends inside quotes") {
  const survey::CommaList list = survey::parse_comma_list("a,\"b\nb\"\nc,d\n\"e\nf\ng\",h\ni,j\n");
  REQUIRE(list.rows.size() == 4);
  CHECK(list.rows[1].line == 3);
  CHECK(list.rows[2].line == 4);
  CHECK(list.rows[3].line == 7);
}

TEST_CASE("list: units in headings, in values and in the job give the same corners") {
  const survey::Ring square = {{Length::from_um(0), Length::from_um(0)},
                               {Length::from_um(254'000), Length::from_um(0)},
                               {Length::from_um(254'000), Length::from_um(508'000)}};
  CHECK(read("x_mm,y_mm\n0,0\n254,0\n254,508\n").outline == square);
  CHECK(read("X (in),Y [cm]\n0,0\n10,0\n10,50.8\n").outline == square);
  CHECK(read("a,b\n0 mm,0 in\n\"10\"\"\",0 cm\n25.4 cm,\"1 ft 8 in\"\n").outline == square);
  survey::ListWanted inches;
  inches.unit = "in";
  CHECK(read("a,b_mm\n0,0\n10,0\n9 7/8,508\n", {Axis::z, {}, "in", {}}).outline.size() == 3);
  CHECK(read("a,b\n0,0\n10,0\n10,20\n", inches).outline == square);
}

TEST_CASE("list: columns bear the names of the plane's own axes") {
  CHECK(read("y_mm,z_mm\n0,0\n9,0\n9,9\n", {Axis::x, {}, "", {}}).outline.size() == 3);
  CHECK(read("z_mm,x_mm\n0,5\n9,5\n9,14\n", {Axis::y, {}, "", {}}).outline[0].a == Length::from_um(5'000));
  CHECK_FALSE(survey::outline_from_csv("x_mm,y_mm\n0,0\n9,0\n9,9\n", "list.csv", {Axis::x, {}, "", {}}));
}

TEST_CASE("list: names, give or take, sections and holes") {
  const char* text =
      "section,name,a_mm,b_mm,hole,give_or_take_mm\n"
      "330,P1,0,0,,2\n330,P2,90,0,,\n330,P3,90,90,,\n330,P4,0,90,,1.5\n330,,20,20,post,\n330,,30,20,post,\n330,,30,30,post,\n"
      "700,P1,0,0,,\n700,P2,80,0,,\n700,P3,80,80,,\n";
  const survey::GivenOutline given = read(text, {Axis::z, "330", "", Length::from_um(4'000)});
  CHECK(given.outline.size() == 4);
  REQUIRE(given.holes.size() == 1);
  CHECK(given.holes[0].size() == 3);
  REQUIRE(given.measured.corners.size() == 4);
  CHECK(given.measured.corners[0].name == "P1");
  CHECK(given.measured.corners[0].give_or_take == Length::from_um(2'000));
  CHECK(given.measured.corners[1].give_or_take == Length::from_um(4'000));
  CHECK(given.measured.corners[3].give_or_take == Length::from_um(1'500));
  CHECK(read(text, {Axis::z, "700", "", {}}).outline.size() == 3);
}
