#include "cellstow/survey/read_cells.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "cellstow/survey/change_limits.hpp"
#include "tables.hpp"

namespace fs = std::filesystem;
namespace survey = cellstow::survey;
using doctest::Approx;
using survey::Amount;
using survey::read_amount;
using survey::testing::small_tables;

namespace {

/// A folder of its own, gone when the test ends.
class Folder {
 public:
  Folder() : path_(fs::temp_directory_path() / "cellstow_read_cells") {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  ~Folder() { fs::remove_all(path_); }
  fs::path write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return path_ / name;
  }
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

std::string cell_named(const std::string& name) {
  return R"({"format": "cellstow-cell/1", "name": ")" + name + R"(", "thickness_mm": 72, "width_mm": 174, "height_mm": 207, "mass_kg": 5.4})";
}

std::string ids(const cellstow::core::Problems& problems) {
  std::string out;
  for (const auto& problem : problems) out += problem.id + " ";
  return out;
}

}  // namespace

TEST_CASE("cells to compare: files of a folder by name, then the next") {
  const Folder folder;
  folder.write("b.json", cell_named("second"));
  folder.write("a.json", cell_named("first"));
  folder.write("readme.txt", "not a cell");
  const auto cells = survey::read_cells({folder.path()}, small_tables());
  REQUIRE(cells);
  REQUIRE(cells->size() == 2);
  CHECK((*cells)[0].cell.name == "first");
  CHECK((*cells)[1].cell.name == "second");
}

TEST_CASE("cells to compare: every fault of every file") {
  const Folder folder;
  const fs::path good = folder.write("good.json", cell_named("good")), twin = folder.write("twin.json", cell_named("good"));
  const fs::path bad = folder.write("bad.json", R"({"format": "cellstow-cell/1", "name": "x", "thickness_mm": -1, "width": 3})");
  fs::create_directory(folder.path() / "empty");
  const auto cells = survey::read_cells({good, twin, bad, folder.path() / "none.json", folder.path() / "empty"}, small_tables());
  REQUIRE_FALSE(cells);
  const std::string all = ids(cells.error());
  for (const char* id : {"E103", "E104", "E107", "E401", "E406", "E111"}) {
    CAPTURE(id);
    CHECK(all.find(id) != std::string::npos);
  }
}

TEST_CASE("costs: quoted names, and every line that does not read") {
  const Folder folder;
  const auto good = survey::read_costs(folder.write("good.csv", "cell,cost_each\r\nplain,90\r\n\"with, comma and \"\"quotes\"\"\",85.5\r\n\r\n"));
  REQUIRE(good);
  CHECK(good->at("plain") == 90);
  CHECK(good->at("with, comma and \"quotes\"") == 85.5);
  const auto bad = survey::read_costs(folder.write("bad.csv", "name;cost\na,1\na,2\nb,-1\nc,1e999\nd,7 euro\ne\n\"open,3\n"));
  REQUIRE_FALSE(bad);
  CHECK(bad.error().size() == 7);  // heading, a twice, b, c, d, e, open quote
  for (const auto& problem : bad.error()) CHECK(problem.id == "E407");
  CHECK(bad.error()[1].pointer == "line 3");
  CHECK_FALSE(survey::read_costs(folder.path() / "none.csv"));
}

TEST_CASE("amounts of the command line: bare numbers and units") {
  CHECK(*read_amount("100", Amount::distance_km, "--range", 2000) == 100);
  CHECK(*read_amount("62 mi", Amount::distance_km, "--range", 2000) == Approx(99.779328));  // 1.609344 km, NIST SP 811
  CHECK(*read_amount("1805.6 lb", Amount::mass_kg, "--car", 20000) == Approx(819.006383));  // 0.45359237 kg, NIST SP 811
  for (const char* text : {"", "abc", "100 kg", "-3", "0", "2001", "1e400", "nan", "inf", "1,5"}) {
    CAPTURE(text);
    const auto amount = read_amount(text, Amount::distance_km, "--range", 2000);
    REQUIRE_FALSE(amount);
    CHECK(amount.error()[0].id == "E405");
    CHECK(amount.error()[0].pointer == "--range");
  }
}

TEST_CASE("change limits: the shipped table reads, and says where each row is from") {
  const auto limits = survey::read_change_limits(CELLSTOW_SHAPES);
  REQUIRE(limits);
  CHECK(limits->size() >= 8);
  for (const survey::ChangeLimit& limit : *limits) {
    CHECK(limit.limit > 0);
    CHECK_FALSE(limit.source.empty());
    CHECK_FALSE(limit.status.empty());
  }
}

TEST_CASE("change limits: bad rows are refused") {
  const Folder folder;
  folder.write("change_limits.json", R"({"format": "cellstow-table/1", "change_limits": [
    {"name": "a", "applies": "here", "of": "colour", "limit": 20, "source": "s", "status": "t"},
    {"name": "b", "applies": "here", "of": "ride_height_mm", "limit": -1, "source": "s", "status": "t"},
    {"name": "c", "applies": "here", "of": "ride_height_mm", "limit": 1, "source": "s", "status": "t"},
    {"name": "c", "applies": "here", "of": "ride_height_mm", "limit": 2, "source": "s", "status": "t"}]})");
  const auto limits = survey::read_change_limits(folder.path());
  REQUIRE_FALSE(limits);
  CHECK(ids(limits.error()) == "E302 E302 E303 ");
  CHECK_FALSE(survey::read_change_limits(folder.path() / "nowhere"));
}
