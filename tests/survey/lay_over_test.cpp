/// One tree laid over another: where JSON Merge Patch has the word, against its published examples and an independent
/// implementation; where a job departs from it, against what docs/job-file.md says.

#include "lay_over.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace cellstow::survey;

namespace {

JobFile file(const char* name, const std::string& text) {
  ProblemLog log(name);
  const auto tree = parse_strict(text, log);
  REQUIRE(tree);
  return {*tree, std::move(log)};
}

struct Result {
  Json tree;
  std::vector<std::string> upper_ids;
  Origins origins;
};

Result lay(const std::string& lower, const std::string& upper) {
  std::vector<JobFile> chain;
  chain.push_back(file("upper.json", upper));
  chain.push_back(file("lower.json", lower));
  const Laid laid = lay_together(chain);
  std::vector<std::string> ids;
  for (const auto& problem : chain[0].log.in_file_order()) ids.push_back(problem.id + " " + problem.pointer);
  CHECK(chain[1].log.empty());
  return {laid.tree, ids, laid.origins};
}

Json json(const std::string& text) { return Json::parse(text); }

}  // namespace

TEST_CASE("lay over: the published examples of JSON Merge Patch that a job can meet") {
  // RFC 7396, appendix A (from memory) and section 3; rows whose target is no object, or whose patch is no object, cannot
  // come up: the top of a job file is always an object
  struct Row { const char *original, *patch, *result; };
  const Row rows[] = {
      {R"({"a":"b"})", R"({"a":"c"})", R"({"a":"c"})"},
      {R"({"a":"b"})", R"({"b":"c"})", R"({"a":"b","b":"c"})"},
      {R"({"a":"b"})", R"({"a":null})", R"({})"},
      {R"({"a":"b","b":"c"})", R"({"a":null})", R"({"b":"c"})"},
      {R"({"a":["b"]})", R"({"a":"c"})", R"({"a":"c"})"},
      {R"({"a":"c"})", R"({"a":["b"]})", R"({"a":["b"]})"},
      {R"({"a":[{"b":"c"}]})", R"({"a":[1]})", R"({"a":[1]})"},
      {R"({"e":null})", R"({"a":1})", R"({"e":null,"a":1})"},
      {R"({"title":"Goodbye!","author":{"givenName":"John","familyName":"Doe"},"tags":["example","sample"],"content":"This will be unchanged"})",
       R"({"title":"Hello!","phoneNumber":"+01-123-456-7890","author":{"familyName":null},"tags":["example"]})",
       R"({"title":"Hello!","author":{"givenName":"John"},"tags":["example"],"content":"This will be unchanged","phoneNumber":"+01-123-456-7890"})"}};
  for (const Row& row : rows) {
    CAPTURE(row.patch);
    const Result got = lay(row.original, row.patch);
    CHECK(got.tree == json(row.result));
    CHECK(got.upper_ids.empty());
  }
}

TEST_CASE("lay over: where the published examples take out what is not there, a job is told so") {
  const Result got = lay(R"({"a":{"b":"c"}})", R"({"a":{"b":"d","c":null}})");  // RFC 7396, appendix A
  CHECK(got.tree == json(R"({"a":{"b":"d"}})"));
  CHECK(got.upper_ids == std::vector<std::string>{"E252 /a/c"});
}

namespace {

/// Objects of neutral keys, so that nothing of the format plays a part.
Json random_tree(std::mt19937& random, int depth) {
  const auto pick = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  const int kind = pick(depth > 0 ? 5 : 3);
  if (kind == 0) return pick(100);
  if (kind == 1) return "t" + std::to_string(pick(9));
  if (kind == 2) return Json::array({pick(9), "l"});
  Json out = Json::object();
  for (int i = pick(4); i > 0; --i) out[std::string(1, static_cast<char>('p' + pick(5)))] = random_tree(random, depth - 1);
  return out;
}

/// Takes out some keys that `tree` has.
void take_out_some(std::mt19937& random, const Json& tree, Json& patch) {
  for (const auto& [key, value] : tree.items()) {
    if (random() % 4 == 0)
      patch[key] = nullptr;
    else if (value.is_object() && patch.contains(key) && patch[key].is_object())
      take_out_some(random, value, patch[key]);
  }
}

Json object_of(std::mt19937& random) {
  Json out = Json::object();
  for (const char* key : {"p", "q", "r", "s"}) out[key] = random_tree(random, 4);
  return out;
}

}  // namespace

TEST_CASE("lay over: 2000 random trees as the JSON library's own merge patch lays them") {
  std::mt19937 random(7396);
  int took_out = 0;
  for (int i = 0; i < 2000; ++i) {
    const Json lower = object_of(random);
    Json upper = object_of(random);
    take_out_some(random, lower, upper);
    took_out += upper.dump().find("null") != std::string::npos;
    Json expected = lower;
    expected.merge_patch(upper);
    const Result got = lay(lower.dump(), upper.dump());
    REQUIRE(got.upper_ids.empty());
    // equal as JSON means it: the order of keys does not count
    REQUIRE(nlohmann::json::parse(got.tree.dump()) == nlohmann::json::parse(expected.dump()));
  }
  CHECK(took_out > 1000);
}

TEST_CASE("lay over: lists of named things go entry by entry, in the order of the lower file") {
  const Result got = lay(
      R"({"fixings":[{"name":"T1","use":"carry","thread":"M8"},{"name":"T2","thread":"M8"},{"name":"T3","thread":"M8"}]})",
      R"({"fixings":[{"name":"T4","thread":"M6"},{"name":"T3","use":"never"},{"name":"T2","left_out":true},{"name":"T1","use":null}]})");
  CHECK(got.upper_ids.empty());
  CHECK(got.tree ==
        json(R"({"fixings":[{"name":"T1","thread":"M8"},{"name":"T3","thread":"M8","use":"never"},{"name":"T4","thread":"M6"}]})"));
  CHECK(origin_of(got.origins, "/fixings/0/thread").file == 1);
  CHECK(origin_of(got.origins, "/fixings/1/thread").pointer == "/fixings/2/thread");
  CHECK(origin_of(got.origins, "/fixings/1/use").file == 0);
  CHECK(origin_of(got.origins, "/fixings/1/use").pointer == "/fixings/1/use");
  CHECK(origin_of(got.origins, "/fixings/2/thread").pointer == "/fixings/0/thread");
}

TEST_CASE("lay over: sections are told apart by station, whatever unit it is written in") {
  const Result got = lay(R"({"sections":{"across":"z","at":[{"station_mm":330,"outline_mm":[1]},{"station_mm":500,"outline_mm":[2]}]}})",
                         R"({"sections":{"at":[{"station_mm":"33 cm","outline_mm":[3]},{"station_mm":500,"left_out":true}]}})");
  CHECK(got.upper_ids.empty());
  CHECK(got.tree == json(R"({"sections":{"across":"z","at":[{"station_mm":"33 cm","outline_mm":[3]}]}})"));
}

TEST_CASE("lay over: an empty list of named things changes nothing, any other list is replaced whole") {
  CHECK(lay(R"({"seats":[{"name":"driver"}]})", R"({"seats":[]})").tree == json(R"({"seats":[{"name":"driver"}]})"));
  CHECK(lay(R"({"bend_tests":[1,2]})", R"({"bend_tests":[]})").tree == json(R"({"bend_tests":[]})"));
}

TEST_CASE("lay over: null is the wish for as many cells as fit, and stays") {
  CHECK(lay(R"({"cells_wanted":12})", R"({"cells_wanted":null})").tree == json(R"({"cells_wanted":null})"));
  CHECK(lay(R"({"name":"well"})", R"({"cells_wanted":null})").upper_ids.empty());
}

TEST_CASE("lay over: another way of giving a thing takes the place of the one below") {
  struct Row { const char *lower, *upper, *result; };
  const Row rows[] = {
      {R"({"car":{"wheel_loads_kg":{"front_left":1}}})", R"({"car":{"axle_loads_kg":{"front":2}}})", R"({"car":{"axle_loads_kg":{"front":2}}})"},
      {R"({"car":{"tilt_test":{"rise_mm":4}}})", R"({"car":{"cg_height_mm":500}})", R"({"car":{"cg_height_mm":500}})"},
      {R"({"car":{"tilt_test":{"rise_mm":4,"raised":"rear"}}})", R"({"car":{"tilt_test":{"rise_mm":5}}})", R"({"car":{"tilt_test":{"rise_mm":5,"raised":"rear"}}})"},
      {R"({"cell":{"file":"a.json"}})", R"({"cell":{"name":"b","mass_kg":3}})", R"({"cell":{"name":"b","mass_kg":3}})"},
      {R"({"cell":{"name":"b","mass_kg":3}})", R"({"cell":{"file":"a.json"}})", R"({"cell":{"file":"a.json"}})"},
      {R"({"cell":{"name":"b","mass_kg":3}})", R"({"cell":{"mass_kg":4}})", R"({"cell":{"name":"b","mass_kg":4}})"},
      {R"({"keep_outs":[{"name":"k","box_mm":[1],"kind":"soft"}]})", R"({"keep_outs":[{"name":"k","cylinder_mm":{}}]})", R"({"keep_outs":[{"name":"k","kind":"soft","cylinder_mm":{}}]})"},
      {R"({"rules":{"load_cases":[1],"load_case_set":{"name":"n"}}})", R"({"rules":{"load_cases":"usual"}})", R"({"rules":{"load_cases":"usual"}})"},
      {R"({"sections":{"at":[{"station_mm":1,"outline_mm":[1],"measured":{"by":"tape"}}]}})", R"({"sections":{"at":[{"station_mm":1,"outline_mm":[2]}]}})",
       R"({"sections":{"at":[{"station_mm":1,"outline_mm":[2]}]}})"},
      {R"({"sections":{"at":[{"station_mm":1,"outline_mm":[1],"measured":{"by":"tape"}}]}})", R"({"sections":{"at":[{"station_mm":1,"measured":{"by":"scan"}}]}})",
       R"({"sections":{"at":[{"station_mm":1,"outline_mm":[1],"measured":{"by":"scan"}}]}})"},
      {R"({"sections":{"at":[{"station_mm":1,"outline_mm":[1]}]}})", R"({"sections":{"at":[{"station_mm":1,"tape":{"nails":[1]}}]}})",
       R"({"sections":{"at":[{"station_mm":1,"tape":{"nails":[1]}}]}})"},
      {R"({"sections":{"at":[{"station_mm":1,"picture":{"scale":1}}]}})", R"({"sections":{"at":[{"station_mm":1,"outline_mm":[1]}]}})",
       R"({"sections":{"at":[{"station_mm":1,"outline_mm":[1]}]}})"},
      {R"({"sections":{"across":"z","at":[{"station_mm":1}]}})", R"({"sections":{"from_scan":{"file":"s.stl"}}})", R"({"sections":{"across":"z","from_scan":{"file":"s.stl"}}})"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.upper);
    const Result got = lay(row.lower, row.upper);
    CHECK(got.tree == json(row.result));
    CHECK(got.upper_ids.empty());
  }
}

TEST_CASE("lay over: three files, each value from where it stands") {
  std::vector<JobFile> chain;
  chain.push_back(file("c.json", R"({"based_on":{"file":"b.json"},"fixings":[{"name":"B","left_out":true}],"rules":{"lid_mm":1}})"));
  chain.push_back(file("b.json", R"({"based_on":{"file":"a.json"},"fixings":[{"name":"C"},{"name":"A","use":"never"}],"rules":{"floor_mm":2}})"));
  chain.push_back(file("a.json", R"({"fixings":[{"name":"B"},{"name":"A","thread":"M8"}],"rules":{"wall_mm":3}})"));
  const Laid laid = lay_together(chain);
  CHECK(laid.tree == json(R"({"fixings":[{"name":"A","thread":"M8","use":"never"},{"name":"C"}],"rules":{"wall_mm":3,"floor_mm":2,"lid_mm":1}})"));
  const auto stands = [&](const char* pointer) {
    const Origin origin = origin_of(laid.origins, pointer);
    return std::to_string(origin.file) + " " + origin.pointer;
  };
  CHECK(stands("/rules/wall_mm") == "2 /rules/wall_mm");
  CHECK(stands("/rules/floor_mm") == "1 /rules/floor_mm");
  CHECK(stands("/rules/lid_mm") == "0 /rules/lid_mm");
  CHECK(stands("/fixings/0/thread") == "2 /fixings/1/thread");
  CHECK(stands("/fixings/0/use") == "1 /fixings/1/use");
  CHECK(stands("/fixings/1/name") == "1 /fixings/0/name");
}
