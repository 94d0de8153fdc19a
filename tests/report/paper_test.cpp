#include <doctest/doctest.h>

#include <fstream>

#include "report/drawing_sheet.hpp"
#include "report/outside.hpp"
#include "report/paper_files.hpp"
#include "report/paper_marks.hpp"

using namespace cellstow::report;

TEST_CASE("paper: lettering keeps its proportions at every height and its room follows its anchor") {
  const double width = lettering_width("TW-FLOOR 412.5", 3, false);
  CHECK(lettering_width("TW-FLOOR 412.5", 6, false) == doctest::Approx(2 * width));
  CHECK(lettering_width("TW-FLOOR 412.5 TW-FLOOR 412.5", 3, false) > 2 * width);
  const Patch left = room_of({{50, 50}, "412.5", 3, Anchor::start, false, false, false});
  const Patch right = room_of({{50, 50}, "412.5", 3, Anchor::end, false, false, false});
  const Patch upward = room_of({{50, 50}, "412.5", 3, Anchor::start, false, true, false});
  CHECK(left.left == doctest::Approx(50));
  CHECK(right.right == doctest::Approx(50));
  CHECK(upward.bottom == doctest::Approx(50));
  CHECK(upward.height() == doctest::Approx(left.width()));
  CHECK(room_of({{50, 50}, "412.5", 3, Anchor::start, false, false, true}).width() > left.width());
}

TEST_CASE("paper: lines break between words and a text is cut to its room") {
  const std::vector<std::string> lines = lettering_lines("one two three four five six", 3, 20);
  CHECK(lines.size() > 1);
  std::string together;
  for (const std::string& line : lines) {
    CHECK(lettering_width(line, 3, false) <= 20);
    together += (together.empty() ? "" : " ") + line;
  }
  CHECK(together == "one two three four five six");
  CHECK(lettering_width(fitting("a very long title indeed", 3, 15), 3, false) <= 15);
}

TEST_CASE("paper: an arc turns counter-clockwise on the sheet for a bulge above 0") {
  // From (30, 20) half round to (10, 20): counter-clockwise as read, so over the top, 10 mm above the middle.
  Paper sheet = empty_sheet(PaperSize::a4);
  sheet.marks = {Trace{{{{30, 20}, 1}, {{10, 20}, 0}}, false, wide_line, LineKind::full, Area::none, {}}};
  const auto curves = paper_marks::curves(to_svg(sheet));
  REQUIRE(curves.size() == 1);
  CHECK(curves[0].top == doctest::Approx(10).epsilon(0.001));
  CHECK(curves[0].bottom == doctest::Approx(20).epsilon(0.001));
}

// ISO 216: A4 is 210 mm x 297 mm, A3 is 297 mm x 420 mm; a point is 25.4 / 72 mm.
TEST_CASE("paper: another program reads the sheets in their true size, without the time of the run") {
  const outside::Folder folder("paper");
  const std::string pdf = to_pdf({empty_sheet(PaperSize::a4), empty_sheet(PaperSize::a3)}, "sizes");
  CHECK(pdf == to_pdf({empty_sheet(PaperSize::a4), empty_sheet(PaperSize::a3)}, "sizes"));
  std::ofstream(folder.path() / "a.pdf", std::ios::binary) << pdf;
  int status = 0;
  const std::string info = outside::run("pdfinfo -l 2 " + (folder.path() / "a.pdf").string(), status);
  CHECK(status == 0);
  CHECK(info.find("841.89 x 595.276 pts (A4)") != std::string::npos);
  CHECK(info.find("1190.55 x 841.89 pts (A3)") != std::string::npos);
  CHECK(info.find("Jan  1 00:00:00 2000") != std::string::npos);
}
