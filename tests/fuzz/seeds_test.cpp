/// Every seed of the fuzzers, and every input that once was a finding, through the same entries.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "entries.hpp"

namespace fs = std::filesystem;

namespace {

std::vector<fs::path> seeds_of(std::string_view name) {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(fs::path(CELLSTOW_TESTS_DIR) / "fuzz" / "seeds" / name)) paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  return paths;
}

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace

TEST_CASE("seeds: every seed keeps the promises of its reader, whole and cut short") {
  for (const auto& entry : cellstow::fuzz::entries) {
    const std::vector<fs::path> seeds = seeds_of(entry.name);
    CHECK(seeds.size() >= 3);
    for (const fs::path& seed : seeds) {
      CAPTURE(seed.filename().string());
      const std::string bytes = bytes_of(seed);
      CHECK_NOTHROW(entry.run(bytes));
      for (std::size_t length = 0; length < bytes.size(); length += 1 + bytes.size() / 40)
        CHECK_NOTHROW(entry.run(std::string_view(bytes).substr(0, length)));
    }
  }
}
