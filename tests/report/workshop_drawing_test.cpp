#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <set>

#include "report/flat_drawing.hpp"
#include "report/flat_lists.hpp"
#include "report/outside.hpp"
#include "report/paper_files.hpp"
#include "report/paper_marks.hpp"
#include "report/part_drawing.hpp"
#include "report/workshop.hpp"
#include "report/workshop_checks.hpp"

namespace {

using namespace cellstow;
using namespace cellstow::report;
using workshop::check_all;
using workshop::check_part;
using workshop::letterings;

/// The n of the scale 1:n in the title block.
double scale_of(const Paper& sheet) {
  for (const Lettering& l : letterings(sheet)) {
    if (l.text.starts_with("1:")) return std::stod(l.text.substr(2));
  }
  return 0;
}

}  // namespace

TEST_CASE("workshop drawings: no lettering on other lettering or off the frame; holes and bends told once") {
  survey::Job job = workshop::job();
  for (const auto& [paper, units] : {std::pair{survey::DrawingPaper::a4, survey::DrawnUnits::mm}, std::pair{survey::DrawingPaper::a3, survey::DrawnUnits::mm_and_inch}}) {
    job.drawings.paper = paper;
    job.drawings.units = units;
    job.drawings.projection = units == survey::DrawnUnits::mm ? survey::Projection::first : survey::Projection::third;
    check_all(job, workshop::boxes(job));
    check_part(job, workshop::plate());
  }
}

TEST_CASE("workshop drawings: holes read back from the file lie where the flat pattern has them") {
  const survey::Job job = workshop::job();
  std::vector<fabrication::SheetPart> parts{workshop::plate()};
  for (const plan::CavityPlan& cavity : workshop::boxes(job).cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) parts.insert(parts.end(), box.sheet.parts.begin(), box.sheet.parts.end());
  }
  int holes = 0;
  for (const fabrication::SheetPart& part : parts) {
    CAPTURE(part.mark);
    const Paper sheet = part_drawing(job, part).sheets.front();
    const double scale = scale_of(sheet);
    const std::vector<paper_marks::Extent> curves = paper_marks::curves(to_svg(sheet));
    // Numbers in the file lie on a grid of 1/256 mm.
    constexpr double grid = 1.0 / 256 + 1e-6;
    const auto datum = std::find_if(curves.begin(), curves.end(), [](const auto& c) { return std::abs(c.width() - 2 * datum_ring) < grid && std::abs(c.height() - 2 * datum_ring) < grid; });
    REQUIRE(datum != curves.end());
    for (const fabrication::FlatHole& hole : part.flat.holes) {
      if (hole.kind != fabrication::HoleKind::round) continue;
      const double x = datum->middle_x() + hole.centre.a / scale, y = datum->middle_y() - hole.centre.b / scale, d = hole.diameter / scale;
      const auto same = std::count_if(curves.begin(), curves.end(), [&](const auto& c) {
        return std::abs(c.middle_x() - x) < grid && std::abs(c.middle_y() - y) < grid && std::abs(c.width() - d) < grid && std::abs(c.height() - d) < grid;
      });
      CHECK(same == 1);
      ++holes;
    }
  }
  CHECK(holes > 20);
}

TEST_CASE("workshop drawings: another program reads title block and paper; the same input gives the same bytes") {
  const outside::Folder folder("workshop");
  survey::Job job = workshop::job();
  job.drawings.projection = survey::Projection::third;
  const plan::Plan plan = workshop::boxes(job);
  const std::vector<DrawingSet> sets = workshop_drawings(job, plan), again = workshop_drawings(job, plan);
  REQUIRE(sets.size() == again.size());
  for (std::size_t i = 0; i < sets.size(); ++i) {
    CAPTURE(sets[i].stem);
    const std::string pdf = to_pdf(sets[i].sheets, sets[i].title);
    CHECK(pdf == to_pdf(again[i].sheets, again[i].title));
    CHECK(to_svg(sets[i].sheets.front()) == to_svg(again[i].sheets.front()));
    if (i % 4 != 0) continue;   // a look from outside takes its time
    const std::string path = (folder.path() / (std::to_string(i) + ".pdf")).string();
    std::ofstream(path, std::ios::binary) << pdf;
    int status = 0;
    const std::string info = outside::run("pdfinfo " + path, status);
    CHECK(status == 0);
    CHECK((info.find("(A4)") != std::string::npos || info.find("(A3)") != std::string::npos));
    CHECK(info.find("Pages:           " + std::to_string(sets[i].sheets.size()) + "\n") != std::string::npos);
    const std::string text = outside::run("pdftotext -layout " + path + " -", status);
    CHECK(status == 0);
    for (const char* words : {"EN AW-5754", "Revision", "ISO 2768-m; ISO 13920-B", "third angle", "Date", "Checked", "First check the mock-up"}) {
      CAPTURE(words);
      CHECK(text.find(words) != std::string::npos);
    }
    CHECK(text.find(sets[i].title.substr(sets[i].title.starts_with("box ") ? 4 : 0, 2) ) != std::string::npos);
  }
}

TEST_CASE("workshop drawings: scales are the standard ones and inches are asked for") {
  // ISO 5455 reductions 1:2, 1:5, 1:10, 1:20; 1:2.5 is common practice beside them.
  CHECK(drawing_scale(190, 100, 200, 100) == 1);
  CHECK(drawing_scale(201, 100, 200, 100) == 2);
  CHECK(drawing_scale(420, 100, 200, 100) == 2.5);
  CHECK(drawing_scale(501, 100, 200, 100) == 5);
  CHECK(drawing_scale(100, 1001, 200, 100) == 20);
  CHECK(size_text(254, survey::DrawnUnits::mm) == "254");
  CHECK(size_text(254, survey::DrawnUnits::mm_and_inch) == "254 [10]");
}

TEST_CASE("workshop drawings: no hole is marked like a bend line, nor with a letter that is read as a figure") {
  std::vector<fabrication::FlatHole> holes;
  for (int kind = 0; kind < 30; ++kind) holes.push_back(fabrication::round_hole({10.0 * kind, 10}, 5 + kind, "hole"));
  const std::vector<std::string> marks = report::hole_marks(holes);
  CHECK(std::set<std::string>(marks.begin(), marks.end()).size() == holes.size());
  for (const std::string& mark : marks) {
    CAPTURE(mark);
    CHECK(mark.find_first_of("BIO") == std::string::npos);
  }
}
