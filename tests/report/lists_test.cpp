#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "report/fixture.hpp"
#include "report/lists.hpp"
#include "report/stock_lists.hpp"
#include "report/outside.hpp"
#include "report/text.hpp"

namespace {

using namespace cellstow;

/// Rows as Python's csv module reads them.
nlohmann::json read_back(const std::string& csv) {
  const outside::Folder folder("csv");
  std::ofstream(folder.path() / "list.csv", std::ios::binary) << csv;
  int status = 0;
  const std::string text = outside::run(
      "/usr/bin/python3 -c \"import csv,json,sys; print(json.dumps(list(csv.reader(open(sys.argv[1], newline='', encoding='utf-8'), strict=True))))\" " +
          (folder.path() / "list.csv").string(), status);
  CAPTURE(text);
  REQUIRE(status == 0);
  return nlohmann::json::parse(text);
}

void check_even(const nlohmann::json& rows) {
  REQUIRE(rows.size() > 1);
  for (const auto& row : rows) CHECK(row.size() == rows[0].size());
}

}  // namespace

TEST_CASE("lists: read back with as many fields in every row as in the head") {
  for (const fixture::Case& c : {fixture::two_cavities(), fixture::nasty_names()}) {
    check_even(read_back(report::to_csv(report::cut_list(c.plan))));
    check_even(read_back(report::to_csv(report::hole_schedule(c.job, c.plan))));
    check_even(read_back(report::to_csv(report::weights(c.job, c.plan))));
    check_even(read_back(report::to_csv(report::checks(c.plan))));
  }
}

TEST_CASE("lists: what stands in the plan stands in the list") {
  const fixture::Case c = fixture::two_cavities();
  const auto cuts = read_back(report::to_csv(report::cut_list(c.plan)));
  std::size_t parts = 0;
  for (const plan::CavityPlan& cavity : c.plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) parts += box.sheet.parts.size();
  }
  CHECK(cuts.size() == 1 + parts + 4);
  // (560 x 580 - 220 x 198) mm2 x 3 mm x 2.7 g/cm3 is 2.28 kg; drain and notches take a little.
  CHECK(cuts[1] == nlohmann::json({"TW-FLOOR", "floor", "1", "EN AW-5754 H22", "3", "560", "580", "2.27", "1 hole"}));
  const auto holes = read_back(report::to_csv(report::hole_schedule(c.job, c.plan)));
  CHECK(holes.size() == 1 + 10);
  CHECK(holes[1][0] == "T1");
  CHECK(holes[1][13] == "84 %");
  CHECK(holes[6][14] == "marked never");
  const auto weights = read_back(report::to_csv(report::weights(c.job, c.plan)));
  CHECK(weights[5][3] == "726.0");
  CHECK(weights[6][0] == "limit on the plate");
  CHECK(weights[1][13] == "not known");
}

TEST_CASE("lists: a name with commas, quotes and line ends comes back as it was") {
  const fixture::Case c = fixture::nasty_names();
  CHECK(read_back(report::to_csv(report::cut_list(c.plan)))[1][0].get<std::string>() == fixture::nasty);
  CHECK(read_back(report::to_csv(report::checks(c.plan)))[1][1].get<std::string>() == fixture::nasty);
}

TEST_CASE("numbers: at most the decimals asked for, never a minus before nothing") {
  CHECK(report::number(412.0) == "412");
  CHECK(report::number(412.46) == "412.5");
  CHECK(report::number(-0.04) == "0");
  CHECK(report::number(100.0, 0) == "100");
  CHECK(report::fixed(98.0) == "98.0");
  CHECK(report::percent(0.834) == "83 %");
}

TEST_CASE("numbers: value and limit of a failing check never print alike") {
  const core::Check over = core::check_at_most("a", "", 720.04, 720, "kg", "", "");
  const report::ValueAndLimit text = report::value_and_limit(over);
  CHECK(text.value != text.limit);
  CHECK(text.use == "100.01 %");
}

TEST_CASE("csv fields: quoted where RFC 4180 section 2 asks for it") {
  CHECK(report::csv_field("plain") == "plain");
  CHECK(report::csv_field("a,b") == "\"a,b\"");
  CHECK(report::csv_field("say \"x\"") == "\"say \"\"x\"\"\"");
  CHECK(report::csv_field("two\r\nlines") == "\"two\r\nlines\"");
}

TEST_CASE("file names: nothing that leads elsewhere or hides") {
  CHECK(report::file_part("../../etc") == "etc");
  CHECK(report::file_part(".hidden") == "hidden");
  CHECK(report::file_part("wall, front 1") == "wall-front-1");
  CHECK(report::file_part("\xE4\xB8\x96") == "part");
  CHECK(report::file_part(std::string(500, 'a')).size() <= 60);
}

TEST_CASE("lists: every bar of the cut list is cut from stock, and bought") {
  fixture::Case c = fixture::two_cavities();
  restraint::HoldDown bar;
  bar.mark = "TW-H-B1";
  bar.block = 1;
  bar.material = "S235";
  bar.width = core::Length::from_mm(30);
  bar.thickness = core::Length::from_mm(8);
  bar.cut_length = core::Length::from_mm(420);
  bar.screw = "M6";
  c.plan.cavities[0].boxes[0].hold_downs.bars.push_back(bar);
  const report::StockLists stock = report::stock_lists(c.job, c.plan);
  for (const auto& row : report::bars(c.plan).rows) {
    CAPTURE(row[0]);
    const auto cut = std::count_if(stock.bar_plan.rows.begin(), stock.bar_plan.rows.end(), [&](const auto& piece) { return piece[3] == row[0]; });
    CHECK(std::to_string(cut) == row[2]);
  }
  const auto bought = [&](const std::string& what) {
    return std::any_of(stock.buying_list.rows.begin(), stock.buying_list.rows.end(), [&](const auto& row) { return row[0] == what; });
  };
  CHECK(bought("flat bar 30 x 8, S235"));
  CHECK(bought("screw M6 with washer and insulating sleeve"));
}

TEST_CASE("lists: bolts for the car's own fixings are bought, those alike together, a stud's nut without a bolt") {
  fixture::Case c = fixture::two_cavities();
  const auto bolt = [](const std::string& fixing, double length_mm, const std::string& locking) {
    restraint::FixingBolt one;
    one.fixing = fixing;
    one.thread = "M10";
    one.strength_class = "8.8";
    one.length_mm = length_mm;
    one.locking = locking;
    one.washer = "washer 2 mm thick";
    return one;
  };
  c.plan.cavities[0].boxes[0].mounting.bolts = {bolt("T1", 25, "lock nut"), bolt("T2", 30, "lock nut"), bolt("T3", 25, "lock nut")};
  c.plan.cavities[1].boxes[0].mounting.bolts = {bolt("E1", 25, "lock nut"), bolt("E2", 25, "compound"), bolt("E3", 0, "lock nut")};
  std::vector<std::vector<std::string>> rows;
  for (const auto& row : report::stock_lists(c.job, c.plan).buying_list.rows) {
    if (row[4].starts_with("on the car's own fixings")) rows.push_back({row[0], row[1], row[4]});
  }
  CHECK(rows == std::vector<std::vector<std::string>>{
                    {"bolt M10 x 25, class 8.8", "1", "on the car's own fixings EB E2; each with compound; washer 2 mm thick"},
                    {"bolt M10 x 25, class 8.8", "3", "on the car's own fixings TW T1, TW T3, EB E1; each with lock nut; washer 2 mm thick"},
                    {"bolt M10 x 30, class 8.8", "1", "on the car's own fixings TW T2; each with lock nut; washer 2 mm thick"},
                    {"nut M10 for a stud of the car", "1", "on the car's own fixings EB E3; each with lock nut; washer 2 mm thick"}});
}
