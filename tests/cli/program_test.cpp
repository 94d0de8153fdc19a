/// The program as its user meets it: exit status, what is written where, nothing half done.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <string>

#include "cli/workplace.hpp"

namespace {

namespace fs = std::filesystem;
using cellstow::test::Run;
using cellstow::test::slurp;
using cellstow::test::Workplace;

const fs::path samples = fs::path(CELLSTOW_TESTS_DIR).parent_path() / "shapes/samples";

}  // namespace

TEST_CASE("program: every demo plans, passes its own check, and writes all its files") {
  for (const char* name : {"coupe", "estate", "van", "saloon"}) {
    CAPTURE(name);
    const Workplace place;
    const fs::path out = place.path() / "out";
    const Run run = place.run("plan " + (samples / (std::string(name) + ".json")).string() + " --out " + out.string());
    CHECK((run.status == 0 || run.status == 1));
    CHECK(std::count(run.out.begin(), run.out.end(), '\n') <= 26);
    for (const char* file : {"plan.json", "report.html", "lists/cut_list.csv", "lists/hole_schedule.csv", "lists/weights.csv"}) {
      CAPTURE(file);
      CHECK(fs::file_size(out / file) > 100);
    }
    const Run audit = place.run("audit " + (out / "plan.json").string());
    CHECK(audit.status == 0);
    const auto plan = nlohmann::json::parse(slurp(out / "plan.json"));
    CHECK(plan["format"] == "cellstow-plan/1");
    CHECK(plan["totals"]["cells"].get<int>() > 10);
    // Exit 1 says that some check does not hold, and only then.
    bool failing = false;
    for (const auto& check : plan["checks"]) failing |= !check["ok"].get<bool>();
    CHECK((run.status == 1) == failing);
  }
}

TEST_CASE("program: the saloon is measured in five ways, and nothing of how is lost") {
  const Workplace place;
  const fs::path out = place.path() / "out";
  CHECK(place.run("plan " + (samples / "saloon.json").string() + " --quiet --out " + out.string()).status == 0);
  const auto plan = nlohmann::json::parse(slurp(out / "plan.json"));
  std::map<std::string, int> ways;
  for (const auto& cavity : plan["job"]["cavities"]) {
    for (const auto& section : cavity["sections"]["at"]) {
      ++ways[section["measured"]["by"].get<std::string>()];
      CHECK(section["measured"]["corners"].size() == section["outline_mm"].size());
    }
  }
  CHECK(ways == std::map<std::string, int>{{"drawing", 3}, {"list", 1}, {"picture", 1}, {"scan", 3}, {"tape", 1}});
  // the same job from its own plan: the corners that came of it, without drawing, list, picture or scan beside it
  const fs::path alone = place.path() / "alone.json";
  std::ofstream(alone) << plan["job"].dump();
  const Run again = place.run("pack " + alone.string());
  CHECK(again.status == 0);
  const Run first = place.run("pack " + (samples / "saloon.json").string());
  CHECK(nlohmann::json::parse(again.out)["cavities"] == nlohmann::json::parse(first.out)["cavities"]);
  CHECK(place.run("sheet " + (samples / "saloon.json").string() + " --out " + (place.path() / "sheet").string()).status == 0);
}

TEST_CASE("program: the same job twice gives the same bytes in every file") {
  const Workplace place;
  for (const char* out : {"a", "b"}) {
    place.run("plan " + (samples / "van.json").string() + " --quiet --out " + (place.path() / out).string());
  }
  int files = 0;
  for (const auto& entry : fs::recursive_directory_iterator(place.path() / "a")) {
    if (!entry.is_regular_file()) continue;
    ++files;
    CAPTURE(entry.path().string());
    CHECK(slurp(entry.path()) == slurp(place.path() / "b" / fs::relative(entry.path(), place.path() / "a")));
  }
  CHECK(files > 10);
}

TEST_CASE("program: bad input writes nothing and says everything on standard error") {
  const Workplace place;
  std::ofstream(place.path() / "bad.json") << R"({"format": "cellstow-job/1", "cavitys": []})";
  const Run run = place.run("plan " + (place.path() / "bad.json").string() + " --out " + (place.path() / "out").string());
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(run.err.find("cavities") != std::string::npos);
  CHECK(run.err.find("cell") != std::string::npos);
  CHECK_FALSE(fs::exists(place.path() / "out"));
  CHECK(place.run("plan missing.json --out x").status == 2);
  CHECK(place.run("plan").status == 2);
  CHECK(place.run("").status == 2);
  CHECK(place.run("audit missing.json").status == 2);
}

TEST_CASE("program: a plan that was tampered with is found out") {
  const Workplace place;
  const Run pack = place.run("pack " + (samples / "coupe.json").string());
  REQUIRE((pack.status == 0 || pack.status == 1));
  auto plan = nlohmann::json::parse(pack.out);
  auto& centre = plan["cavities"][0]["boxes"][0]["cells"][0]["centre_mm"][0];
  centre = centre.get<double>() + 0.001;
  std::ofstream(place.path() / "plan.json") << plan.dump();
  CHECK(place.run("audit " + (place.path() / "plan.json").string()).status == 1);
}

namespace {

/// A job based on a demo, in a folder of its own.
std::string based(const Workplace& place, const std::string& demo, const std::string& differences) {
  const fs::path file = place.path() / (demo + "-based.json");
  std::ofstream(file) << R"({"format": "cellstow-job/1", "based_on": {"file": ")" << (samples / (demo + ".json")).string() << "\"}" << differences << "}";
  return file.string() + " --root / ";
}

}  // namespace

TEST_CASE("program: a job compared with itself differs in nothing; a moved hole is found with its distance") {
  const Workplace place;
  const std::string coupe = (samples / "coupe.json").string();
  const Run same = place.run("compare " + coupe + " " + coupe);
  CHECK(same.status == 0);
  CHECK(same.out.find("Nothing differs.") != std::string::npos);
  const std::string other = based(place, "coupe", R"(, "cavities": [{"name": "front trunk", "fixings": [{"name": "F1", "at_mm": [-107, -369, 324]}]}])");
  const Run moved = place.run("compare " + coupe + " " + other + "--json");
  REQUIRE(moved.status == 1);
  const auto found = nlohmann::json::parse(moved.out);
  CHECK_FALSE(found["same"].get<bool>());
  REQUIRE(found["holes"].size() == 1);
  CHECK(found["holes"][0]["distance_mm"] == 7);  // 2, 3 and 6
  CHECK(found["sections"].empty());
  CHECK(found["values"].empty());
}

TEST_CASE("program: two revisions, one of them a plan file: boxes and parts by mark, page and tables into a folder") {
  const Workplace place;
  const std::string coupe = (samples / "coupe.json").string();
  place.run("plan " + coupe + " --quiet --out " + (place.path() / "b").string());
  const std::string plan = (place.path() / "b" / "plan.json").string();
  const Run same = place.run("compare " + plan + " " + coupe + " --plan");
  CHECK(same.status == 0);
  const Run run = place.run("compare " + plan + " " + based(place, "coupe", R"(, "revision": "C", "rules": {"wall_mm": 4})") + " --plan --quiet --out " + (place.path() / "out").string());
  CHECK(run.status == 1);
  CHECK(run.out.empty());
  CHECK(slurp(place.path() / "out" / "compare.html").find("Parts that differ, by mark") != std::string::npos);
  CHECK(slurp(place.path() / "out" / "lists" / "parts.csv").find("x 4 mm flat") != std::string::npos);
  CHECK(slurp(place.path() / "out" / "lists" / "values.csv").find("\"wall, mm\",3,4") != std::string::npos);
}

TEST_CASE("program: bad input to a comparison: the faults of both, and nothing written") {
  const Workplace place;
  std::ofstream(place.path() / "bad.json") << R"({"format": "cellstow-job/1", "cavitys": []})";
  std::ofstream(place.path() / "plan.json") << R"({"format": "cellstow-plan/1", "job": {}})";
  const Run run = place.run("compare " + (place.path() / "bad.json").string() + " " + (place.path() / "plan.json").string() + " --out " + (place.path() / "out").string());
  CHECK(run.status == 2);
  CHECK(run.err.find("bad.json#/cavitys") != std::string::npos);
  CHECK(run.err.find("plan.json") != std::string::npos);
  CHECK_FALSE(fs::exists(place.path() / "out"));
  CHECK(place.run("compare " + (samples / "coupe.json").string() + " " + (place.path() / "none.json").string()).status == 2);
  CHECK(place.run("compare " + (samples / "coupe.json").string()).status == 2);
}

TEST_CASE("program: a box for the space that two cars have in common goes into either") {
  const Workplace place;
  const std::string common = R"(, "cavities": [{"name": "front trunk", "sections": {"between": "common"}}])";
  const std::string first = based(place, "coupe", common), second = based(place, "coupe-second-car", common);
  const fs::path job = place.path() / "both.json";
  // beside what an earlier run left there by its own list
  const fs::path kept = place.path() / "report.html", list = place.path() / "files.txt";
  std::ofstream(kept) << "kept";
  std::ofstream(list) << "report.html\nfiles.txt\n";
  CHECK(place.run("compare " + first + second + "--quiet --common-job " + job.string()).status == 1);
  CHECK(slurp(kept) == "kept");
  CHECK(fs::exists(list));
  const auto plan = nlohmann::json::parse(place.run("pack " + job.string()).out);
  CHECK(plan["totals"]["cells"].get<int>() > 20);
  for (const std::string& car : {first, second}) {
    const auto own = nlohmann::json::parse(place.run("pack " + car).out);
    auto placed = plan;
    for (std::size_t i = 0; i < 2; ++i)
      for (const char* key : {"sections", "keep_outs", "way_in"}) placed["job"]["cavities"][i][key] = own["job"]["cavities"][i][key];
    std::ofstream(place.path() / "placed.json") << placed.dump();
    const Run audit = place.run("audit " + (place.path() / "placed.json").string());
    CHECK(audit.status == 0);
    CHECK(audit.out.find("0 do not hold") != std::string::npos);
    // and each car alone holds at least as many
    CHECK(own["totals"]["cells"].get<int>() >= plan["totals"]["cells"].get<int>());
  }
  const Run straight = place.run("compare " + (samples / "coupe.json").string() + " " + (samples / "coupe-second-car.json").string() + " --common-job " + (place.path() / "no.json").string());
  CHECK(straight.status == 2);
  CHECK(straight.err.find("E255") != std::string::npos);
  CHECK_FALSE(fs::exists(place.path() / "no.json"));
}

TEST_CASE("program: help and version") {
  const Workplace place;
  const Run help = place.run("--help");
  CHECK(help.status == 0);
  for (const char* word : {"plan", "pack", "audit"}) CHECK(help.out.find(word) != std::string::npos);
  const Run version = place.run("--version");
  CHECK(version.status == 0);
  CHECK(version.out.rfind("cellstow ", 0) == 0);
}

TEST_CASE("program: the README shows what the demo really prints") {
  const Workplace place;
  const Run run = place.run("plan " + (samples / "coupe.json").string() + " --out " + (place.path() / "out").string());
  const std::string summary = run.out.substr(0, run.out.find("Report: "));
  REQUIRE(summary.size() > 200);
  const std::string readme = slurp(fs::path(CELLSTOW_TESTS_DIR).parent_path() / "README.md");
  CHECK(readme.find(summary) != std::string::npos);
}

TEST_CASE("program: a sheet of what is to be measured, and its filled list back into the job") {
  const Workplace place;
  const fs::path job = place.path() / "job.json", out = place.path() / "sheet", filled = place.path() / "filled.csv", next = place.path() / "next.json";
  std::ofstream(job) << R"({"format": "cellstow-job/1", "cavities": [{"name": "well", "sections": {"across": "x", "at": [{"station_mm": 2300, "tape": {
    "side": "below", "datums": [{"name": "D1", "at_mm": [-250, 700]}, {"name": "D2", "at_mm": [250, 700]}],
    "points": [{"name": "a", "from_mm": {"D1": null, "D2": 400}}, {"name": "b", "from_mm": {"D1": 400, "D2": 300}}, {"name": "c", "from_mm": {"D1": 577, "D2": 513}}]}}]}}]})";
  const Run sheet = place.run("sheet " + job.string() + " --out " + out.string());
  CHECK(sheet.status == 0);
  CHECK(sheet.out.find("Nothing checks the readings of points b and c") != std::string::npos);
  CHECK(fs::exists(out / "sheet.html"));
  const std::string list = slurp(out / "sheet.csv");
  const std::string row = "1,well,x 2300,D1,a,,,";
  REQUIRE(list.find(row) != std::string::npos);
  // the next car of the model: the same points from the same datums
  const fs::path second = place.path() / "second.json";
  std::ofstream(second) << R"({"format": "cellstow-job/1", "based_on": {"file": "job.json"}})";
  CHECK(place.run("sheet " + second.string() + " --out " + (place.path() / "again").string()).status == 0);
  CHECK(slurp(place.path() / "again" / "sheet.csv") == list);
  std::ofstream(filled) << std::string(list).replace(list.find(row), row.size(), "1,well,x 2300,D1,a,30O,,");
  const Run refused = place.run("enter " + job.string() + " " + filled.string() + " --out " + next.string());
  CHECK(refused.status == 2);
  CHECK(refused.err.find("filled.csv#line 2: error E109") != std::string::npos);
  CHECK_FALSE(fs::exists(next));
  std::ofstream(filled) << std::string(list).replace(list.find(row), row.size(), "1,well,x 2300,D1,a,11 13/16,in,");
  const Run entered = place.run("enter " + job.string() + " " + filled.string() + " --out " + next.string());
  CHECK(entered.status == 0);
  CHECK(entered.out.starts_with("1 reading entered\n"));
  std::string expected = slurp(job);
  expected.replace(expected.find("null"), 4, "\"11 13/16 in\"");
  CHECK(slurp(next) == expected);
  CHECK(place.run("enter " + job.string() + " none.csv --out " + next.string()).status == 2);
  CHECK(place.run("sheet " + (samples / "van.json").string() + " --out " + (place.path() / "none").string()).status == 2);
  CHECK_FALSE(fs::exists(place.path() / "none"));
}
