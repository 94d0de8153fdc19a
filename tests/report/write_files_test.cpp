#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <variant>

#include "cellstow/report/write.hpp"
#include "report/fixture.hpp"
#include "report/outside.hpp"

namespace {

using namespace cellstow;
namespace fs = std::filesystem;

using Files = std::map<std::string, std::string>;

std::set<std::string> everything_under(const fs::path& folder) {
  std::set<std::string> out;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    out.insert(fs::relative(entry.path(), folder).string());
  }
  return out;
}

}  // namespace

TEST_CASE("write files: a new folder holds exactly the files, and nothing stays beside it") {
  const outside::Folder work("new");
  const Files files{{"a.txt", "one"}, {"sub/b.txt", std::string("two\0\xff", 5)}};
  REQUIRE(report::write_files(work.path() / "deep" / "out", files));
  CHECK(everything_under(work.path()) == std::set<std::string>{"deep", "deep/out", "deep/out/a.txt", "deep/out/sub", "deep/out/sub/b.txt"});
  CHECK(outside::bytes(work.path() / "deep/out/sub/b.txt") == files.at("sub/b.txt"));
}

TEST_CASE("write files: a later run replaces its own files and leaves the user's") {
  const outside::Folder work("again");
  const fs::path out = work.path() / "out";
  REQUIRE(report::write_files(out, {{"a.txt", "one"}, {"cut/old.dxf", "x"}, {"files.txt", "files.txt\na.txt\ncut/old.dxf\n"}}));
  std::ofstream(out / "notes.txt") << "mine";
  REQUIRE(report::write_files(out, {{"a.txt", "two"}, {"files.txt", "files.txt\na.txt\n"}}));
  CHECK(outside::bytes(out / "a.txt") == "two");
  CHECK(outside::bytes(out / "notes.txt") == "mine");
  CHECK_FALSE(fs::exists(out / "cut/old.dxf"));
  CHECK(everything_under(out) == std::set<std::string>{"a.txt", "cut", "files.txt", "notes.txt"});
}

TEST_CASE("write files: the list of an earlier run takes away nothing outside the folder") {
  const outside::Folder work("list");
  std::ofstream(work.path() / "precious.txt") << "keep";
  fs::create_directory(work.path() / "out");
  std::ofstream(work.path() / "out/files.txt") << "../precious.txt\n" << (work.path() / "precious.txt").string() << "\n";
  REQUIRE(report::write_files(work.path() / "out", {{"a.txt", "one"}}));
  CHECK(fs::exists(work.path() / "precious.txt"));
}

TEST_CASE("write files: a target that is a file is refused with E402 and nothing is left behind") {
  const outside::Folder work("file");
  std::ofstream(work.path() / "out") << "a file";
  const auto got = report::write_files(work.path() / "out", {{"a.txt", "one"}});
  REQUIRE_FALSE(got);
  CHECK(got.error().at(0).id == "E402");
  CHECK(everything_under(work.path()) == std::set<std::string>{"out"});
  CHECK(outside::bytes(work.path() / "out") == "a file");
}

TEST_CASE("write files: a folder below a file is refused and nothing is left behind") {
  const outside::Folder work("below");
  std::ofstream(work.path() / "f") << "a file";
  const auto got = report::write_files(work.path() / "f" / "out", {{"a.txt", "one"}});
  REQUIRE_FALSE(got);
  CHECK(got.error().at(0).id == "E402");
  CHECK(everything_under(work.path()) == std::set<std::string>{"f"});
}

TEST_CASE("write files: stopped half-way, everything is as it was") {
  const outside::Folder work("half");
  const fs::path out = work.path() / "out";
  fs::create_directories(out / "z.txt");   // a folder where a file should go
  std::ofstream(out / "a.txt") << "old";
  const auto got = report::write_files(out, {{"a.txt", "new"}, {"b/c.txt", "new"}, {"z.txt", "new"}});
  REQUIRE_FALSE(got);
  CHECK(got.error().at(0).id == "E402");
  CHECK(outside::bytes(out / "a.txt") == "old");
  CHECK(everything_under(out) == std::set<std::string>{"a.txt", "z.txt"});
}

TEST_CASE("write files: no file may lie outside the folder") {
  const outside::Folder work("outside");
  for (const char* name : {"../evil.txt", "/tmp/cellstow-evil.txt", "a/../../evil.txt", ""}) {
    CAPTURE(name);
    const auto got = report::write_files(work.path() / "out", {{name, "x"}});
    REQUIRE_FALSE(got);
    CHECK(got.error().at(0).id == "E402");
  }
  CHECK(everything_under(work.path()).empty());
}

TEST_CASE("all files: names are clean, the list names every file, two runs give the same bytes") {
  for (const fixture::Case& c : {fixture::two_cavities(), fixture::nasty_names(), fixture::loose_cells()}) {
    const Files files = report::all_files(c.job, c.plan, {});
    CHECK(files == report::all_files(c.job, c.plan, {}));
    std::string list;
    for (const auto& [name, bytes] : files) {
      CAPTURE(name);
      CHECK(name.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-/") == std::string::npos);
      CHECK(name.find("..") == std::string::npos);
      CHECK(bytes.size() > 10);
      CHECK(files.at("files.txt").find(name + "\n") != std::string::npos);
    }
  }
}

TEST_CASE("all files: one cut file a part, three views a cavity") {
  const fixture::Case c = fixture::two_cavities();
  const Files files = report::all_files(c.job, c.plan, {});
  const auto count = [&](const std::string& start) {
    return std::count_if(files.begin(), files.end(), [&](const auto& f) { return f.first.starts_with(start); });
  };
  std::ptrdiff_t parts = 0;
  for (const plan::CavityPlan& cavity : c.plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) parts += static_cast<std::ptrdiff_t>(box.sheet.parts.size());
  }
  CHECK(parts > 8);
  CHECK(count("cut/") == parts);
  CHECK(count("lists/") == 11);
  CHECK(count("drawings/parts/") >= 2 * parts);
  CHECK(count("drawings/boxes/") >= 2 * 2);
  CHECK(count("drawings/") - count("drawings/parts/") - count("drawings/boxes/") == 2 * 3 + 2 + 2 + 1 + 2);
  CHECK(count("mock_up/") == (1 + 6 + 1) + (1 + 4 + 1));
  CHECK(files.contains("plan.json"));
  CHECK(files.contains("report.html"));
}
