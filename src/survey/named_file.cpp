#include "named_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <utility>

#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

namespace fs = std::filesystem;

/// Both paths without links and dots; whether the first lies in the second.
bool lies_in(const fs::path& file, const fs::path& root) {
  const auto [file_rest, root_rest] =
      std::mismatch(file.begin(), file.end(), root.begin(), root.end());
  return root_rest == root.end() || (std::next(root_rest) == root.end() && root_rest->empty());
}

bool allowed_to_read(const fs::path& file, const AllowedFolders& allowed) {
  std::error_code fault;
  const fs::path real = fs::weakly_canonical(file, fault);
  if (fault) return false;
  return std::any_of(allowed.roots.begin(), allowed.roots.end(), [&](const fs::path& root) {
    std::error_code root_fault;
    const fs::path real_root =
        fs::weakly_canonical(root.empty() ? fs::path(".") : root, root_fault);
    return !root_fault && lies_in(real, real_root);
  });
}

void parse_named_file(const std::string& text, ProblemLog& log, const FileKind& kind,
                      const ReadFields& read) {
  const std::optional<Json> json = parse_strict(text, log);
  if (!json) return;
  const Node node{&*json, "", &log};
  if (!check_format(node, kind.format)) return;
  const auto fields = Fields::of(node, kind.file_object);
  if (!fields) return;
  for (const std::string_view key : kind.free_texts)
    if (const auto text_node = fields->find(key)) read_text(*text_node);
  read(*fields);
}

}  // namespace

bool is_reference(const Node& node) {
  return node.json->is_object() && node.json->contains("file");
}

AllowedFolders allowed_folders(const fs::path& folder, std::vector<fs::path> roots, const fs::path& shapes) {
  if (roots.empty()) roots.push_back(folder);
  roots.push_back(shapes);
  return {folder, std::move(roots)};
}

fs::path named_path(const Node& node, const std::string& name, const AllowedFolders& allowed) {
  return (node.log->folder(node.pointer).value_or(allowed.folder) / name).lexically_normal();
}

std::optional<NamedText> read_named_text(const Node& node, const AllowedFolders& allowed, std::uintmax_t most_mb) {
  const std::optional<std::string> named = read_name(node);
  if (!named) return {};
  const fs::path path = named_path(node, *named, allowed);
  if (!allowed_to_read(path, allowed)) {
    node.problem("E403", "file lies outside the allowed folders",
                 "a file in the job's folder, a folder given with --root, or the shipped shapes");
    return {};
  }
  auto text = read_whole_file(path, most_mb);
  if (text) return NamedText{path, std::move(*text)};
  for (const core::Problem& fault : text.error())
    node.log->add(fault.id, node.pointer, fault.title,
                  fmt::format("{}: {}", fault.file, fault.found), fault.expected,
                  "paths are taken from the folder of the file that names them");
  return {};
}

void read_named_file(const Node& node, const FileKind& kind, const AllowedFolders& allowed,
                     const ReadFields& read) {
  const auto named = read_named_text(node, allowed);
  if (!named) return;
  ProblemLog log(named->path.generic_string());
  parse_named_file(named->text, log, kind, read);
  node.log->add_from_file(node.pointer, log.in_file_order());
}

core::Result<std::string> read_whole_file(const fs::path& path, std::uintmax_t most_mb) {
  const auto refuse = [&](std::string id, std::string title, std::string found,
                          std::string expected) {
    return tl::unexpected(core::Problems{{std::move(id),
                                          path.generic_string(),
                                          "",
                                          std::move(title),
                                          std::move(found),
                                          std::move(expected),
                                          {}}});
  };
  std::error_code fault;
  if (!fs::exists(path, fault))
    return refuse("E401", "file cannot be read", "no such file", "a file that exists");
  if (!fs::is_regular_file(path, fault))
    return refuse("E401", "file cannot be read", "not a plain file", "a JSON file");
  if (fs::file_size(path, fault) > most_mb << 20)
    return refuse("E117", "file too large", fmt::format("more than {} MB", most_mb),
                  fmt::format("a file of at most {} MB", most_mb));
  std::ifstream stream(path, std::ios::binary);
  std::string text(fs::file_size(path, fault), '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (!stream)
    return refuse("E401", "file cannot be read", "no permission, or a fault of the disk",
                  "a file that can be read");
  return text;
}

}  // namespace cellstow::survey
