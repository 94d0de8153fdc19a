#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

#include "cellstow/report/write.hpp"
#include "report/fixture.hpp"
#include "report/json_values.hpp"

namespace {

using namespace cellstow;

std::string faults_against_schema(const nlohmann::ordered_json& plan) {
  std::ifstream file(CELLSTOW_SHAPES "/schema/cellstow-plan-1.schema.json");
  const nlohmann::json schema_text = nlohmann::json::parse(file);
  valijson::Schema schema;
  valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
  parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(schema_text), schema);
  const nlohmann::json plain = nlohmann::json::parse(plan.dump());
  valijson::ValidationResults results;
  valijson::Validator validator;
  validator.validate(schema, valijson::adapters::NlohmannJsonAdapter(plain), &results);
  std::string out;
  valijson::ValidationResults::Error error;
  while (results.popError(error)) {
    for (const std::string& part : error.context) out += part;
    out += ": " + error.description + "\n";
  }
  return out;
}

/// Decimals after the point in the number's own text; an exponent counts as too many.
int decimals(const nlohmann::ordered_json& number) {
  const std::string text = number.dump();
  if (text.find('e') != std::string::npos) return 99;
  const std::size_t point = text.find('.');
  return point == std::string::npos ? 0 : static_cast<int>(text.size() - point - 1);
}

void check_decimals(const std::string& key, const nlohmann::ordered_json& value, int& seen) {
  if (value.is_object()) {
    for (const auto& [inner, child] : value.items()) check_decimals(inner, child, seen);
  } else if (value.is_array()) {
    for (const auto& child : value) check_decimals(key, child, seen);
  } else if (value.is_number() && key.ends_with("_mm")) {
    CAPTURE(key);
    CHECK(decimals(value) <= (key == "centre_mm" ? 4 : 3));
    ++seen;
  }
}

}  // namespace

TEST_CASE("plan file: follows its schema") {
  for (const fixture::Case& c : {fixture::two_cavities(), fixture::nasty_names(), fixture::loose_cells()}) {
    CHECK(faults_against_schema(report::plan_to_json(c.job, c.plan)) == "");
  }
}

TEST_CASE("plan file: the schema refuses what it should") {
  const fixture::Case c = fixture::two_cavities();
  nlohmann::ordered_json plan = report::plan_to_json(c.job, c.plan);
  const auto refuses = [&](const char* pointer, const nlohmann::ordered_json& bad) {
    nlohmann::ordered_json changed = plan;
    changed[nlohmann::ordered_json::json_pointer(pointer)] = bad;
    CAPTURE(pointer);
    CHECK(faults_against_schema(changed) != "");
  };
  refuses("/format", "cellstow-plan/2");
  refuses("/cavities/0/boxes/0/z_mm", {312});
  refuses("/cavities/0/boxes/0/cells/3/stance", "sideways");
  refuses("/cavities/0/boxes/0/mass_kg/full", -1);
  refuses("/checks/0/ok", 1);
  refuses("/balance/before/total_kg", "880 kg");
}

TEST_CASE("plan file: lengths are exact and short, unknown numbers are null") {
  const fixture::Case c = fixture::two_cavities();
  const nlohmann::ordered_json plan = report::plan_to_json(c.job, c.plan);
  int seen = 0;
  check_decimals("", plan, seen);
  CHECK(seen > 300);
  CHECK(plan["balance"]["before"]["cg_mm"][2].is_null());
  CHECK(plan["cavities"][1]["readings"]["straight_cells"].is_null());
  CHECK(plan["cavities"][0]["seconds"] == 0);
  CHECK(plan.dump().find("nan") == std::string::npos);
}

TEST_CASE("plan file: every micrometre prints with at most three decimals and reads back exactly") {
  std::int64_t um = -9'999'999;
  int wrong = 0;
  for (int i = 0; i < 200'000; ++i, um += 99'991) {
    if (um > 9'999'999) um -= 19'999'997;
    const auto json = report::mm(core::Length::from_um(um));
    const bool same = std::llround(nlohmann::json::parse(json.dump()).get<double>() * 1000) == um;
    wrong += decimals(json) > 3 || !same;
  }
  CHECK(wrong == 0);
}

TEST_CASE("plan file: centre and size give the faces to the micrometre") {
  fixture::Case c = fixture::two_cavities();
  packing::PlacedCell& cell = c.plan.cavities[0].boxes[0].box.layout.cells[0];
  cell.body.high.x = core::Length::from_um(cell.body.low.x.um() + 71'001);
  const auto plan = report::plan_to_json(c.job, c.plan);
  const auto& out = plan["cavities"][0]["boxes"][0]["cells"][0];
  const double centre = out["centre_mm"][0], size = out["size_mm"][0];
  CHECK(std::llround((centre - size / 2) * 1e6) == cell.body.low.x.um() * 1000);
  CHECK(std::llround((centre + size / 2) * 1e6) == cell.body.high.x.um() * 1000);
}

TEST_CASE("plan file: what the contract promises is there") {
  const fixture::Case c = fixture::two_cavities();
  const auto plan = report::plan_to_json(c.job, c.plan);
  CHECK(plan["format"] == "cellstow-plan/1");
  CHECK(plan["program"].get<std::string>() == "cellstow " CELLSTOW_VERSION);
  const auto& box = plan["cavities"][0]["boxes"][0];
  CHECK(box["heading_deg"] == 0);
  CHECK(box["cells"].size() == 18);
  CHECK(box["cells"][0]["centre_mm"] == nlohmann::ordered_json({2591.5, -193, 448}));
  CHECK(box["cells"][0]["size_mm"] == nlohmann::ordered_json({71, 182, 260}));
  CHECK(box["fixings_used"].size() == 4);
  CHECK(box["fixings_not_used"][1]["why"] == "marked never");
  CHECK(plan["wiring"]["window"]["lowest"] == 26);
  CHECK(plan["balance"]["full"]["rear_kg"] == 726);
  CHECK(plan["checks"][0]["ok"] == false);
  CHECK(plan["splits"][0]["chosen"] == true);
}

TEST_CASE("plan file: same input, same bytes") {
  const fixture::Case a = fixture::two_cavities(), b = fixture::two_cavities();
  CHECK(report::plan_to_json(a.job, a.plan).dump() == report::plan_to_json(b.job, b.plan).dump());
}
