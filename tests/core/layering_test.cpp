/// The stages' order, read from the includes: headers do not need linking, so the linker alone cannot tell.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <string>

namespace {

namespace fs = std::filesystem;

const fs::path root = fs::path(CELLSTOW_TESTS_DIR).parent_path();

/// What each stage may include; "survey" stands for its value types, which every later stage reads.
const std::map<std::string, std::set<std::string>> allowed = {
    {"core", {}},
    {"geometry", {"core"}},
    {"measuring", {"core", "geometry"}},
    {"survey", {"core", "measuring"}},
    {"region", {"core", "geometry", "survey"}},
    {"packing", {"core", "geometry", "survey", "region"}},
    {"box", {"core", "geometry", "survey", "packing"}},
    {"restraint", {"core", "geometry", "survey", "region", "packing", "box"}},
    {"way_in", {"core", "geometry", "survey", "region", "packing", "box"}},
    {"limits", {"core", "geometry", "survey", "region", "packing", "box", "wiring"}},
    {"differences", {"core", "survey", "restraint"}},
    {"wiring", {"core", "survey", "packing", "box"}},
    {"fabrication", {"core", "geometry", "survey", "packing", "box", "restraint"}},
    {"balance", {"core", "survey"}},
    {"plan", {"core", "geometry", "survey", "region", "packing", "box", "restraint", "way_in", "fabrication", "limits", "wiring", "balance"}},
    {"choosing", {"core", "geometry", "survey", "region", "packing", "box", "wiring", "balance", "plan"}},
    {"report", {"core", "geometry", "survey", "packing", "box", "restraint", "way_in", "fabrication", "limits", "wiring", "balance", "plan", "choosing", "differences"}},
    {"audit", {"core"}},
};

/// Stages named in #include "cellstow/<stage>/..." lines of one file.
std::set<std::string> stages_included(const fs::path& file) {
  std::set<std::string> stages;
  std::ifstream in(file);
  for (std::string line; std::getline(in, line);) {
    const std::string start = "#include \"cellstow/";
    if (line.rfind(start, 0) != 0) continue;
    stages.insert(line.substr(start.size(), line.find('/', start.size()) - start.size()));
  }
  return stages;
}

bool mentions(const fs::path& file, const std::string& text) {
  std::ifstream in(file);
  for (std::string line; std::getline(in, line);) {
    if (line.find(text) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("layering: every stage includes earlier stages only") {
  int files = 0;
  for (const auto& [stage, may] : allowed) {
    for (const fs::path& folder : {root / "include/cellstow" / stage, root / "src" / stage}) {
      REQUIRE(fs::is_directory(folder));
      for (const auto& entry : fs::recursive_directory_iterator(folder)) {
        const std::string extension = entry.path().extension().string();
        if (extension != ".cpp" && extension != ".hpp") continue;
        ++files;
        CAPTURE(entry.path().string());
        for (const std::string& included : stages_included(entry.path())) {
          CAPTURE(included);
          CHECK((included == stage || may.count(included) == 1));
        }
      }
    }
  }
  CHECK(files > 60);
}

TEST_CASE("layering: only survey, report and audit know JSON") {
  for (const auto& [stage, may] : allowed) {
    if (stage == "survey" || stage == "report" || stage == "audit") continue;
    for (const fs::path& folder : {root / "include/cellstow" / stage, root / "src" / stage}) {
      for (const auto& entry : fs::recursive_directory_iterator(folder)) {
        if (!entry.is_regular_file()) continue;
        CAPTURE(entry.path().string());
        CHECK_FALSE(mentions(entry.path(), "nlohmann"));
      }
    }
  }
}

/// Memories that are only asked whether they know a key; their order never shows. See the test below.
const std::set<std::string> only_looked_up = {"pallet_front.hpp", "bay_front.hpp", "pallet_pieces.hpp"};

TEST_CASE("layering: no clock and no unseeded randomness in the computation") {
  for (const auto& [stage, may] : allowed) {
    if (stage == "report") continue;  // names its temporary folders
    for (const auto& entry : fs::recursive_directory_iterator(root / "src" / stage)) {
      if (!entry.is_regular_file()) continue;
      CAPTURE(entry.path().string());
      for (const char* word : {"<chrono>", "random_device", "rand()", "<ctime>", "unordered_"}) {
        CAPTURE(word);
        if (word == std::string("unordered_") && only_looked_up.contains(entry.path().filename().string())) continue;
        CHECK_FALSE(mentions(entry.path(), word));
      }
    }
  }
}

TEST_CASE("layering: hashed memories are never walked through") {
  for (const auto& entry : fs::directory_iterator(root / "src" / "packing")) {
    CAPTURE(entry.path().string());
    for (const char* walk : {": seen_)", ": ids_)", ": known_)", "seen_.begin()", "ids_.begin()"}) {
      CHECK_FALSE(mentions(entry.path(), walk));
    }
  }
}
