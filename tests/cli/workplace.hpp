#pragma once
/// The program run in a fresh folder.

#include <doctest/doctest.h>
#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace cellstow::test {

struct Run { int status; std::string out, err; };

inline std::string slurp(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// A fresh folder that goes away with the test.
class Workplace {
 public:
  Workplace() {
    std::string name = (std::filesystem::temp_directory_path() / "cellstow_test_XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  ~Workplace() { std::filesystem::remove_all(path_); }
  const std::filesystem::path& path() const { return path_; }
  std::string at(const std::string& name) const { return (path_ / name).string(); }

  Run run(const std::string& arguments) const {
    const std::filesystem::path out = path_ / "stdout", err = path_ / "stderr";
    const std::string command = std::string(CELLSTOW_PROGRAM) + " " + arguments + " >" + out.string() + " 2>" + err.string();
    const int status = std::system(command.c_str());
    return {WEXITSTATUS(status), slurp(out), slurp(err)};
  }

 private:
  std::filesystem::path path_;
};

}  // namespace cellstow::test
