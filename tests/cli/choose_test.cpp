/// Choosing a cell, and the rough answer, as their user meets them.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "cli/workplace.hpp"

namespace {

namespace fs = std::filesystem;
using cellstow::test::Run;
using cellstow::test::slurp;
using cellstow::test::Workplace;

const fs::path shapes = fs::path(CELLSTOW_TESTS_DIR).parent_path() / "shapes";
const std::string coupe = (shapes / "samples/coupe.json").string();
const std::string two_cells = " --cells " + (shapes / "cells/lfp-280-alu-72.json").string() + " " + (shapes / "cells/lfp-230-alu-54.json").string();

/// Every file of a folder with its bytes.
std::map<std::string, std::string> bytes_of(const fs::path& folder) {
  std::map<std::string, std::string> files;
  for (const auto& entry : fs::directory_iterator(folder)) files[entry.path().filename().string()] = slurp(entry.path());
  return files;
}

}  // namespace

TEST_CASE("choose: page, table, pictures and splits; the same with one core, two, and what was kept") {
  const Workplace place;
  const Run first = place.run("choose " + coupe + two_cells + " --cores 1 --out " + place.at("a"));
  REQUIRE(first.status == 0);
  CHECK(first.out.find("best one") != std::string::npos);
  for (const char* file : {"choice.html", "choice.csv", "choice-mass.svg", "choice-front-share.svg", "splits.csv"}) {
    CAPTURE(file);
    CHECK(fs::file_size(place.path() / "a" / file) > 100);
  }
  CHECK(place.run("choose " + coupe + two_cells + " --cores 2 --keep " + place.at("kept") + " --out " + place.at("b")).status == 0);
  const Run again = place.run("choose " + coupe + two_cells + " --keep " + place.at("kept") + " --out " + place.at("c"));
  CHECK(again.err.find("0 packings worked out") != std::string::npos);
  CHECK(bytes_of(place.path() / "a") == bytes_of(place.path() / "b"));
  CHECK(bytes_of(place.path() / "a") == bytes_of(place.path() / "c"));
}

TEST_CASE("choose: kept results that are damaged, foreign or for something else are passed over") {
  const Workplace place;
  const std::string call = "choose " + coupe + two_cells + " --json --keep " + place.at("kept") + " --out " + place.at("out");
  const Run first = place.run(call);
  REQUIRE(first.status == 0);
  std::vector<fs::path> entries;
  for (const auto& entry : fs::directory_iterator(place.path() / "kept")) entries.push_back(entry.path());
  std::sort(entries.begin(), entries.end());
  REQUIRE(entries.size() >= 4);
  // One cut short; one with another count and the old hash; one that is another's; one that is no JSON
  const std::string whole = slurp(entries[0]), other = slurp(entries[1]);
  std::ofstream(entries[0]) << whole.substr(0, whole.size() / 2);
  auto forged = nlohmann::ordered_json::parse(other);
  forged["answer"]["cells"] = forged["answer"]["cells"].get<int>() + 5;
  std::ofstream(entries[1]) << forged.dump();
  fs::copy_file(entries[3], entries[2], fs::copy_options::overwrite_existing);
  std::ofstream(entries[3]) << "cells: 99";
  const Run second = place.run(call);
  CHECK(second.out == first.out);
  CHECK(second.err.find("4 packings worked out") != std::string::npos);
  CHECK(slurp(entries[0]) == whole);  // written anew
  CHECK(slurp(entries[1]) == other);
}

TEST_CASE("choose: a changed cell is packed anew, the others are not") {
  const Workplace place;
  fs::create_directory(place.path() / "cells");
  for (const char* name : {"lfp-280-alu-72.json", "lfp-230-alu-54.json"}) fs::copy_file(shapes / "cells" / name, place.path() / "cells" / name);
  const std::string call = "choose " + coupe + " --cells " + place.at("cells") + " --json --keep " + place.at("kept") + " --out " + place.at("out");
  const Run first = place.run(call);
  REQUIRE(first.status == 0);
  auto cell = nlohmann::ordered_json::parse(slurp(place.path() / "cells/lfp-230-alu-54.json"));
  cell["thickness_mm"] = cell["thickness_mm"].get<double>() + 1;
  std::ofstream(place.path() / "cells/lfp-230-alu-54.json") << cell.dump();
  const Run second = place.run(call);
  CHECK(second.out != first.out);
  CHECK(second.err.find(" 0 found kept") == std::string::npos);
  CHECK(second.err.find("0 packings worked out") != 0);
  const Run fresh = place.run("choose " + coupe + " --cells " + place.at("cells") + " --json --out " + place.at("out2"));
  CHECK(fresh.out == second.out);
}

TEST_CASE("choose: the page runs without a network and holds every way in its table") {
  const Workplace place;
  std::ofstream(place.path() / "costs.csv") << "cell,cost_each\n\"LFP 280 Ah, aluminium case 174 x 72 x 207\",90\n\"LFP 230 Ah, aluminium case 174 x 54 x 207\",85.50\n";
  const Run run = place.run("choose " + coupe + two_cells + " --costs " + place.at("costs.csv") + " --json --out " + place.at("out"));
  REQUIRE(run.status == 0);
  const auto json = nlohmann::json::parse(run.out);
  const std::string page = slurp(place.path() / "out/choice.html");
  for (const char* banned : {"http://", "https://", "<img", "<link", "<iframe", " src=", "url(", "@import", "XMLHttpRequest", "fetch(", "Pareto", "optimal"}) {
    CAPTURE(banned);
    std::string rest = page;
    const std::string names = "http://www.w3.org/2000/svg";  // the name of SVG, which nothing fetches
    for (std::size_t at = rest.find(names); at != std::string::npos; at = rest.find(names)) rest.erase(at, names.size());
    CHECK(rest.find(banned) == std::string::npos);
  }
  std::size_t rows = 0;
  for (std::size_t at = page.find("<tr class="); at != std::string::npos; at = page.find("<tr class=", at + 1)) ++rows;
  CHECK(rows >= json["candidates"].size());
  std::set<double> costs;
  for (const auto& c : json["candidates"]) {
    costs.insert(c["cost"].get<double>() / c["cells"].get<double>());
    if (c["standing"] == "beaten") CHECK_FALSE(c["beaten_by"]["how"].get<std::string>().empty());
  }
  CHECK(costs == std::set<double>{85.5, 90});
  CHECK(page.find("cost of cells") != std::string::npos);
  CHECK(page.find("Splitting the cells") != std::string::npos);
}

TEST_CASE("choose: refused input is told whole, and nothing is written") {
  const Workplace place;
  fs::create_directory(place.path() / "empty");
  std::ofstream(place.path() / "costs.csv") << "cell;cost\nLFP 280,cheap\n\"open,3\n";
  const Run run = place.run("choose " + coupe + " --cells " + place.at("empty") + " " + place.at("none.json") + " --costs " + place.at("costs.csv") + " --keep " + place.at("kept") + " --out " + place.at("out"));
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  for (const char* text : {"E406", "E401", "none.json", "#line 1: error E407", "#line 2: error E407", "#line 3: error E407", "5 problems; nothing was written"}) {
    CAPTURE(text);
    CHECK(run.err.find(text) != std::string::npos);
  }
  CHECK_FALSE(fs::exists(place.path() / "out"));
  CHECK_FALSE(fs::exists(place.path() / "kept"));
  const std::string one = (shapes / "cells/lfp-280-alu-72.json").string();
  const Run twice = place.run("choose " + coupe + " --cells " + one + " " + one + " --out " + place.at("out"));
  CHECK(twice.status == 2);
  CHECK(twice.err.find("E111") != std::string::npos);
  std::ofstream(place.path() / "other.csv") << "cell,cost_each\nnobody's cell,3\n";
  CHECK(place.run("choose " + coupe + two_cells + " --costs " + place.at("other.csv") + " --out " + place.at("out")).err.find("nobody's cell") != std::string::npos);
  std::ofstream(place.path() / "file") << "x";
  const Run keep = place.run("choose " + coupe + two_cells + " --keep " + place.at("file/kept") + " --out " + place.at("out"));
  CHECK(keep.status == 2);
  CHECK(keep.err.find("E408") != std::string::npos);
  CHECK_FALSE(fs::exists(place.path() / "out"));
}

TEST_CASE("roughly: text and data from five numbers, with units, rules and their sources") {
  const Workplace place;
  const std::string five = "roughly --range 100 --consumption 158 --car 819 --out-mass 190 --gross 1130";
  const Run text = place.run(five + " --controller 84 132 --litres 220");
  CHECK(text.status == 0);
  for (const char* words : {"16.7 to 21.7 kWh", "LFP 280 Ah", "within plate", "--usable", "common practice", "order nothing on it"}) {
    CAPTURE(words);
    CHECK(text.out.find(words) != std::string::npos);
  }
  const auto json = nlohmann::json::parse(place.run(five + " --json").out);
  CHECK(json["formats"].size() == 13);
  CHECK(json["needed_kwh"][0].get<double>() == doctest::Approx(16.73).epsilon(1e-3));
  // 62.1371 mi = 100 km; 1805.6 lb = 819 kg (NIST SP 811)
  const auto inch = nlohmann::json::parse(place.run("roughly --range '62.1371192 mi' --consumption '15.8 kWh/100km' --car '1805.586 lb' --out-mass 190 --gross 1130 --json").out);
  for (int end : {0, 1}) CHECK(inch["needed_kwh"][end].get<double>() == doctest::Approx(json["needed_kwh"][end].get<double>()).epsilon(1e-3));
  const auto given = nlohmann::json::parse(place.run(five + " --usable 0.5 --json").out);
  CHECK(given["rules"][0]["source"] == "as given");
  CHECK(given["needed_kwh"][0].get<double>() > json["needed_kwh"][0].get<double>());
}

TEST_CASE("roughly: every amount that does not read is told at once") {
  const Workplace place;
  const Run run = place.run("roughly --range abc --consumption '158 kg' --car -3 --out-mass 0 --gross 1e9 --usable 0.9 0.8 --controller 132 84");
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  for (const char* option : {"--range", "--consumption", "--car", "--out-mass", "--gross", "--usable", "--controller"}) {
    CAPTURE(option);
    CHECK(run.err.find("command line#" + std::string(option) + ": error E405") != std::string::npos);
  }
  CHECK(place.run("roughly --range 100").status == 2);
  CHECK(place.run("roughly --range 100 --consumption 158 --car 500 --out-mass 600 --gross 1130").err.find("less than the car's mass") != std::string::npos);
}
