#pragma once
/// A file for libraries that write to files only. Internal to report.

#include <stdlib.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>

namespace cellstow::report {

/// An empty file in the system's temporary folder that lives as long as this.
/// @throws std::runtime_error when there is no room for one
class ScratchFile {
 public:
  ScratchFile() : path_((std::filesystem::temp_directory_path() / "cut-XXXXXX").string()) {
    const int descriptor = mkstemp(path_.data());
    if (descriptor < 0) throw std::runtime_error("no room for a temporary file: " + path_);
    close(descriptor);
  }
  ~ScratchFile() { unlink(path_.c_str()); }
  ScratchFile(const ScratchFile&) = delete;
  ScratchFile& operator=(const ScratchFile&) = delete;
  const std::string& path() const { return path_; }
  std::string bytes() const {
    std::ifstream file(path_, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
  }

 private:
  std::string path_;
};

}  // namespace cellstow::report
