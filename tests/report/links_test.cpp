/// The link drawings, the link-up sheet, build sheets and labels of boxes wired by hand-made layouts.
#include <doctest/doctest.h>

#include <algorithm>

#include "cellstow/report/write.hpp"
#include "report/bench.hpp"
#include "report/link_view.hpp"
#include "report/wired.hpp"

namespace {

using namespace cellstow;
using core::Length;

struct Made { survey::Job job; plan::Plan plan; };

packing::Cuboid body(double u, double v, double along_u, double along_v) {
  return {{Length::from_mm(u), Length::from_mm(v), Length::from_mm(100)}, {Length::from_mm(u + along_u), Length::from_mm(v + along_v), Length::from_mm(350)}};
}

/// One box of rows along u, upright cells of 70 x 180 mm, posts 60 mm from the middle.
Made rows_of(const std::vector<int>& rows) {
  Made made;
  survey::Cell& cell = made.job.cell;
  cell.name = "test <cell> & more";
  cell.thickness = Length::from_mm(70), cell.width = Length::from_mm(180), cell.height = Length::from_mm(250), cell.terminal_top = Length::from_mm(270);
  cell.terminal_offset = Length::from_mm(60);
  cell.voltage = survey::VoltageWindow{core::Volt::of(2.5), core::Volt::of(3.2), core::Volt::of(3.65)};
  made.job.string.emplace().continuous = core::Ampere::of(140);
  made.plan.cavities.resize(1);
  made.plan.cavities[0].boxes.resize(1);
  box::Box& box = made.plan.cavities[0].boxes[0].box;
  box.mark = "FT", box.name = "front trunk";
  int cells = 0;
  for (const int row : rows) {
    const int id = static_cast<int>(box.layout.blocks.size()) + 1;
    const double v = 20 + 195.0 * (id - 1);
    box.layout.blocks.push_back({id, row, packing::Run::u, survey::Stance::upright, body(20, v, 70.0 * row, 180)});
    for (int i = 0; i < row; ++i) box.layout.cells.push_back({body(20 + 70.0 * i, v, 70, 180), survey::Stance::upright, id, i + 1});
    cells += row;
  }
  const double length = 40 + 70.0 * *std::max_element(rows.begin(), rows.end()), breadth = 25 + 195.0 * static_cast<double>(rows.size());
  for (const auto& [u, v] : {std::pair{0.0, 0.0}, {length, 0.0}, {length, breadth}, {0.0, breadth}}) box.layout.outline.push_back({Length::from_mm(u), Length::from_mm(v)});
  box.layout.z_bottom = Length::from_mm(90), box.layout.lid_top = Length::from_mm(390);
  made.plan.totals.series = cells;
  made.plan.string = wiring::judge_string(cell, *made.job.string, cells);
  made.plan.cabling = wiring::choose_cabling(cell, *made.job.string, *made.plan.string);
  const std::vector<wiring::BoxOfCells> boxes = {{box.mark, &box.layout}};
  made.plan.wiring = wiring::wire_string(cell, *made.job.string, made.job.rules, boxes);
  made.plan.exits = wiring::find_exits(cell, made.job.rules, boxes, *made.plan.wiring, *made.plan.cabling->cable);
  return made;
}

std::size_t times(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

}  // namespace

TEST_CASE("link drawings: everything on the paper, no lettering on other lettering, a sign at every post") {
  for (const std::vector<int>& rows : {std::vector<int>{3}, {5, 4, 5, 5}, {4, 4, 4}, {8, 8, 8, 8, 8, 8}, {2, 2}}) {
    const Made made = rows_of(rows);
    const std::vector<report::Drawing> views = report::link_drawings(made.plan, 0);
    REQUIRE(views.size() == 1);
    std::vector<report::Patch> letters;
    std::size_t rings = 0;
    for (const report::Item& item : views[0].items) {
      if (std::holds_alternative<report::Ring>(item)) ++rings;
      const auto* label = std::get_if<report::Label>(&item);
      if (!label) continue;
      CAPTURE(label->text);
      const report::Patch patch = report::text_patch(*label);
      CHECK(patch.left >= 0);
      CHECK(patch.top >= 0);
      CHECK(patch.right <= views[0].width);
      CHECK(patch.bottom <= views[0].height);
      for (const report::Patch& other : letters) CHECK_FALSE(patch.overlaps(other));
      letters.push_back(patch);
    }
    CHECK(rings == 2 * made.plan.wiring->cells.size());
  }
}

TEST_CASE("link-up sheet: a row a link, removable ones marked, volts count up") {
  const Made made = rows_of({9, 9});
  const report::Table list = report::link_list(made.job, made.plan);
  REQUIRE(list.rows.size() == 17);
  CHECK(list.rows[0][7] == "3.2");
  CHECK(list.rows[16][8] == "54.4");  // 17 cells of 3.2 V
  CHECK(std::count_if(list.rows.begin(), list.rows.end(), [](const auto& row) { return row[6] == "yes"; }) == 1);
  CHECK(report::link_kinds(made.plan).rows.size() == 2);
}

TEST_CASE("build sheet: every cell and link with its box to tick; text is escaped; labels carry volts and fuse") {
  const Made made = rows_of({9, 9});
  const std::string sheet = report::build_sheet(made.job, made.plan, 0);
  CHECK(times(sheet, "<tr><td><span class=\"tick\"></span></td>") == 17);
  CHECK(times(sheet, " of 18</td>") == 1);
  CHECK(sheet.find("test &lt;cell&gt; &amp; more") != std::string::npos);
  CHECK(sheet.find("the removable ones") != std::string::npos);
  CHECK(report::build_sheet_name(made.plan.cavities[0].boxes[0]) == "build-sheet-FT.html");
  const std::string labels = report::labels(made.job, made.plan);
  CHECK(labels.find("65.7 V DC") != std::string::npos);
  CHECK(labels.find("Fuse: 200 A, 150 V DC") != std::string::npos);
}

TEST_CASE("derived from printed proof loads: dry torque of class 8.8, 0.2 x 0.75 x proof x diameter") {
  const std::pair<const char*, double> rows[] = {{"M5", 6.2}, {"M6", 10.4}, {"M8", 25.4}, {"M10", 50.6}, {"M12", 88.0}};
  for (const auto& [thread, torque] : rows) CHECK(report::dry_torque_nm(thread) == doctest::Approx(torque).epsilon(6e-3));
  CHECK(report::dry_torque_nm("7/16-20") == 0);
}
