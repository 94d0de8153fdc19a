#include <doctest/doctest.h>

#include <cmath>
#include <fstream>

#include "report/mock_up.hpp"
#include "report/outside.hpp"
#include "report/paper_files.hpp"
#include "report/paper_marks.hpp"
#include "report/workshop.hpp"

namespace {

using namespace cellstow;
using namespace cellstow::report;

/// Even-odd rule.
bool inside(const std::vector<Flat>& outline, double a, double b) {
  bool in = false;
  for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
    if ((outline[i].b > b) != (outline[j].b > b) && a < (outline[j].a - outline[i].a) * (b - outline[i].b) / (outline[j].b - outline[i].b) + outline[i].a) in = !in;
  }
  return in;
}

const PlyPiece& named(const std::vector<PlyPiece>& pieces, const std::string& name) {
  for (const PlyPiece& piece : pieces) {
    if (piece.name == name) return piece;
  }
  FAIL(name << " is missing");
  return pieces.front();
}

}  // namespace

TEST_CASE("mock-up: the pieces put together have the outside of the box") {
  const survey::Job job = workshop::job();
  const std::vector<PlyPiece> pieces = ply_pieces(workshop::rectangle(job, "TW", 500, 300, 130), job.rules, 6);
  REQUIRE(pieces.size() == 6);
  CHECK(named(pieces, "floor").width == doctest::Approx(500));
  CHECK(named(pieces, "floor").height == doctest::Approx(300));
  CHECK(named(pieces, "lid").width == doctest::Approx(500));
  double round = 0, volume = 0;
  for (const PlyPiece& p : pieces) {
    volume += p.width * p.height * 6;
    if (p.name == "floor" || p.name == "lid") continue;
    round += p.width;
    CHECK(p.height == doctest::Approx(130 - 2 * 6));
  }
  CHECK(round == doctest::Approx(2 * 500 + 2 * 300 - 4 * 6));
  // What lies between the outer and the inner box, 6 mm all round.
  CHECK(volume == doctest::Approx(500.0 * 300 * 130 - 488.0 * 288 * 118));
}

TEST_CASE("mock-up: with a flange the walls stand inside it and the lid covers it") {
  survey::Job job = workshop::job();
  job.rules.flange = workshop::mm(20);
  const std::vector<PlyPiece> pieces = ply_pieces(workshop::stepped(job, "TW", 800, 500, 200, 150, 300), job.rules, 6);
  CHECK(named(pieces, "floor").width == doctest::Approx(760));
  CHECK(named(pieces, "lid").width == doctest::Approx(800));
  CHECK(named(pieces, "lid").outline.size() == 6);
  // The drain of the metal floor is in the plywood floor too, where the flat pattern of the floor has it.
  CHECK(named(pieces, "floor").holes.size() == 1);
}

TEST_CASE("mock-up: the sheets cover every piece, each place once besides the overlap") {
  const survey::Job job = workshop::job();
  for (const survey::TilePaper paper : {survey::TilePaper::a4, survey::TilePaper::letter}) {
    const plan::Plan plan = workshop::boxes(job);
    for (const plan::BoxPlan& box : plan.cavities.front().boxes) {
      for (const PlyPiece& piece : ply_pieces(box, job.rules, 6)) {
        CAPTURE(piece.mark);
        const Tiling tiling = tiles_of(piece, paper);
        for (double a = 1.3; a < piece.width; a += 7.1) {
          for (double b = 1.7; b < piece.height; b += 7.3) {
            if (!inside(piece.outline, a, b)) continue;
            int covered = 0;
            for (const Tile& tile : tiling.tiles) {
              const Patch& p = tile.part;
              covered += a >= p.left && a < p.right - tile_overlap && piece.height - b >= p.top && piece.height - b < p.bottom - tile_overlap;
            }
            if (covered == 1) continue;
            // Beyond the last sheet's overlap line there is no neighbour.
            int at_all = 0;
            for (const Tile& tile : tiling.tiles) {
              const Patch& p = tile.part;
              at_all += a >= p.left && a <= p.right && piece.height - b >= p.top && piece.height - b <= p.bottom;
            }
            if (covered > 1 || at_all == 0) FAIL_CHECK("place " << a << ", " << b << " is on " << covered << " sheets");
          }
        }
      }
    }
  }
}

TEST_CASE("mock-up: another program finds the check bar 100 mm long on every sheet, and no lettering overlaps") {
  const outside::Folder folder("mock-up");
  survey::Job job = workshop::job();
  for (const survey::TilePaper paper : {survey::TilePaper::a4, survey::TilePaper::letter}) {
    job.drawings.tile_paper = paper;
    const PlyPiece piece = named(ply_pieces(workshop::rectangle(job, "TW", 500, 300, 130), job.rules, 6), "floor");
    const DrawingSet set = mock_up_sheets(job, piece);
    const std::string path = (folder.path() / "m.pdf").string();
    std::ofstream(path, std::ios::binary) << to_pdf(set.sheets, set.title);
    int status = 0;
    const std::string info = outside::run("pdfinfo " + path, status);
    CHECK(status == 0);
    CHECK(info.find(paper == survey::TilePaper::a4 ? "(A4)" : "(letter)") != std::string::npos);
    for (std::size_t page = 1; page <= set.sheets.size(); ++page) {
      CAPTURE(page);
      const std::string number = std::to_string(page);
      const std::string svg = outside::run("pdftocairo -svg -f " + number + " -l " + number + " " + path + " -", status);
      REQUIRE(status == 0);
      const std::vector<paper_marks::Extent> paths = paper_marks::paths(svg);
      const auto bars = std::count_if(paths.begin(), paths.end(), [](const auto& p) {
        return p.height() < 0.01 && std::abs(std::max(p.width(), 0.0) * 25.4 / 72 - 100) < 0.01;
      });
      const auto in_mm = std::count_if(paths.begin(), paths.end(), [](const auto& p) { return p.height() < 0.01 && std::abs(p.width() - 100) < 0.01; });
      CHECK(bars + in_mm >= 1);
    }
    for (const Paper& sheet : set.sheets) {
      std::vector<Patch> rooms;
      for (const Mark& mark : sheet.marks) {
        if (const auto* l = std::get_if<Lettering>(&mark)) rooms.push_back(room_of(*l));
      }
      CHECK(rooms.size() >= 3);
      for (std::size_t i = 0; i < rooms.size(); ++i) {
        CHECK(rooms[i].right <= sheet.frame.right + 1e-6);
        for (std::size_t j = i + 1; j < rooms.size(); ++j) CHECK_FALSE(rooms[i].overlaps(rooms[j]));
      }
    }
  }
}
