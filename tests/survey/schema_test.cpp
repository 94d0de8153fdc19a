/// The published schemas against the reader: the same keys, the same verdicts where a schema can
/// tell.

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "cellstow/report/write.hpp"
#include "cellstow/survey/read_job.hpp"
#include "keys.hpp"
#include "tables.hpp"

namespace fs = std::filesystem;
namespace survey = cellstow::survey;
using survey::testing::small_tables;
using survey::testing::tests_folder;

namespace {

const fs::path schema_folder = fs::path(CELLSTOW_SHAPES) / "schema";

nlohmann::json load(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return nlohmann::json::parse(stream);
}

class Schema {
 public:
  explicit Schema(const std::string& file) {
    const nlohmann::json json = load(schema_folder / file);
    valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
    parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(json), schema_);
  }

  bool accepts(const nlohmann::json& json, std::string* why = nullptr) const {
    valijson::Validator validator;
    valijson::ValidationResults results;
    const bool good =
        validator.validate(schema_, valijson::adapters::NlohmannJsonAdapter(json), &results);
    valijson::ValidationResults::Error error;
    while (why && results.popError(error)) {
      for (const std::string& step : error.context) *why += step;
      *why += ": " + error.description + "\n";
    }
    return good;
  }

 private:
  valijson::Schema schema_;
};

std::vector<fs::path> files_in(const std::string& folder) {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == ".json") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  return paths;
}

std::set<std::string> lines_of(const fs::path& path) {
  std::ifstream stream(path);
  std::set<std::string> lines;
  for (std::string line; std::getline(stream, line);)
    if (!line.empty() && line[0] != '#') lines.insert(line);
  return lines;
}

std::set<std::string> keys_in_schema(const nlohmann::json& object) {
  std::set<std::string> keys;
  for (const auto& [key, value] : object["properties"].items()) keys.insert(key);
  return keys;
}

void check_described(const nlohmann::json& properties) {
  for (const auto& [key, value] : properties.items()) {
    CAPTURE(key);
    CHECK(value.contains("description"));
  }
}

}  // namespace

TEST_CASE("schema: the reader's keys and the schema's are the same, object by object") {
  const nlohmann::json job = load(schema_folder / "cellstow-job-1.schema.json");
  const std::map<std::string, nlohmann::json> files = {
      {"job", job},
      {"cell_file", load(schema_folder / "cellstow-cell-1.schema.json")},
      {"material_file", load(schema_folder / "cellstow-material-1.schema.json")},
      {"fastener_class_file", load(schema_folder / "cellstow-fastener-class-1.schema.json")}};
  std::set<std::string> objects;
  for (const survey::ObjectKeys& known : survey::known_objects()) {
    const std::string name(known.object);
    CAPTURE(name);
    const nlohmann::json& object =
        files.contains(name) ? files.at(name) : job["definitions"].at(name);
    CHECK(keys_in_schema(object) == std::set<std::string>(known.keys.begin(), known.keys.end()));
    CHECK(object["additionalProperties"] == false);
    check_described(object["properties"]);
    objects.insert(name);
  }
  for (const auto& [name, definition] : job["definitions"].items())
    if (definition.contains("properties")) CHECK(objects.contains(name));
}

TEST_CASE("schema: every accepted sample and its resolved form validate") {
  const Schema schema("cellstow-job-1.schema.json");
  for (const fs::path& sample : files_in((tests_folder() / "accepted").string())) {
    CAPTURE(sample.filename().string());
    std::string why;
    CHECK_MESSAGE(schema.accepts(load(sample), &why), why);
    const auto job =
        survey::read_job(sample, {tests_folder()}, tests_folder() / "no_shapes", small_tables());
    REQUIRE(job);
    const auto resolved = nlohmann::json::parse(cellstow::report::job_to_json(*job).dump());
    why.clear();
    CHECK_MESSAGE(schema.accepts(resolved, &why), why);
  }
}

TEST_CASE("schema: jobs that ship validate and read") {
  const Schema schema("cellstow-job-1.schema.json");
  const auto catalogue = survey::read_catalogue(CELLSTOW_SHAPES);
  REQUIRE(catalogue);
  int jobs = 0;
  for (const auto& entry :
       fs::recursive_directory_iterator(std::string(CELLSTOW_SHAPES) + "/samples")) {
    if (entry.path().extension() != ".json") continue;
    const nlohmann::json json = load(entry.path());
    if (json.value("format", "") != "cellstow-job/1") continue;
    CAPTURE(entry.path().filename().string());
    std::string why;
    CHECK_MESSAGE(schema.accepts(json, &why), why);
    const auto job = survey::read_job(entry.path(), {}, CELLSTOW_SHAPES, *catalogue);
    CHECK_MESSAGE(job, (job ? "" : cellstow::core::to_text(job.error())));
    ++jobs;
  }
  CHECK(jobs > 0);
}

TEST_CASE("schema: cells that ship validate and read") {
  const Schema schema("cellstow-cell-1.schema.json");
  const auto catalogue = survey::read_catalogue(CELLSTOW_SHAPES);
  REQUIRE(catalogue);
  nlohmann::json job = load(tests_folder() / "accepted" / "smallest.json");
  for (const fs::path& cell : files_in(std::string(CELLSTOW_SHAPES) + "/cells")) {
    CAPTURE(cell.filename().string());
    std::string why;
    CHECK_MESSAGE(schema.accepts(load(cell), &why), why);
    job["cell"] = {{"file", "cells/" + cell.filename().string()}};
    const auto read = survey::read_job_text(job.dump(), "job.json", CELLSTOW_SHAPES, {},
                                            CELLSTOW_SHAPES, *catalogue);
    CHECK_MESSAGE(read, (read ? "" : cellstow::core::to_text(read.error())));
  }
}

TEST_CASE("schema: files of materials and fasteners, good ones and faulty ones") {
  const Schema material("cellstow-material-1.schema.json");
  const Schema fasteners("cellstow-fastener-class-1.schema.json");
  const fs::path good = tests_folder() / "accepted" / "materials";
  const fs::path bad = tests_folder() / "refused" / "materials";
  std::string why;
  CHECK_MESSAGE(material.accepts(load(good / "sheet.json"), &why), why);
  CHECK_MESSAGE(fasteners.accepts(load(good / "bolts.json"), &why), why);
  CHECK_FALSE(material.accepts(load(bad / "faulty.json")));
  CHECK_FALSE(material.accepts(load(bad / "bolts.json")));
  CHECK_FALSE(fasteners.accepts(load(bad / "faulty_bolts.json")));
  CHECK_FALSE(fasteners.accepts(load(good / "sheet.json")));
}

TEST_CASE("schema: what a material in full may hold, a material file may hold alike") {
  const nlohmann::json job = load(schema_folder / "cellstow-job-1.schema.json");
  for (const auto& [object, file] :
       {std::pair{"material", "cellstow-material-1.schema.json"},
        std::pair{"fastener_class", "cellstow-fastener-class-1.schema.json"}}) {
    const nlohmann::json schema = load(schema_folder / file);
    for (const auto& [key, value] : job["definitions"][object]["properties"].items()) {
      CAPTURE(key);
      CHECK(schema["properties"][key] == value);
    }
    for (const auto& [name, definition] : schema["definitions"].items())
      CHECK(job["definitions"][name] == definition);
  }
}

TEST_CASE("schema: refuses every refused sample but those listed as beyond a schema") {
  const Schema schema("cellstow-job-1.schema.json");
  const std::set<std::string> beyond = lines_of(tests_folder() / "refused" / "beyond_a_schema.txt");
  std::set<std::string> seen;
  for (const fs::path& sample : files_in((tests_folder() / "refused").string())) {
    const std::string name = sample.stem().string();
    CAPTURE(name);
    std::ifstream stream(sample, std::ios::binary);
    const nlohmann::json json = nlohmann::json::parse(stream, nullptr, false);
    if (json.is_discarded()) continue;  // not JSON: no schema gets to see it
    if (beyond.contains(name)) seen.insert(name);
    CHECK(schema.accepts(json) == beyond.contains(name));
  }
  CHECK(seen == beyond);
}
