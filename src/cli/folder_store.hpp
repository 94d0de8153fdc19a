#pragma once
/// Finished packings kept in a folder between runs.

#include <atomic>
#include <filesystem>
#include <string>
#include <vector>

#include "cellstow/choosing/pack_formats.hpp"
#include "cellstow/core/problem.hpp"

namespace cellstow::cli {

/// Each answer is one file named by the SHA-256 of everything it depends on: version of the program, cavity, cell, stances, rules, work
/// allowed. An entry counts only when it names that same key, its own content's SHA-256 is right, and its figures can be an answer;
/// anything else is passed over and written anew. Files appear whole (written aside, then renamed); faults of the disk on writing are passed over:
/// the store saves time, nothing more.
class FolderStore : public choosing::Store {
 public:
  /// @error E408 the folder cannot be made or written
  static core::Result<std::monostate> prepare(const std::filesystem::path& folder);

  FolderStore(std::filesystem::path folder, const survey::Job& job, const std::vector<choosing::Format>& formats);
  std::optional<choosing::PackedCavity> find(const choosing::PackTask& task) override;
  void keep(const choosing::PackTask& task, const choosing::PackedCavity& answer) override;

  /// 64 hexadecimal digits.
  std::string key_of(const choosing::PackTask& task) const;

 private:
  std::filesystem::path file_of(const std::string& key) const { return folder_ / (key + ".json"); }

  std::filesystem::path folder_;
  std::vector<std::string> cavities_, cells_;   ///< as canonical text
  std::string rules_;
  std::atomic<int> written_{0};
};

/// SHA-256 as 64 hexadecimal digits. Source of the function: FIPS 180-4, by OpenSSL.
std::string sha256(const std::string& text);

}  // namespace cellstow::cli
