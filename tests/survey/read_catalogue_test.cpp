#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <numbers>
#include <string>
#include <tuple>
#include <vector>

#include "cellstow/survey/catalogue.hpp"

namespace survey = cellstow::survey;
namespace fs = std::filesystem;

namespace {

survey::Catalogue shipped() {
  const auto catalogue = survey::read_catalogue(CELLSTOW_SHAPES);
  if (!catalogue) FAIL(cellstow::core::to_text(catalogue.error()));
  return *catalogue;
}

/// A copy of the shipped tables that one test may spoil; gone when the test ends.
class SpoiledTables {
 public:
  explicit SpoiledTables(const std::string& name)
      : folder_(fs::temp_directory_path() / ("cellstow_catalogue_" + name)) {
    fs::remove_all(folder_);
    fs::create_directories(folder_);
    for (const char* table :
         {"materials", "fastener_classes", "threads", "flat_bars", "load_cases"})
      fs::copy_file(fs::path(CELLSTOW_SHAPES) / (std::string(table) + ".json"), path(table));
  }
  ~SpoiledTables() { fs::remove_all(folder_); }
  SpoiledTables(const SpoiledTables&) = delete;
  SpoiledTables& operator=(const SpoiledTables&) = delete;

  fs::path path(const std::string& table) const { return folder_ / (table + ".json"); }
  void remove(const std::string& table) { fs::remove(path(table)); }
  void replace(const std::string& table, const std::string& from, const std::string& to) {
    std::ifstream in(path(table));
    std::string text{std::istreambuf_iterator<char>(in), {}};
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    std::ofstream(path(table)) << text.replace(at, from.size(), to);
  }
  cellstow::core::Problems problems() const {
    const auto result = survey::read_catalogue(folder_);
    return result ? cellstow::core::Problems{} : result.error();
  }

 private:
  fs::path folder_;
};

template <class Rows>
void check_sourced(const Rows& rows) {
  const std::vector<std::string> known = {"confirmed", "confirmed in a secondary text",
                                          "from memory", "common practice, no source", "computed"};
  CHECK_FALSE(rows.empty());
  for (const auto& row : rows) {
    CAPTURE(row.source);
    CHECK_FALSE(row.source.empty());
    CHECK(std::find(known.begin(), known.end(), row.status) != known.end());
  }
}

template <class Map>
auto values_of(const Map& map) {
  std::vector<typename Map::mapped_type> rows;
  for (const auto& [name, row] : map) rows.push_back(row);
  return rows;
}

}  // namespace

TEST_CASE("shipped tables: every row tells its source and how sure it is") {
  const survey::Catalogue catalogue = shipped();
  check_sourced(values_of(catalogue.materials));
  check_sourced(values_of(catalogue.fastener_classes));
  check_sourced(values_of(catalogue.threads));
  check_sourced(values_of(catalogue.load_case_sets));
  check_sourced(catalogue.flat_bars);
}

TEST_CASE("shipped tables: published strengths") {
  const survey::Catalogue catalogue = shipped();
  const survey::Material bar = catalogue.materials.at("EN AW-6061 T6");
  // EN 1999-1-1 Table 3.2b, extruded up to 20 mm
  CHECK(bar.proof_strength.value() == 240);
  CHECK(bar.ultimate_strength.value() == 260);
  CHECK(bar.welded_proof_strength->value() == 115);
  CHECK(bar.welded_ultimate_strength->value() == 175);
  CHECK(bar.bend_may_crack);
  // EN 10025-2 Table 7, up to 16 mm
  CHECK(catalogue.materials.at("S235").proof_strength.value() == 235);
  CHECK(catalogue.materials.at("S235").ultimate_strength.value() == 360);
  CHECK(catalogue.materials.at("S355").proof_strength.value() == 355);
  CHECK(catalogue.materials.at("S355").ultimate_strength.value() == 470);
  // the defaults of the rules must be there
  for (const char* name : {"EN AW-5754 H22", "EN AW-6061 T6", "S235", "DC01"})
    CHECK(catalogue.materials.contains(name));
  CHECK(catalogue.fastener_classes.contains("8.8"));
}

TEST_CASE("shipped tables: a material is weaker where it was welded, never stronger") {
  for (const auto& [name, material] : shipped().materials) {
    CAPTURE(name);
    CHECK(material.proof_strength < material.ultimate_strength);
    REQUIRE(material.welded_proof_strength.has_value() ==
            material.welded_ultimate_strength.has_value());
    if (!material.welded_proof_strength) continue;
    CHECK(*material.welded_proof_strength <= material.proof_strength);
    CHECK(*material.welded_ultimate_strength <= material.ultimate_strength);
  }
}

TEST_CASE("shipped tables: proof loads of ISO 898-1") {
  struct Case {
    const char* thread;
    double proof_8_8, proof_10_9, proof_12_9;
  };
  const Case cases[] = {{"M5", 8230, 11800, 13800},    {"M6", 11600, 16700, 19500},
                        {"M8", 21200, 30400, 35500},   {"M10", 33700, 48100, 56300},
                        {"M12", 48900, 70000, 81800},  {"M14", 66700, 95500, 112000},
                        {"M16", 91000, 130000, 152000}};
  const survey::Catalogue catalogue = shipped();
  // The standard's own rounding is uneven by up to 0.6 %.
  const auto near = [](double printed) { return doctest::Approx(printed).epsilon(0.006); };
  for (const Case& c : cases) {
    CAPTURE(c.thread);
    const double area = catalogue.threads.at(c.thread).stress_area_mm2;
    const auto proof = [&](const char* name) {
      return area * catalogue.fastener_classes.at(name).proof_stress.value();
    };
    CHECK(proof("8.8") == near(c.proof_8_8));
    CHECK(proof("10.9") == near(c.proof_10_9));
    CHECK(proof("12.9") == near(c.proof_12_9));
  }
}

TEST_CASE("shipped tables: stress areas follow from diameter and pitch") {
  // pi/4 (d - 0.9382 P)^2: ISO 898-1; for inch threads d - 0.9743 / n: ASME B1.1 (the same but for
  // rounding)
  for (const auto& [name, thread] : shipped().threads) {
    CAPTURE(name);
    const double factor = name.find('/') == std::string::npos ? 0.9382 : 0.9743;
    const double core_mm = thread.major_diameter.mm() - factor * thread.pitch_mm;
    CHECK(thread.stress_area_mm2 ==
          doctest::Approx(std::numbers::pi / 4 * core_mm * core_mm).epsilon(0.006));
    CHECK(thread.clearance_hole > thread.major_diameter);
    CHECK(thread.head_width_mm > thread.clearance_hole.mm());
  }
}

TEST_CASE("shipped tables: load cases of ISO 12991 Table 1") {
  struct Case {
    const char* set;
    double along_g, across_g;
  };
  const Case cases[] = {{"ISO 12991, M1 and N1", 20, 8},
                        {"ISO 12991, M2 and N2", 10, 5},
                        {"ISO 12991, M3 and N3", 6.6, 5}};
  const survey::Catalogue catalogue = shipped();
  for (const Case& c : cases) {
    CAPTURE(c.set);
    double low_x = 0, high_x = 0, low_y = 0, high_y = 0;
    for (const survey::LoadCase& one : catalogue.load_case_sets.at(c.set).cases) {
      low_x = std::min(low_x, one.accel[0].value()),
      high_x = std::max(high_x, one.accel[0].value());
      low_y = std::min(low_y, one.accel[1].value()),
      high_y = std::max(high_y, one.accel[1].value());
      CHECK(one.accel[2].value() == 0);
    }
    CHECK(high_x == c.along_g);
    CHECK(low_x == -c.along_g);
    CHECK(high_y == c.across_g);
    CHECK(low_y == -c.across_g);
  }
}

TEST_CASE("shipped tables: the name of a load case tells its direction") {
  for (const auto& [name, set] : shipped().load_case_sets) {
    for (const survey::LoadCase& one : set.cases) {
      CAPTURE(one.name);
      const auto says = [&](const char* word) { return one.name.ends_with(word); };
      if (says("forward"))
        CHECK(one.accel[0].value() < 0);
      else if (says("rearward"))
        CHECK(one.accel[0].value() > 0);
      else if (says("to the left"))
        CHECK(one.accel[1].value() < 0);
      else if (says("to the right"))
        CHECK(one.accel[1].value() > 0);
      else if (says("upward"))
        CHECK(one.accel[2].value() > 0);
      else if (says("downward"))
        CHECK(one.accel[2].value() < 0);
      else
        FAIL("no direction in the name");
    }
  }
}

TEST_CASE("shipped tables: default set and sorted bars") {
  const survey::Catalogue catalogue = shipped();
  CHECK(catalogue.load_case_sets.contains(catalogue.default_load_case_set));
  CHECK(std::is_sorted(catalogue.flat_bars.begin(), catalogue.flat_bars.end(),
                       [](const survey::FlatBar& a, const survey::FlatBar& b) {
                         return std::tie(a.material, a.width, a.thickness) <
                                std::tie(b.material, b.width, b.thickness);
                       }));
}

TEST_CASE("refused tables: E301 missing or broken, each told") {
  SpoiledTables tables("e301");
  tables.remove("threads");
  tables.replace("materials", "\"materials\": [", "\"materials\": [[");
  const auto problems = tables.problems();
  REQUIRE(problems.size() >= 2);
  CHECK(std::count_if(problems.begin(), problems.end(),
                      [](const auto& problem) { return problem.id == "E301"; }) == 2);
}

TEST_CASE("refused tables: E302 bad rows, all of them with their place") {
  SpoiledTables tables("e302");
  tables.replace("fastener_classes", "\"proof_stress_mpa\": 580", "\"proof_stress_mpa\": \"580\"");
  tables.replace("fastener_classes", "\"name\": \"10.9\"", "\"names\": \"10.9\"");
  tables.replace("threads", "\"source\": \"", "\"source\": \"\", \"was\": \"");
  tables.replace("load_cases", "[-20, 0, 0]", "[-20, 0]");
  tables.replace("flat_bars", "\"material\": \"EN AW-6061 T6\"", "\"material\": \"EN AW-6060 T6\"");
  const auto problems = tables.problems();
  std::vector<std::string> places;
  for (const auto& problem : problems) {
    CHECK(problem.id == "E302");
    places.push_back(problem.pointer);
  }
  const std::vector<std::string> expected = {"/fastener_classes/0/proof_stress_mpa",
                                             "/fastener_classes/1/name",
                                             "/fastener_classes/1/names",
                                             "/threads/0/source",
                                             "/threads/0/was",
                                             "/flat_bars/0/material",
                                             "/load_cases/0/cases/0/accel_g"};
  CHECK(places == expected);
}

TEST_CASE("refused tables: E302 key written twice") {
  SpoiledTables tables("twice");
  tables.replace("threads", "\"pitch_mm\": 0.8", "\"pitch_mm\": 0.8, \"pitch_mm\": 1.0");
  const auto problems = tables.problems();
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].found == "pitch_mm");
}

TEST_CASE("refused tables: E302 default set that is not there") {
  SpoiledTables tables("default");
  tables.replace("load_cases", "\"default\": \"light car", "\"default\": \"no such car");
  const auto problems = tables.problems();
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].pointer == "/default");
}

TEST_CASE("refused tables: E303 name used twice") {
  SpoiledTables tables("e303");
  tables.replace("materials", "\"name\": \"S275\"", "\"name\": \"S235\"");
  const auto problems = tables.problems();
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].id == "E303");
  CHECK(problems[0].pointer == "/materials/7/name");
  CHECK(problems[0].found == "S235");
}
