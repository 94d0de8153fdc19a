#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <set>

#include "report/flat_drawing.hpp"
#include "report/flat_lists.hpp"
#include "report/outside.hpp"
#include "report/paper_files.hpp"
#include "report/paper_marks.hpp"
#include "report/part_drawing.hpp"
#include "report/workshop.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/read_job.hpp"

namespace {

using namespace cellstow;
using namespace cellstow::report;

std::vector<Lettering> letterings(const Paper& sheet) {
  std::vector<Lettering> out;
  for (const Mark& mark : sheet.marks) {
    if (const auto* text = std::get_if<Lettering>(&mark)) out.push_back(*text);
  }
  return out;
}

std::vector<Lettering> letterings(const DrawingSet& set) {
  std::vector<Lettering> out;
  for (const Paper& sheet : set.sheets) {
    for (Lettering& text : letterings(sheet)) out.push_back(std::move(text));
  }
  return out;
}

long times(const DrawingSet& set, const std::string& text) {
  const std::vector<Lettering> all = letterings(set);
  return std::count_if(all.begin(), all.end(), [&](const Lettering& l) { return l.text == text; });
}

void check_lettering(const Paper& sheet) {
  const std::vector<Lettering> all = letterings(sheet);
  constexpr double hair = 1e-6;
  for (std::size_t i = 0; i < all.size(); ++i) {
    CAPTURE(all[i].text);
    const Patch room = room_of(all[i]);
    CHECK(all[i].height >= 2.5);
    CHECK(room.left >= sheet.frame.left - hair);
    CHECK(room.right <= sheet.frame.right + hair);
    CHECK(room.top >= sheet.frame.top - hair);
    CHECK(room.bottom <= sheet.frame.bottom + hair);
    for (std::size_t j = i + 1; j < all.size(); ++j) {
      if (room.overlaps(room_of(all[j]).grown(-hair))) FAIL_CHECK("\"" << all[i].text << "\" lies on \"" << all[j].text << "\"");
    }
  }
}

bool is_figure(const std::string& text) { return !text.empty() && text.find_first_not_of("0123456789.") == std::string::npos; }

/// Every length from the datum stands once on the flat view of the first sheet.
void check_no_figure_twice(const Paper& sheet) {
  std::multiset<std::string> across, up;
  for (const Lettering& l : letterings(sheet)) {
    if (l.height != lettering || !is_figure(l.text) || l.at.y > view_room(sheet).bottom) continue;
    (l.upward ? across : up).insert(l.text);
  }
  CHECK(across.count("0") == 1);
  CHECK(up.count("0") == 1);
  for (const std::multiset<std::string>& figures : {across, up}) {
    for (const std::string& figure : figures) {
      CAPTURE(figure);
      CHECK(figures.count(figure) == 1);
    }
  }
}

/// A hole stands in the table with its mark on the view, or its size on the view and its centre among the boxed figures.
void check_holes(const DrawingSet& set, const fabrication::FlatPattern& flat) {
  std::vector<fabrication::FlatHole> holes = flat.holes;
  const std::vector<std::string> marks = hole_marks(flat.holes);
  const auto located = std::count_if(holes.begin(), holes.end(), [](const auto& h) { return h.kind != fabrication::HoleKind::contour; });
  std::multiset<std::string> boxed_across, boxed_up;
  for (const Lettering& l : letterings(set.sheets.front())) {
    if (l.boxed) (l.upward ? boxed_across : boxed_up).insert(l.text);
  }
  for (std::size_t i = 0; i < holes.size(); ++i) {
    CAPTURE(marks[i]);
    if (holes[i].kind == fabrication::HoleKind::contour) {
      CHECK(times(set, marks[i]) == 0);
    } else if (located > holes_in_place) {
      CHECK(times(set, marks[i]) == 2);
    } else {
      CHECK(boxed_across.count(size_text(holes[i].centre.a, survey::DrawnUnits::mm)) == 1);
      CHECK(boxed_up.count(size_text(holes[i].centre.b, survey::DrawnUnits::mm)) == 1);
      const std::string called = hole_size(holes[i], survey::DrawnUnits::mm) + " " + holes[i].what;
      CHECK(times(set, called) == std::count_if(holes.begin(), holes.end(), [&](const auto& h) { return h.what == holes[i].what && h.diameter == holes[i].diameter; }));
    }
  }
}

/// On the view and in the list.
void check_bends(const DrawingSet& set, const fabrication::FlatPattern& flat) {
  for (std::size_t i = 0; i < flat.bends.size(); ++i) {
    CAPTURE(i);
    CHECK(times(set, "B" + std::to_string(i + 1)) == 2);
  }
}

void check_part(const survey::Job& job, const fabrication::SheetPart& part) {
  CAPTURE(part.mark);
  const DrawingSet set = part_drawing(job, part);
  REQUIRE(!set.sheets.empty());
  for (const Paper& sheet : set.sheets) check_lettering(sheet);
  if (job.drawings.units == survey::DrawnUnits::mm) {
    check_no_figure_twice(set.sheets.front());
    check_holes(set, part.flat);
  }
  check_bends(set, part.flat);
}

void check_box(const survey::Job& job, const plan::BoxPlan& box) {
  CAPTURE(box.box.mark);
  const DrawingSet set = box_drawing(job, box);
  for (const Paper& sheet : set.sheets) check_lettering(sheet);
  // Each mark in the parts list, and beside its part or named among those that are hidden.
  for (const fabrication::SheetPart& part : box.sheet.parts) {
    CAPTURE(part.mark);
    const std::vector<Lettering> all = letterings(set);
    const auto shown = std::count_if(all.begin(), all.end(), [&](const Lettering& l) { return l.text == part.mark && l.boxed; });
    const auto hidden = std::count_if(all.begin(), all.end(), [&](const Lettering& l) { return l.text.find("Not seen") == 0; });
    CHECK(shown + hidden >= 1);
    CHECK(shown <= 1);
    CHECK(std::count_if(all.begin(), all.end(), [&](const Lettering& l) { return l.text == part.mark && !l.boxed; }) >= 1);
  }
}

void check_all(const survey::Job& job, const plan::Plan& plan) {
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      check_box(job, box);
      for (const fabrication::SheetPart& part : box.sheet.parts) check_part(job, part);
    }
  }
}

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

TEST_CASE("workshop drawings: the same for every part of the demo jobs") {
  const auto catalogue = survey::read_catalogue(CELLSTOW_SHAPES);
  REQUIRE(catalogue);
  for (const char* name : {"coupe", "estate", "van"}) {
    CAPTURE(name);
    const auto job = survey::read_job(std::filesystem::path(CELLSTOW_SHAPES) / "samples" / (std::string(name) + ".json"), {}, CELLSTOW_SHAPES, *catalogue);
    REQUIRE(job);
    plan::Plan plan = plan::make_packing_only(*job);
    std::size_t parts = 0;
    for (plan::CavityPlan& cavity : plan.cavities) {
      for (plan::BoxPlan& box : cavity.boxes) {
        box.sheet = fabrication::make_sheet_work(box.box, job->rules, job->revision);
        parts += box.sheet.parts.size();
      }
    }
    CHECK(parts > 1);
    check_all(*job, plan);
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
