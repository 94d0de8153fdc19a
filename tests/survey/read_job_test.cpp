#include "cellstow/survey/read_job.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tables.hpp"

namespace fs = std::filesystem;
namespace survey = cellstow::survey;
using cellstow::core::Length;
using nlohmann::json;
using survey::testing::small_tables;
using survey::testing::tests_folder;

namespace {

json sample(const std::string& name) {
  std::ifstream stream(tests_folder() / "accepted" / name, std::ios::binary);
  return json::parse(stream);
}

cellstow::core::Result<survey::Job> try_read(const json& job) {
  return survey::read_job_text(job.dump(), "job.json", tests_folder() / "accepted", {},
                               tests_folder() / "no_shapes", small_tables());
}

survey::Job read(const json& job) {
  const auto result = try_read(job);
  if (!result) FAIL(cellstow::core::to_text(result.error()));
  return *result;
}

Length mm(double value) { return Length::from_mm(value); }

/// A folder of its own, gone when the test ends.
class TestFolder {
 public:
  explicit TestFolder(const std::string& name)
      : path_(fs::temp_directory_path() / ("cellstow_" + name)) {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  ~TestFolder() { fs::remove_all(path_); }
  TestFolder(const TestFolder&) = delete;
  TestFolder& operator=(const TestFolder&) = delete;
  const fs::path& path() const { return path_; }
  void write(const std::string& name, const std::string& text) const {
    fs::create_directories((path_ / name).parent_path());
    std::ofstream(path_ / name, std::ios::binary) << text;
  }

 private:
  fs::path path_;
};

const std::string cell_text =
    R"({"format": "cellstow-cell/1", "name": "c", "thickness_mm": 50, "width_mm": 100,)"
    R"( "height_mm": 200, "mass_kg": 2})";

json job_with_cell_file(const std::string& file) {
  json job = sample("smallest.json");
  job["cell"] = {{"file", file}};
  return job;
}

json job_with_material(const std::string& wall) {
  json job = sample("smallest.json");
  job["rules"]["materials"]["wall"] = json::parse(wall);
  return job;
}

std::string first_id(const cellstow::core::Result<survey::Job>& job) {
  return job ? "accepted" : job.error().front().id;
}

}  // namespace

TEST_CASE("the smallest job gets every default") {
  const survey::Job job = read(sample("smallest.json"));
  CHECK_FALSE(job.car);
  CHECK_FALSE(job.string);
  CHECK(job.cell.terminal_top == mm(279));
  CHECK(job.cell.stances == std::vector{survey::Stance::upright});
  const survey::Rules& rules = job.rules;
  CHECK(rules.body_clearance == mm(10));
  CHECK(rules.lid_clearance == mm(10));
  CHECK(rules.wall == mm(3));
  CHECK(rules.floor == mm(3));
  CHECK(rules.lid == mm(2));
  CHECK(rules.liner == mm(3));
  CHECK(rules.corner_relief == mm(0));
  CHECK(rules.between_cells == mm(0));
  CHECK(rules.end_plate == mm(10));
  CHECK(rules.strap_space == mm(6));
  CHECK(rules.between_blocks == mm(5));
  CHECK(rules.between_tiers == mm(20));
  CHECK(rules.headroom == mm(15));
  CHECK(rules.block_cells.min == 1);
  CHECK(rules.block_cells.max == 12);
  CHECK(rules.box_outline == survey::BoxOutline::stepped);
  CHECK(rules.boxes_per_cavity == 1);
  CHECK(rules.arrangement == survey::Arrangement::mixed);
  CHECK(rules.heading == survey::Heading::square);
  CHECK(rules.tiers == 1);
  CHECK(rules.lift_limit.value() == 50);
  CHECK(rules.open_link_max.value() == 60);
  CHECK(rules.pan_depth_max == mm(150));
  CHECK(rules.bracket_reach == mm(150));
  CHECK(rules.car_scatter == mm(2));
  CHECK(rules.flange == mm(0));
  CHECK(rules.build == survey::Build::simplest);
  CHECK(rules.cut_files == survey::CutFiles::marked);
  CHECK_FALSE(rules.bend_radius);
  CHECK_FALSE(rules.leg_min);
  CHECK(rules.bend_tests.empty());
  CHECK(job.revision == "A");
  const survey::DrawingRules& drawings = job.drawings;
  CHECK(drawings.paper == survey::DrawingPaper::a4);
  CHECK(drawings.projection == survey::Projection::first);
  CHECK(drawings.units == survey::DrawnUnits::mm);
  CHECK(drawings.general_tolerance == "ISO 2768-m");
  CHECK(drawings.weld_tolerance == "ISO 13920-B");
  CHECK(drawings.finish == "as rolled, edges broken");
  CHECK(drawings.tile_paper == survey::TilePaper::a4);
  CHECK(drawings.ply == mm(6));
  CHECK(rules.materials.wall.name == "EN AW-5754 H22");
  CHECK(rules.materials.strap.name == "EN AW-6061 T6");
  CHECK(rules.materials.hold_down.name == "S235");
  CHECK(rules.materials.fasteners.name == "8.8");
  CHECK(rules.load_cases.name == "usual");
  CHECK(rules.load_cases.cases.size() == 2);
  CHECK(rules.safety_factor.yield == 1.5);
  CHECK(rules.safety_factor.ultimate == 2.0);
  const survey::Cavity& cavity = job.cavities.at(0);
  CHECK(cavity.sections.between == survey::Between::common);
  CHECK_FALSE(cavity.cells_wanted);
  CHECK(cavity.tape_error == mm(3));
}

TEST_CASE("every key of a full job lands in its place") {
  const survey::Job job = read(sample("everything.json"));
  CHECK(job.title == "every key of the format once");
  const survey::Car& car = job.car.value();
  CHECK(std::get<survey::WheelLoads>(car.weighed).front_right.value() == 198.5);
  CHECK(std::get<survey::TiltTest>(car.cg_height).raised == survey::RaisedAxle::rear);
  CHECK(car.seats.at(0).mass.value() == 80);
  CHECK(car.seats.at(1).mass.value() == 75);
  CHECK(car.removed.at(0).at.x == mm(-150));
  CHECK(car.wheel_rates->rear.value() == 24);
  CHECK(job.cell.case_kind == survey::CaseKind::aluminium);
  CHECK(job.cell.stances.size() == 3);
  CHECK(job.string->series == 36);
  CHECK(job.string->controller->peak->value() == 450);
  CHECK(job.rules.materials.wall.bend_may_crack);
  CHECK(job.rules.materials.wall.k_factor == 0.41);
  CHECK(job.revision == "C2");
  CHECK(job.stock.sheet_width == Length::from_mm(1500));
  CHECK(job.stock.saw_kerf == Length::from_mm(2.5));
  CHECK(job.rules.flange == mm(4));
  CHECK(job.rules.build == survey::Build::welded_panels);
  CHECK(job.rules.cut_files == survey::CutFiles::cut_only);
  CHECK(job.rules.bend_radius == mm(4.5));
  CHECK(job.rules.leg_min == mm(18));
  REQUIRE(job.rules.bend_tests.size() == 1);
  CHECK(job.rules.bend_tests[0].legs[1] == mm(49.9));
  CHECK(job.rules.bend_tests[0].flat == mm(95.1));
  CHECK(job.drawings.paper == survey::DrawingPaper::a3);
  CHECK(job.drawings.projection == survey::Projection::third);
  CHECK(job.drawings.units == survey::DrawnUnits::mm_and_inch);
  CHECK(job.drawings.general_tolerance == "ISO 2768-c");
  CHECK(job.drawings.weld_tolerance == "ISO 13920-A");
  CHECK(job.drawings.finish == "powder coated black");
  CHECK(job.drawings.tile_paper == survey::TilePaper::letter);
  CHECK(job.drawings.ply == mm(6.5));
  CHECK(job.rules.load_cases.name == "own set");
  CHECK(job.rules.load_cases.cases.at(1).accel[1].value() == -14);
  const survey::Cavity& cavity = job.cavities.at(0);
  CHECK(std::get<survey::CylinderShape>(cavity.keep_outs.at(0).shape).diameter == mm(55));
  CHECK(cavity.keep_outs.at(1).kind == survey::KeepOutKind::moving);
  CHECK_FALSE(cavity.keep_outs.at(1).clearance);
  CHECK(std::get<survey::PrismShape>(cavity.keep_outs.at(2).shape).z_high == mm(390));
  CHECK(cavity.fixings.at(0).kind == survey::FixingKind::stud);
  CHECK(cavity.fixings.at(0).use == survey::FixingUse::locate);
  CHECK(cavity.fittings.at(0).place == survey::FittingPlace::wall);
  CHECK(cavity.cells_wanted->max == 20);
}

TEST_CASE(
    "sections are sorted, outlines run one way and holes the other, matched vertices stay "
    "matched") {
  const survey::Job job = read(sample("everything.json"));
  const survey::Sections& sections = job.cavities.at(0).sections;
  REQUIRE(sections.at.size() == 2);
  CHECK(sections.at[0].station == mm(330));
  CHECK(sections.at[1].station == mm(700));
  for (std::size_t i = 0; i < 4; ++i) {
    const auto &low = sections.at[0].outline[i], &high = sections.at[1].outline[i];
    CHECK(high.a - low.a == mm(10));  // the upper outline is the lower one moved and widened
    const auto &low_hole = sections.at[0].holes[0][i], &high_hole = sections.at[1].holes[0][i];
    CHECK(std::abs((high_hole.a - low_hole.a).um()) == 10'000);
    CHECK(std::abs((high_hole.b - low_hole.b).um()) == 10'000);
  }
  CHECK(sections.at[0].holes[0][1] == survey::Point2{mm(2310), mm(30)});
}

TEST_CASE("outlines listed clockwise all turn alike") {
  json job = sample("smallest.json");
  for (json& section : job["cavities"][0]["sections"]["at"])
    section["outline_mm"] = {{2000, -400}, {2000, 400}, {2600, 400}, {2600, -400}};
  job["cavities"][0]["sections"]["between"] = "straight";
  const survey::Sections sections = read(job).cavities.at(0).sections;
  for (const survey::Section& section : sections.at) {
    CHECK(section.outline[0] == survey::Point2{mm(2000), mm(-400)});
    CHECK(section.outline[1] == survey::Point2{mm(2600), mm(-400)});
  }
}

TEST_CASE("inches, pounds and millimetres in one file") {
  const survey::Job job = read(sample("inches.json"));
  CHECK(job.car->wheelbase == mm(2400.3));
  CHECK(std::get<survey::AxleLoads>(job.car->weighed).front.value() == doctest::Approx(410.5011));
  CHECK(std::get<Length>(job.car->cg_height) == mm(539.75));
  CHECK(job.car->wheel_rates->front.value() == doctest::Approx(21.01522));
  CHECK(job.cell.name == "plain cell");
  CHECK(job.cell.thickness == mm(71.12));
  CHECK(job.cell.voltage->nominal.value() == doctest::Approx(3.2));
  CHECK_FALSE(job.string->series);
  CHECK(job.rules.wall == mm(3.175));
  CHECK(job.rules.block_cells.max == 1'000'000);
  const survey::Section& rear = job.cavities.at(0).sections.at.at(1);
  CHECK(rear.station == mm(2200.275));
  CHECK(rear.outline[2] == survey::Point2{mm(439.42), mm(609.6)});
  const survey::Fixing& fixing = job.cavities.at(0).fixings.at(0);
  CHECK(fixing.axis == std::array<double, 3>{0, 0.6, 0.8});
  CHECK(fixing.sheet == mm(1.27));
  CHECK(fixing.limit->value() == doctest::Approx(1779.2886));
  CHECK(job.cavities.at(1).cells_wanted->min == 14);
}

TEST_CASE("rounding goes to the safe side by kind of length") {
  json job = sample("smallest.json");
  job["cell"]["width_mm"] = 182.0001;
  job["rules"]["wall_mm"] = 3.0001;
  json& cavity = job["cavities"][0];
  cavity["sections"]["at"][0]["outline_mm"][0] = {2000.0004, -400.0006};
  cavity["fixings"] = {
      {{"name", "T1"}, {"at_mm", {0, 0, 0}}, {"thread", "M8"}, {"sheet_mm", 1.2009}}};
  const survey::Job read_job = read(job);
  CHECK(read_job.cell.width.um() == 182'001);
  CHECK(read_job.rules.wall.um() == 3'001);
  CHECK(read_job.cavities[0].sections.at[0].outline[0].a.um() == 2'000'000);
  CHECK(read_job.cavities[0].sections.at[0].outline[0].b.um() == -400'001);
  CHECK(read_job.cavities[0].fixings[0].sheet->um() == 1'200);
}

TEST_CASE("problems come in the order of the file, whatever the order of keys") {
  const std::string text =
      R"({"cavities": [], "cell": {"mass_kg": 0, "name": ""}, "format": "cellstow-job/1", "zzz": 1})";
  const auto job = survey::read_job_text(text, "job.json", ".", {}, ".", small_tables());
  REQUIRE_FALSE(job);
  std::vector<std::string> pointers;
  for (const auto& problem : job.error()) pointers.push_back(problem.pointer);
  CHECK(pointers == std::vector<std::string>{"/cavities", "/cell", "/cell", "/cell",
                                             "/cell/mass_kg", "/cell/name", "/zzz"});
}

TEST_CASE("a default missing from the tables is said, not passed over") {
  const auto job =
      survey::read_job_text(sample("smallest.json").dump(), "job.json", ".", {}, ".", {});
  REQUIRE_FALSE(job);
  CHECK(job.error().size() == 5);
  for (const auto& problem : job.error()) CHECK(problem.id == "E304");
}

TEST_CASE(
    "files: a cell is taken from the job's folder and below, from roots, from the shipped shapes") {
  const TestFolder folder("cell_files");
  folder.write("car/cells/c.json", cell_text);
  folder.write("shop/c.json", cell_text);
  folder.write("shapes/cells/c.json", cell_text);
  folder.write("car/job.json", job_with_cell_file("cells/c.json").dump());
  folder.write("car/shop.json", job_with_cell_file("../shop/c.json").dump());
  folder.write("car/shipped.json", job_with_cell_file("../shapes/cells/c.json").dump());
  const fs::path car = folder.path() / "car", shapes = folder.path() / "shapes";
  const auto read_file = [&](const std::string& name, const std::vector<fs::path>& roots) {
    return survey::read_job(car / name, roots, shapes, small_tables());
  };
  CHECK(read_file("job.json", {}));
  CHECK(read_file("shipped.json", {}));
  CHECK(first_id(read_file("shop.json", {})) == "E403");
  CHECK(read_file("shop.json", {folder.path() / "shop"}));
  CHECK(read_file("shop.json", {folder.path()}));
  CHECK(first_id(read_file("job.json", {folder.path() / "shop"})) == "E403");
  CHECK(first_id(read_file("none.json", {})) == "E401");
  CHECK(first_id(survey::read_job(car, {}, shapes, small_tables())) == "E401");
}

TEST_CASE("files: materials and fasteners from files of their own") {
  const survey::Materials materials = read(sample("material_files.json")).rules.materials;
  CHECK(materials.wall.name == "own sheet");
  CHECK(materials.wall.density_kg_per_m3 == doctest::Approx(2700));
  CHECK(materials.wall.elastic_modulus.value() == doctest::Approx(70'000));
  CHECK(materials.wall.proof_strength.value() == 130);
  CHECK(materials.wall.ultimate_strength.value() == 220);
  CHECK(materials.wall.welded_proof_strength->value() == 80);
  CHECK_FALSE(materials.wall.welded_ultimate_strength);
  CHECK(materials.wall.min_bend_radius_over_thickness == 1.5);
  CHECK(materials.wall.bend_may_crack);
  CHECK(materials.wall.source == "invented");
  CHECK(materials.wall.status == "invented");
  CHECK(materials.strap.name == "EN AW-6061 T6");
  CHECK(materials.hold_down.name == "own sheet");
  CHECK(materials.fasteners.name == "own bolts");
  CHECK(materials.fasteners.ultimate_strength.value() == 820);
  CHECK(materials.fasteners.proof_stress.value() == 590);
}

TEST_CASE("files: a material beside the job's folder needs a root above both") {
  const TestFolder folder("material_files");
  folder.write("car/job.json", job_with_material(R"({"file": "../materials/x.json"})").dump());
  folder.write("materials/x.json", R"({"format": "cellstow-material/1", "name": "x",)"
                                   R"( "density_kg_per_m3": 2700, "elastic_modulus_mpa": 70000,)"
                                   R"( "proof_strength_mpa": 100, "ultimate_strength_mpa": 200})");
  const auto read_with = [&](const std::vector<fs::path>& roots) {
    return survey::read_job(folder.path() / "car" / "job.json", roots, folder.path() / "shapes",
                            small_tables());
  };
  CHECK(first_id(read_with({})) == "E403");
  CHECK(first_id(read_with({folder.path()})) == "accepted");
}

TEST_CASE("files: no link leads out of the allowed folders") {
  const TestFolder folder("links");
  folder.write("outside/c.json", cell_text);
  folder.write("car/inside.json", cell_text);
  folder.write("carpark/c.json", cell_text);
  const fs::path car = folder.path() / "car";
  fs::create_symlink(folder.path() / "outside" / "c.json", car / "link.json");
  fs::create_directory_symlink(folder.path() / "outside", car / "linked");
  fs::create_symlink(car / "inside.json", car / "harmless.json");
  const auto id_for = [&](const std::string& file) {
    return first_id(survey::read_job_text(job_with_cell_file(file).dump(), "job.json", car, {},
                                          folder.path() / "shapes", small_tables()));
  };
  CHECK(id_for("inside.json") == "accepted");
  CHECK(id_for("harmless.json") == "accepted");
  CHECK(id_for((car / "inside.json").string()) == "accepted");
  CHECK(id_for("link.json") == "E403");
  CHECK(id_for("linked/c.json") == "E403");
  CHECK(id_for("../outside/c.json") == "E403");
  CHECK(id_for("../carpark/c.json") == "E403");  // a folder whose name only starts alike
  CHECK(id_for("../car/inside.json") == "accepted");
}

TEST_CASE("files: a job in the working folder needs no folder in its name") {
  const TestFolder folder("working_folder");
  folder.write("job.json", job_with_cell_file("c.json").dump());
  folder.write("c.json", cell_text);
  const fs::path before = fs::current_path();
  fs::current_path(folder.path());
  CHECK(survey::read_job("job.json", {}, folder.path() / "shapes", small_tables()));
  fs::current_path(before);
}

TEST_CASE("files: a byte order mark at the start is no fault") {
  CHECK(survey::read_job_text("\xef\xbb\xbf" + sample("smallest.json").dump(), "job.json", ".", {},
                              ".", small_tables()));
}
