#include <fstream>
#include <set>
#include <sstream>
#include <system_error>
#include <vector>

#include "cellstow/report/write.hpp"
#include "report/file_list.hpp"

namespace cellstow::report {
namespace {

namespace fs = std::filesystem;

core::Problems cannot(const fs::path& path, const std::string& title, const std::string& found) {
  return {{"E402", path.string(), "", title, found, "a folder that can be written, with room on the disk",
           "name another folder with --out"}};
}

/// Folders made on the way; those still empty go away again.
class NewFolders {
 public:
  void make(const fs::path& folder) {
    std::vector<fs::path> missing;
    for (fs::path up = folder; !up.empty() && !fs::exists(up); up = up.parent_path()) missing.push_back(up);
    for (auto it = missing.rbegin(); it != missing.rend(); ++it) {
      fs::create_directory(*it);
      made_.push_back(*it);
    }
  }
  ~NewFolders() {
    std::error_code ignored;
    for (auto it = made_.rbegin(); it != made_.rend(); ++it) fs::remove(*it, ignored);
  }

 private:
  std::vector<fs::path> made_;
};

/// A folder of its own for files on their way, on the same file system as the output folder.
/// Goes away with all that is left in it.
class Aside {
 public:
  explicit Aside(const fs::path& stem) {
    for (int i = 0; path_.empty(); ++i) {
      const fs::path candidate = stem.string() + std::to_string(i);
      if (fs::create_directory(candidate)) path_ = candidate;
    }
  }
  ~Aside() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  Aside(const Aside&) = delete;
  Aside& operator=(const Aside&) = delete;
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

/// Moves files and can take every move back.
class Moves {
 public:
  void move(const fs::path& from, const fs::path& to) {
    fs::create_directories(to.parent_path());
    fs::rename(from, to);
    done_.emplace_back(from, to);
  }
  void keep() { done_.clear(); }
  ~Moves() {
    std::error_code ignored;
    for (auto it = done_.rbegin(); it != done_.rend(); ++it) fs::rename(it->second, it->first, ignored);
  }

 private:
  std::vector<std::pair<fs::path, fs::path>> done_;
};

bool write_one(const fs::path& path, const std::string& bytes) {
  fs::create_directories(path.parent_path());
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  return file.good();
}

/// A path that stays below the folder: relative, without "..".
bool stays_inside(const fs::path& path) {
  if (path.empty() || path.is_absolute()) return false;
  for (const fs::path& part : path) {
    if (part == "..") return false;
  }
  return true;
}

/// Files that an earlier run left in the folder by its own list. A part that is no longer made
/// must not be cut from an old file.
std::set<std::string> earlier_files(const fs::path& folder) {
  std::ifstream file(folder / file_list_name);
  std::set<std::string> out;
  for (std::string line; std::getline(file, line);) {
    if (stays_inside(line) && fs::is_regular_file(folder / line)) out.insert(line);
  }
  return out;
}

void replace_files(const fs::path& fresh, const fs::path& old, const fs::path& folder,
                   const std::map<std::string, std::string>& files) {
  std::set<std::string> leaving = earlier_files(folder);
  for (const auto& [name, bytes] : files) {
    if (fs::is_regular_file(folder / name)) leaving.insert(name);
  }
  NewFolders folders;
  Moves moves;
  for (const std::string& name : leaving) moves.move(folder / name, old / name);
  for (const auto& [name, bytes] : files) {
    folders.make((folder / name).parent_path());
    if (fs::exists(folder / name)) throw fs::filesystem_error(name + " is in the way", std::make_error_code(std::errc::file_exists));
    moves.move(fresh / name, folder / name);
  }
  moves.keep();
}

core::Result<std::monostate> write_all(const fs::path& folder,
                                       const std::map<std::string, std::string>& files) {
  const bool exists = fs::exists(folder);
  NewFolders parents;
  if (!exists) parents.make(folder.parent_path());
  const Aside aside(exists ? folder / ".unfinished" : fs::path(folder.string() + ".unfinished"));
  const fs::path fresh = aside.path() / "new";
  fs::create_directory(fresh);
  for (const auto& [name, bytes] : files) {
    if (!write_one(fresh / name, bytes)) {
      return tl::unexpected(cannot(folder / name, "file cannot be written", "writing stopped"));
    }
  }
  if (exists) {
    replace_files(fresh, aside.path() / "old", folder, files);
  } else {
    fs::rename(fresh, folder);
  }
  return std::monostate{};
}

}  // namespace

core::Result<std::monostate> write_files(const std::filesystem::path& named,
                                         const std::map<std::string, std::string>& files) {
  for (const auto& [name, bytes] : files) {
    if (!stays_inside(name)) return tl::unexpected(cannot(name, "file would lie outside the output folder", name));
  }
  try {
    fs::path folder = fs::absolute(named).lexically_normal();
    if (!folder.has_filename()) folder = folder.parent_path();
    if (fs::exists(folder) && !fs::is_directory(folder)) {
      return tl::unexpected(cannot(named, "output folder is a file", "a file of this name"));
    }
    return write_all(folder, files);
  } catch (const fs::filesystem_error& error) {
    return tl::unexpected(cannot(named, "output folder cannot be written", error.code().message()));
  }
}

}  // namespace cellstow::report
