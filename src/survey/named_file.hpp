#pragma once
/// Parts of a job kept in files of their own, which the job names.

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "cellstow/core/problem.hpp"
#include "fields.hpp"

namespace cellstow::survey {

/// Where files named by a job may lie.
struct AllowedFolders {
  std::filesystem::path folder;              ///< of the file that names others
  std::vector<std::filesystem::path> roots;  ///< the shipped shapes folder included
};

/// Those of a job: `roots`, or its own folder when there are none, and the shipped tables.
AllowedFolders allowed_folders(const std::filesystem::path& folder, std::vector<std::filesystem::path> roots, const std::filesystem::path& shapes);

/// A part that stands in the job in full, or in a file of its own.
struct FileKind {
  std::string_view object;       ///< in keys.cpp: the part in full
  std::string_view file_object;  ///< the same as a file, with "format" and free texts
  std::string_view reference;    ///< {"file": ...}
  std::string_view format;
  std::span<const std::string_view> free_texts;  ///< keys of the file that nothing here uses
};

using ReadFields = std::function<void(const Fields&)>;

/// Whether an object names a file instead of holding the part.
bool is_reference(const Node& node);

/// Path of the file that `node`, a text, names: taken from the folder of the file in which that text stands.
std::filesystem::path named_path(const Node& node, const std::string& name,
                                 const AllowedFolders& allowed);

/// Of a job and the parts it names; scans are larger.
inline constexpr std::uintmax_t largest_file_mb = 16;

struct NamedText {
  std::filesystem::path path;
  std::string text;
};

/// Whole text of the file that `node`, a text, names.
/// @error E105, E116 the name; E403 outside the allowed folders, E401, E117
std::optional<NamedText> read_named_text(const Node& node, const AllowedFolders& allowed, std::uintmax_t most_mb = largest_file_mb);

/// Reads the file that `node`, a text, names; its problems name that file.
/// @error E403 outside the allowed folders, E401, E117, E101, E102, E114, and those of `read`
void read_named_file(const Node& node, const FileKind& kind, const AllowedFolders& allowed,
                     const ReadFields& read);

/// A part in full or from the file it names; `read` gets the fields of either.
template <class T, class Read>
std::optional<T> read_full_or_file(const Node& node, const FileKind& kind,
                                   const AllowedFolders& allowed, Read read) {
  const bool reference = is_reference(node);
  const auto fields = Fields::of(node, reference ? kind.reference : kind.object);
  if (!fields) return {};
  if (!reference) return read(*fields);
  std::optional<T> part;
  if (const auto file = fields->need("file"))
    read_named_file(*file, kind, allowed, [&](const Fields& found) { part = read(found); });
  return part;
}

/// Whole text of a file; a problem in plain words when it cannot be had.
/// @error E401 missing, not a file or unreadable, E117 too large
core::Result<std::string> read_whole_file(const std::filesystem::path& path, std::uintmax_t most_mb = largest_file_mb);

}  // namespace cellstow::survey
