/// Jobs that extend others, read whole: the same as the job written out in full.

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "cellstow/report/write.hpp"
#include "cellstow/survey/read_job.hpp"
#include "tables.hpp"

namespace fs = std::filesystem;
namespace survey = cellstow::survey;
using cellstow::report::job_to_json;
using survey::testing::small_tables;
using survey::testing::tests_folder;
using Json = nlohmann::ordered_json;

namespace {

Json load(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return Json::parse(stream);
}

std::string resolved(const Json& job) {
  const auto read = survey::read_job_text(job.dump(), "job.json", tests_folder() / "accepted", {}, tests_folder() / "no_shapes", small_tables());
  if (!read) FAIL(cellstow::core::to_text(read.error()));
  return job_to_json(*read).dump(2);
}

const Json everything = load(tests_folder() / "accepted" / "everything.json");

Json extending(Json differences) {
  differences["format"] = "cellstow-job/1";
  differences["based_on"] = {{"file", "everything.json"}};
  return differences;
}

}  // namespace

TEST_CASE("based on: a job that changes nothing is the job it is based on") {
  CHECK(resolved(extending(Json::object())) == resolved(everything));
}

TEST_CASE("based on: every value changed alone reads as the job in full with that value") {
  // every number of the job made a little larger, one at a time, as a difference and in full
  int changed = 0;
  const Json flat = everything.flatten();
  for (const auto& [pointer, value] : flat.items()) {
    if (!value.is_number_float() && !value.is_number_integer()) continue;
    const std::size_t list = pointer.find_first_of("0123456789");
    if (list != std::string::npos && pointer[list - 1] == '/') continue;  // in a list: replaced whole, or by name
    Json full = everything;
    full[Json::json_pointer(pointer)] = value.get<double>() * 1.0625;
    Json difference;
    difference[Json::json_pointer(pointer)] = value.get<double>() * 1.0625;
    const auto good = survey::read_job_text(full.dump(), "job.json", tests_folder() / "accepted", {}, tests_folder() / "no_shapes", small_tables());
    if (!good) continue;  // beyond what the reader takes
    CAPTURE(pointer);
    CHECK(resolved(extending(difference)) == resolved(full));
    ++changed;
  }
  CHECK(changed > 60);
}

TEST_CASE("based on: the second car: one hole moved, one wall, another cell, weighed on two axles") {
  Json full = everything;
  full["cavities"][0]["fixings"][0]["at_mm"] = {2031, -381, 331};
  full["cavities"][0]["keep_outs"].erase(0);
  full["cell"] = {{"name", "thinner"}, {"thickness_mm", 50}, {"width_mm", 150}, {"height_mm", 200}, {"mass_kg", 4}};
  full["car"].erase("wheel_loads_kg");
  full["car"]["axle_loads_kg"] = {{"front", 400}, {"rear", 420}};
  full["car"].erase("cg_height_mm");
  full["car"].erase("tilt_test");
  full["car"]["cg_height_mm"] = 480;
  Json cavity = {{"name", everything["cavities"][0]["name"]},
                 {"fixings", {{{"name", everything["cavities"][0]["fixings"][0]["name"]}, {"at_mm", {2031, -381, 331}}}}},
                 {"keep_outs", {{{"name", everything["cavities"][0]["keep_outs"][0]["name"]}, {"left_out", true}}}}};
  const Json differences = {{"cavities", Json::array({cavity})},
                            {"cell", {{"name", "thinner"}, {"thickness_mm", 50}, {"width_mm", 150}, {"height_mm", 200}, {"mass_kg", 4}, {"voltage_v", nullptr}, {"capacity_ah", nullptr}}},
                            {"car", {{"axle_loads_kg", {{"front", 400}, {"rear", 420}}}, {"cg_height_mm", 480}}}};
  Json extended = extending(differences);
  // the base gives its cell in full: what the other cell does not have has to be taken out
  for (const auto& [key, value] : everything["cell"].items())
    if (!full["cell"].contains(key)) extended["cell"][key] = nullptr;
  CHECK(resolved(extended) == resolved(full));
}

TEST_CASE("based on: files named below are taken from the folder of the file that names them") {
  const fs::path folder = fs::path(CELLSTOW_TESTS_DIR) / "survey" / "accepted";
  const std::string job = R"({"format":"cellstow-job/1","based_on":{"file":"accepted/material_files.json"}})";
  const auto below = survey::read_job_text(job, "job.json", folder.parent_path(), {}, tests_folder() / "no_shapes", small_tables());
  REQUIRE_MESSAGE(below, (below ? "" : cellstow::core::to_text(below.error())));
  CHECK(job_to_json(*below).dump(2) == resolved(load(folder / "material_files.json")));
}

TEST_CASE("based on: the resolved job stands alone") {
  const std::string once = resolved(extending(Json::object()));
  CHECK(once.find("based_on") == std::string::npos);
  CHECK(resolved(Json::parse(once)) == once);
}

TEST_CASE("based on: drawings, lists, pictures and scans lie beside the job that names them, not beside the one that extends it") {
  for (const std::string name : {"from_drawing.json", "from_files.json", "scan.json", "tape.json"}) {
    CAPTURE(name);
    const auto alone = survey::read_job(tests_folder() / "accepted" / name, {tests_folder()}, tests_folder() / "no_shapes", small_tables());
    const Json next = {{"format", "cellstow-job/1"}, {"based_on", {{"file", "accepted/" + name}}}};
    const auto extended = survey::read_job_text(next.dump(), "next.json", tests_folder(), {tests_folder()}, tests_folder() / "no_shapes", small_tables());
    REQUIRE(alone);
    if (!extended) FAIL(cellstow::core::to_text(extended.error()));
    CHECK(job_to_json(*extended).dump(2) == job_to_json(*alone).dump(2));
  }
}
