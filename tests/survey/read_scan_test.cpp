/// Sections from a scan, from file to job: formats, placing, what is told. What is refused stands in refused/scan_*.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <random>

#include "cellstow/survey/read_job.hpp"
#include "scan_file.hpp"
#include "tables.hpp"

namespace fs = std::filesystem;
namespace survey = cellstow::survey;
using survey::Length;
using survey::Point2;
using survey::testing::small_tables;
using survey::testing::tests_folder;

namespace {

const fs::path scans = tests_folder() / "accepted" / "scans";

std::string bytes_of(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

/// accepted/scan.json with changes to its "from_scan".
nlohmann::json scan_job(const nlohmann::json& changes = nlohmann::json::object()) {
  auto job = nlohmann::json::parse(bytes_of(tests_folder() / "accepted" / "scan.json"));
  job["cavities"][0]["sections"]["from_scan"].merge_patch(changes);
  return job;
}

std::vector<survey::Section> sections_of(const nlohmann::json& job, const fs::path& folder = tests_folder() / "accepted") {
  const auto read = survey::read_job_text(job.dump(), "job.json", folder, {}, tests_folder() / "no_shapes", small_tables());
  if (!read) FAIL(cellstow::core::to_text(read.error()));
  return read->cavities[0].sections.at;
}

std::vector<Point2> points(std::initializer_list<std::pair<int, int>> corners_mm) {
  std::vector<Point2> result;
  for (const auto& [a, b] : corners_mm) result.push_back({Length::from_um(a * 1000), Length::from_um(b * 1000)});
  return result;
}

bool told(const survey::Section& section, const std::string& remark) {
  const auto& remarks = section.measured->remarks;
  return std::find(remarks.begin(), remarks.end(), remark) != remarks.end();
}

/// A scan written as an OBJ file into a folder of its own.
class Folder {
 public:
  explicit Folder(const std::string& name) : path_(fs::temp_directory_path() / ("cellstow_" + name)) { fs::create_directories(path_); }
  ~Folder() { fs::remove_all(path_); }
  const fs::path& path() const { return path_; }
  void write(const std::string& name, const std::string& text) const { std::ofstream(path_ / name, std::ios::binary) << text; }

 private:
  fs::path path_;
};

}  // namespace

TEST_CASE("scan: one tub in every format gives one set of sections") {
  for (const char* file : {"tub.obj", "tub.stl", "tub_binary.stl", "tub.ply", "tub_binary_little_endian.ply", "tub_binary_big_endian.ply"}) {
    CAPTURE(file);
    const auto sections = sections_of(scan_job({{"file", std::string("scans/") + file}}));
    REQUIRE(sections.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
      const survey::Section& section = sections[i];
      CHECK(section.station == Length::from_um(2'100'000 + 200'000 * static_cast<int>(i)));
      CHECK(section.outline == points({{-400, 330}, {400, 330}, {400, 700}, {-400, 700}}));
      CHECK(section.holes.empty());
      REQUIRE(section.measured);
      CHECK(section.measured->by == survey::MeasuredBy::scan);
      REQUIRE(section.measured->corners.size() == 4);
      for (const auto& corner : section.measured->corners) CHECK(corner.give_or_take == Length::from_um(6'000));
    }
    CHECK(told(sections[0], "Scan placed on known points; off by F1 0, F2 0, F3 0, F4 0 mm"));
  }
}

TEST_CASE("scan: in metres and in inches, and across every axis") {
  for (const auto& [unit, mm] : {std::pair{"m", 1000.0}, {"in", 25.4}}) {
    auto text = bytes_of(scans / "tub.obj");
    Folder folder("scan_units");
    std::string scaled;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      double x = 0, y = 0, z = 0;
      if (std::sscanf(line.c_str(), "v %lf %lf %lf", &x, &y, &z) == 3) {
        char out[100];
        std::snprintf(out, sizeof out, "v %.17g %.17g %.17g", x / mm, y / mm, z / mm);
        line = out;
      }
      scaled += line + "\n";
    }
    folder.write("tub.obj", scaled);
    auto job = scan_job({{"file", "tub.obj"}, {"unit", unit}});
    for (auto& known : job["cavities"][0]["sections"]["from_scan"]["known"])
      for (auto& c : known["in_scan"]) c = c.get<double>() / mm;
    CHECK(sections_of(job, folder.path())[1].outline == points({{-400, 330}, {400, 330}, {400, 700}, {-400, 700}}));
  }
  auto across_z = scan_job({{"stations_mm", {400, 600}}});
  across_z["cavities"][0]["sections"]["across"] = "z";
  CHECK(sections_of(across_z)[0].outline == points({{2000, -400}, {2600, -400}, {2600, 400}, {2000, 400}}));
  auto across_y = scan_job({{"stations_mm", {-100, 100}}});
  across_y["cavities"][0]["sections"]["across"] = "y";
  CHECK(sections_of(across_y)[0].outline == points({{2000, 330}, {2600, 330}, {2600, 700}, {2000, 700}}));
}

TEST_CASE("scan: noise, dirt, a slit and a gap are told in the section") {
  // the tub in the car's own axes, its left wall open for 8 mm, specks in it, and the top corner seen 3 mm off
  Folder folder("scan_noise");
  folder.write("noisy.obj",
               "v 2000 -400 330\nv 2600 -400 330\nv 2600 400 330\nv 2000 400 330\n"       // floor
               "v 2000 -400 700\nv 2600 -400 700\nv 2600 400 700\nv 2000 400 700\n"       // lid
               "f 1 2 3 4\nf 5 6 7 8\nf 3 4 8 7\n"
               "v 2000 -400 500\nv 2600 -400 500\nv 2000 -400 508\nv 2600 -400 508\n"     // left wall in two strips
               "f 1 2 10 9\nf 11 12 6 5\n"
               "v 2290 100 500\nv 2310 100 500\nv 2300 108 509\nf 13 14 15\n");           // a speck
  auto job = scan_job({{"file", "noisy.obj"}, {"stations_mm", {2200, 2300}}});
  for (auto& known : job["cavities"][0]["sections"]["from_scan"]["known"]) known["in_scan"] = known["at_mm"];
  const auto sections = sections_of(job, folder.path());
  for (const survey::Section& section : sections)
    CHECK(told(section, "The scan is open from (-400, 500) to (-400, 508) mm, 8 mm wide: a straight line stands for the wall there; measure it in the car"));
  CHECK_FALSE(told(sections[0], "Loose pieces smaller than 15 mm taken for dirt: 1, the largest between (100, 500) and (108, 509) mm; look there in the car"));
  CHECK(told(sections[1], "Loose pieces smaller than 15 mm taken for dirt: 1, the largest between (100, 500) and (108, 509) mm; look there in the car"));
  // not declared as dirt it is metal
  job["cavities"][0]["sections"]["from_scan"]["dirt_mm"] = 0;
  const auto with_speck = sections_of(job, folder.path());
  CHECK(with_speck[1].holes.size() == 1);
  CHECK(told(with_speck[1], "A scanned edge ends in the open between (100, 500) and (108, 509) mm: the space round it is not counted free"));
}

TEST_CASE("scan: three known points do not show a mirrored scan, and that is said") {
  auto job = scan_job();
  job["cavities"][0]["sections"]["from_scan"]["known"].erase(3);
  CHECK(told(sections_of(job)[0],
             "The known points lie in one plane, so they cannot show whether the scan is mirrored: check left against right in the car"));
}

TEST_CASE("scan: the same job gives the same sections every time, in whatever order the faces come") {
  const auto text = bytes_of(scans / "tub.obj");
  std::vector<std::string> head, faces;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) (line.starts_with("f ") ? faces : head).push_back(line);
  std::mt19937 random(6);
  const auto first = sections_of(scan_job());
  for (int round = 0; round < 5; ++round) {
    std::shuffle(faces.begin(), faces.end(), random);
    std::string shuffled;
    for (const auto& line : head) shuffled += line + "\n";
    for (const auto& line : faces) shuffled += line + "\n";
    Folder folder("scan_order");
    folder.write("tub.obj", shuffled);
    const auto again = sections_of(scan_job({{"file", "tub.obj"}}), folder.path());
    for (std::size_t i = 0; i < first.size(); ++i) {
      CHECK(again[i].outline == first[i].outline);
      CHECK(again[i].measured->remarks == first[i].measured->remarks);
    }
  }
}

TEST_CASE("scan files: cut short at any byte they are refused") {
  for (const char* file : {"tub.obj", "tub.stl", "tub_binary.stl", "tub.ply", "tub_binary_little_endian.ply", "tub_binary_big_endian.ply"}) {
    CAPTURE(file);
    const std::string whole = bytes_of(scans / file);
    REQUIRE(survey::read_scan_file(whole, file));
    const std::size_t triangles = survey::read_scan_file(whole, file)->triangles.size();
    CHECK(triangles == 12);
    // the last line end of a text may go, and nothing in it after its last word; an OBJ file has no end mark at all
    const bool text = !std::string(file).starts_with("tub_");
    const std::size_t last = whole.size() - (text ? 5 : 1);
    for (std::size_t length = 0; length <= last; length += 1 + length / 200) {
      CAPTURE(length);
      const auto read = survey::read_scan_file(std::string_view(whole).substr(0, length), file);
      if (std::string(file) == "tub.obj")
        CHECK((!read || read->triangles.size() < triangles || length > last - 8));
      else
        CHECK_FALSE(read);
    }
  }
}

TEST_CASE("scan files: broken in one place they are refused with that place") {
  struct Case { const char* name; std::string bytes, found; };
  const std::string facet = "facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\n";
  const std::string head = "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n";
  const std::string points = "0 0 0\n1 0 0\n0 1 0\n";
  std::string not_a_number = bytes_of(scans / "tub_binary.stl");
  const float nan = std::nanf("");
  std::memcpy(not_a_number.data() + 84 + 50 + 12, &nan, 4);
  const Case cases[] = {
      {"a.stl", "solid a\n" + facet + "facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 zero 0\n", "line 12: vertex 1 zero 0"},
      {"a.stl", "solid a\n" + facet + "endsolid a\nfacet", "line 10: facet"},
      {"a.stl", "solid a\n" + facet, "the file ends early"},
      {"a.stl", "solid a\nendsolid a\n", "no facet"},
      {"a.stl", not_a_number, "triangle 2, counted from 1, has a corner that is not a number"},
      {"a.stl", std::string(84, '\0'), "0 triangles"},
      {"a.stl", "PK", "the file ends early"},
      {"a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 x\nf 1 2 3\n", "line 3: v 0 1 x"},
      {"a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n", "line 4: a face with corner 3, counted from 0, of 3 points"},
      {"a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 0\n", "line 4: f 1 2 0"},
      {"a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2\n", "line 4: f 1 2"},
      {"a.obj", "v 0 0 0\ncurv 1 2\n", "line 2: curv 1 2"},
      {"a.obj", "v 0 0 inf\n", "line 1: v 0 0 inf"},
      {"a.ply", "plu\n", "line 1: plu"},
      {"a.ply", head + "0 0 0\n1 0 0\n0 1\n3 0 1 2\n", "line 12: 0 1"},
      {"a.ply", head + "0 0 0\n1 0 0\n0 1 0 7\n3 0 1 2\n", "line 12: 0 1 0 7"},
      {"a.ply", head + points + "3 0 1 3\n", "face 1, counted from 1: a face with corner 3, counted from 0, of 3 points"},
      {"a.ply", head + points + "5 0 1 2 0 1\n", "face 1, counted from 1, of 5 corners"},
      {"a.ply", head + points + "3 0 1 2\n3 0 1 2\n", "line 14: 3 0 1 2"},
      {"a.ply", "ply\nformat ascii 1.0\nelement vertex -3\nend_header\n", "line 3: element vertex -3"},
      {"a.ply", "ply\nformat ascii 1.0\nelement vertex 19000000\nproperty float x\nproperty float y\nproperty float z\nelement face 1\nproperty list uchar int vertex_index\nend_header\n0 0 0\n", "the file ends early"},
      {"a.xyz", "0 0 0\n", "a name that ends otherwise"},
  };
  for (const Case& c : cases) {
    CAPTURE(c.bytes.substr(0, 300));
    const auto read = survey::read_scan_file(c.bytes, c.name);
    REQUIRE_FALSE(read);
    CHECK(read.error().found == c.found);
    CHECK_FALSE(read.error().expected.empty());
  }
}

TEST_CASE("scan files: spellings that are allowed") {
  CHECK(survey::read_scan_file("v +1.5e1 0 0 1 0.5 0.5\r\nv 1 0 0\r\nv 0 1 0 # a corner\r\n\r\nf -3//1 -2/2 -1/3/4 # a face", "A.OBJ")->points[0][0] == 15);
  CHECK(survey::read_scan_file("solid\nfacet normal nan nan nan outer loop vertex 0 0 0 vertex 1 0 0 vertex 0 1 0 endloop endfacet\nendsolid", "a.STL"));
}
