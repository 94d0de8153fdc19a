#pragma once
/// The parts of a job file, each read from its own node. A part that does not read is nothing, or
/// holds what could be read; the log then holds why, and the job is refused.

#include <map>
#include <optional>
#include <vector>

#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"
#include "fields.hpp"
#include "named_file.hpp"

namespace cellstow::survey {

std::optional<Car> read_car(const Node& node);
std::optional<Cell> read_cell(const Node& node, const AllowedFolders& allowed,
                              const Catalogue& catalogue);
std::optional<StringSpec> read_string(const Node& node);
/// @param node  nothing when the job has no rules: all defaults
std::optional<Rules> read_rules(const std::optional<Node>& node, const Node& job,
                                const AllowedFolders& allowed, const Catalogue& catalogue);
std::optional<DrawingRules> read_drawings(const Node& node);
std::optional<std::vector<Cavity>> read_cavities(const Node& node, const AllowedFolders& allowed,
                                                 const Catalogue& catalogue);
std::optional<Sections> read_sections(const Node& node, const AllowedFolders& allowed);
/// Sections cut out of a scan, by rising station. @error E112, E207, E240 to E249
std::optional<std::vector<Section>> read_scan_sections(const Node& node, const Sections& sections,
                                                       const AllowedFolders& allowed);

/// False when the file is plainly of another format: its keys would only be called unknown one by
/// one.
/// @error E104 no format, E114 another one
bool check_format(const Node& node, std::string_view expected);

/// A thread named in the tables. @error E304
std::optional<std::string> read_thread(const Node& node, const Catalogue& catalogue);

/// The names of a table, quoted and with commas between, for problems.
template <class T>
std::string known_names(const std::map<std::string, T>& table) {
  std::string text;
  for (const auto& [name, row] : table) text += (text.empty() ? "\"" : ", \"") + name + "\"";
  return text;
}

/// Words of the format, shared with nothing but the schema.
inline constexpr Word<Axis> axis_words[] = {{"x", Axis::x}, {"y", Axis::y}, {"z", Axis::z}};

}  // namespace cellstow::survey
