#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "report/dxf.hpp"
#include "report/fixture.hpp"
#include "report/outside.hpp"

namespace {

using namespace cellstow;
using fabrication::FlatHole;
using fabrication::HoleKind;
using fabrication::SheetPart;

constexpr auto marked = survey::CutFiles::marked;

std::vector<SheetPart> parts(const fixture::Case& c) {
  std::vector<SheetPart> out;
  for (const plan::CavityPlan& cavity : c.plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) out.insert(out.end(), box.sheet.parts.begin(), box.sheet.parts.end());
  }
  return out;
}

SheetPart plate() {
  SheetPart part;
  part.mark = "TW-P";
  part.revision = "A";
  part.name = "plate";
  part.material = "EN AW-5754 H22";
  part.thickness = 2.5;
  part.quantity = 2;
  const double quarter = std::tan(std::atan(1.0) / 2);
  part.flat.outline = {{10, 0, 0}, {190, 0, quarter}, {200, 10, 0}, {200, 100, 0}, {0, 100, 0}, {0, 10, quarter}};
  return part;
}

/// Many files at once: starting the reader takes longer than reading.
std::vector<nlohmann::json> read_back(const std::vector<SheetPart>& parts, survey::CutFiles what = marked) {
  const outside::Folder folder("dxf");
  std::string call = "/usr/bin/python3 " CELLSTOW_TESTS_DIR "/report/read_dxf.py";
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto path = folder.path() / (std::to_string(i) + ".dxf");
    std::ofstream(path, std::ios::binary) << report::to_dxf(parts[i], what);
    call += " " + path.string();
  }
  int status = 0;
  const std::string text = outside::run(call, status);
  CAPTURE(text);
  REQUIRE(status == 0);
  std::vector<nlohmann::json> found;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) found.push_back(nlohmann::json::parse(line));
  REQUIRE(found.size() == parts.size());
  return found;
}

void compare(const SheetPart& part, const nlohmann::json& got) {
  CHECK(got["version"] == "AC1015");
  CHECK(got["units"] == 4);
  CHECK(got["errors"] == 0);
  CHECK(got["closed"] == true);
  CHECK(got["cut_layers"] == nlohmann::json({"CUT"}));
  std::vector<double> areas = {std::abs(fabrication::signed_area(part.flat.outline))};
  nlohmann::json circles = nlohmann::json::array();
  for (const FlatHole& hole : part.flat.holes) {
    if (hole.kind == HoleKind::round) circles.push_back({hole.centre.a, hole.centre.b, hole.diameter});
    else areas.push_back(std::abs(fabrication::signed_area(fabrication::hole_path(hole))));
  }
  REQUIRE(got["areas"].size() == areas.size());
  for (std::size_t i = 0; i < areas.size(); ++i) CHECK(got["areas"][i].get<double>() == doctest::Approx(areas[i]).epsilon(1e-5));
  std::sort(circles.begin(), circles.end());
  REQUIRE(got["circles"].size() == circles.size());
  for (std::size_t i = 0; i < circles.size(); ++i) {
    for (std::size_t k = 0; k < 3; ++k) CHECK(got["circles"][i][k].get<double>() == doctest::Approx(circles[i][k].get<double>()).epsilon(1e-6));
  }
  CHECK(got["bends"].size() == part.flat.bends.size());
}

}  // namespace

TEST_CASE("cut files: a general-purpose reader finds every part as it is") {
  const std::vector<SheetPart> all = parts(fixture::two_cavities());
  REQUIRE(all.size() > 8);
  const auto found = read_back(all);
  std::size_t bent = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    CAPTURE(all[i].mark);
    compare(all[i], found[i]);
    if (!all[i].flat.etch_texts.empty()) CHECK(found[i]["text"][0].get<std::string>().starts_with(all[i].mark + " rev A"));
    bent += all[i].flat.bends.size();
  }
  CHECK(bent > 0);
}

TEST_CASE("cut files: arcs stay arcs, slots and cut-outs are closed, bends lie on their own layers") {
  SheetPart part = plate();
  FlatHole slot;
  slot.kind = HoleKind::slot;
  slot.centre = {60, 50};
  slot.diameter = 7;
  slot.length = 20;
  slot.angle_deg = 25;
  FlatHole window;
  window.kind = HoleKind::contour;
  window.contour = {{120, 30, 0}, {120, 70, 0}, {160, 70, 0}, {160, 30, 0}};
  part.flat.holes = {window, slot, fabrication::round_hole({20, 20}, 5.5, "screw")};
  part.flat.bends = {{{0, 85}, {200, 85}, true, 90, 3, 6, 4, 0.4, "edge"}, {{0, 15}, {200, 15}, false, 90, 3, 6, 4, 0.4, "edge"}};
  const nlohmann::json got = read_back({part})[0];
  compare(part, got);
  CHECK(got["bulges"] == 4);
  CHECK(got["kinds"] == nlohmann::json({"CIRCLE", "LINE", "LWPOLYLINE"}));
  CHECK(got["bends"] == nlohmann::json({{"BEND_DOWN", 0.0, 15.0, 200.0, 15.0}, {"BEND_UP", 0.0, 85.0, 200.0, 85.0}}));
}

TEST_CASE("cut files: cut lines alone when the shop wants them so") {
  const std::vector<SheetPart> all = parts(fixture::two_cavities());
  for (const nlohmann::json& got : read_back(all, survey::CutFiles::cut_only)) {
    CHECK(got["layers"] == nlohmann::json({"CUT"}));
    CHECK(got["text"].empty());
  }
}

TEST_CASE("cut files: nasty names stay on one line of plain letters") {
  const std::vector<SheetPart> all = parts(fixture::nasty_names());
  for (const nlohmann::json& got : read_back(all)) CHECK(got["errors"] == 0);
  for (const SheetPart& part : all) {
    const std::string name = report::dxf_name(part);
    CAPTURE(name);
    CHECK(name.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-") == std::string::npos);
    CHECK(name.find("..") == std::string::npos);
    CHECK(name.front() != '.');
  }
}

TEST_CASE("cut files: the name says mark, name, material, thickness, quantity and revision") {
  CHECK(report::dxf_name(plate()) == "TW-P_plate_EN-AW-5754-H22_2.5mm_2off_rev-A.dxf");
}

TEST_CASE("cut files: same part, same bytes") {
  const SheetPart part = parts(fixture::two_cavities())[0];
  CHECK(report::to_dxf(part, marked) == report::to_dxf(part, marked));
}
