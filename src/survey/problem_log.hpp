#pragma once
/// Collects every problem of one file and hands them back in the order of the file. A tree laid together from several
/// files (base.hpp) has one log as well: it knows in which file each value stands.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <map>
#include <utility>
#include <vector>

#include "cellstow/core/problem.hpp"

namespace cellstow::survey {

/// Where a value really stands: which file, counted from the one that extends the others, and its pointer there.
struct Origin {
  std::size_t file = 0;
  std::string pointer;
};

/// By pointer into the laid tree; a value that is not listed stands below the nearest listed one above it.
using Origins = std::map<std::string, Origin>;

/// @return the origin of `pointer`; the pointer itself in file 0 when nothing above it is listed
Origin origin_of(const Origins& origins, const std::string& pointer);

class ProblemLog {
 public:
  explicit ProblemLog(std::string file, std::optional<std::filesystem::path> folder = {}) {
    files_.push_back({std::move(file), std::move(folder), {}});
  }

  /// Told by the parser, in the order in which values stand in the file.
  void note_place(const std::string& pointer);

  void add(std::string id, const std::string& pointer, std::string title, std::string found,
           std::string expected, std::string hint = {});

  /// Problems of a file that the value at `pointer` names; they keep their own file and order.
  /// A file named more than once tells each fault once.
  void add_from_file(const std::string& pointer, const core::Problems& problems);

  /// From here on pointers are those of a tree laid together from this file and `bases`, nearest base first; what
  /// the bases' logs hold comes after this file's own problems.
  void lay_over(std::vector<ProblemLog> bases, Origins origins);

  /// `pointer` as a reader of the files would look for it: with the file's name when that is not the first one.
  std::string where(const std::string& pointer) const;
  /// Folder of the file in which the value at `pointer` stands; nothing when it was not told.
  std::optional<std::filesystem::path> folder(const std::string& pointer) const;

  bool empty() const { return entries_.empty(); }
  std::size_t size() const { return entries_.size(); }
  const std::string& file() const { return files_[0].name; }

  /// File by file, sorted by the place of the faulty value; those of one value in the order of finding.
  core::Problems in_file_order() const;

 private:
  struct File {
    std::string name;
    std::optional<std::filesystem::path> folder;
    std::map<std::string, std::size_t> places;  // looked up only, never walked
  };
  /// File, and place in the file.
  using Place = std::pair<std::size_t, std::size_t>;

  Place place(const Origin& origin) const;
  bool holds(const core::Problem& problem) const;

  struct Entry {
    Place place;
    core::Problem problem;
  };
  std::vector<File> files_;
  Origins origins_;
  std::vector<Entry> entries_;
};

/// `pointer` one step further; "/" and "~" in the key are escaped as RFC 6901 asks.
std::string below(const std::string& pointer, std::string_view key);
std::string below(const std::string& pointer, std::size_t index);

}  // namespace cellstow::survey
