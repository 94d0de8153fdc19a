#include <fstream>
#include <iterator>
#include <system_error>

#include "cellstow/report/measuring_sheet.hpp"
#include "cellstow/report/write.hpp"

namespace cellstow::report {
namespace {

namespace fs = std::filesystem;

core::Problems cannot(const fs::path& path, const std::string& found) {
  return {{"E402", path.string(), "", "file cannot be written", found, "a folder that can be written, with room on the disk", "name another place with --out"}};
}

/// A name beside the file that nothing has yet.
fs::path aside(const fs::path& path) {
  for (int i = 0;; ++i) {
    const fs::path candidate = path.string() + ".unfinished" + std::to_string(i);
    if (!fs::exists(candidate)) return candidate;
  }
}

bool holds_other(const fs::path& path, const std::string& bytes) {
  std::ifstream file(path, std::ios::binary);
  return file && std::string(std::istreambuf_iterator<char>(file), {}) != bytes;
}

}  // namespace

core::Result<std::monostate> write_file(const fs::path& path, const std::string& bytes) {
  try {
    if (path.has_parent_path()) fs::create_directories(path.parent_path());
    if (fs::is_directory(path)) return tl::unexpected(cannot(path, "a folder of this name"));
    const fs::path fresh = aside(path);
    std::ofstream file(fresh, std::ios::binary);
    file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    file.close();
    if (!file.good()) {
      fs::remove(fresh);
      return tl::unexpected(cannot(path, "writing stopped"));
    }
    fs::rename(fresh, path);
  } catch (const fs::filesystem_error& error) {
    return tl::unexpected(cannot(path, error.code().message()));
  }
  return std::monostate{};
}

core::Result<std::monostate> write_sheet(const fs::path& folder, const std::map<std::string, std::string>& files) {
  for (const auto& [name, bytes] : files) {
    const fs::path path = folder / name;
    if (path.extension() != ".csv" || !holds_other(path, bytes)) continue;
    return tl::unexpected(core::Problems{{"E402", path.string(), "", "a list that may be filled stands there", "a list with other content",
                                          "a folder without it", "enter it with \"cellstow enter\" first, then move it away; or name another folder with --out"}});
  }
  for (const auto& [name, bytes] : files) {
    const auto written = write_file(folder / name, bytes);
    if (!written) return written;
  }
  return std::monostate{};
}

}  // namespace cellstow::report
