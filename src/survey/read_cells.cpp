#include "cellstow/survey/read_cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "comma_list.hpp"
#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

namespace fs = std::filesystem;
using core::Problem;
using core::Problems;

void append(Problems& all, const Problems& more) { all.insert(all.end(), more.begin(), more.end()); }

/// The files of a folder by name; the file itself otherwise.
std::vector<fs::path> files_of(const fs::path& named, Problems& problems) {
  std::error_code fault;
  if (!fs::is_directory(named, fault)) return {named};
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(named, fault)) {
    if (entry.path().extension() == ".json" && entry.is_regular_file(fault)) files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  if (fault || files.empty()) {
    problems.push_back({"E406", named.generic_string(), "", "no cell to compare", "a folder without a file *.json",
                        "a folder of cell files (cellstow-cell/1), or the files themselves", ""});
  }
  return files;
}

/// As if a job in the file's folder named it: the same reader, the same words.
std::optional<Cell> read_one(const fs::path& file, const Catalogue& catalogue, Problems& problems) {
  ProblemLog log(file.generic_string());
  const Json reference = {{"file", file.filename().generic_string()}};
  const AllowedFolders allowed{file.parent_path(), {file.parent_path()}};
  const auto whole = read_whole_file(file);
  if (!whole) {
    append(problems, whole.error());
    return {};
  }
  std::optional<Cell> cell = read_cell({&reference, "", &log}, allowed, catalogue);
  append(problems, log.in_file_order());
  return log.empty() ? cell : std::nullopt;
}

void refuse_same_names(const std::vector<CellFile>& cells, Problems& problems) {
  std::map<std::string, std::string> seen;
  for (const CellFile& one : cells) {
    const auto [first, fresh] = seen.emplace(one.cell.name, one.file);
    if (fresh) continue;
    problems.push_back({"E111", one.file, "/name", "name stands twice", fmt::format("\"{}\", as in {}", one.cell.name, first->second),
                        "a name of its own for every cell compared", "the name is what the table tells cells apart by"});
  }
}

// ---- costs -----------------------------------------------------------------

/// Fields of one line; nothing when its quotes are not in order.
std::optional<std::vector<std::string>> fields_of(const std::string& line) {
  CommaList list = parse_comma_list(line);
  if (!list.faults.empty() || list.rows.size() != 1) return {};
  return std::move(list.rows[0].fields);
}

std::optional<double> cost_of(const std::string& text) {
  double value = 0;
  const char* const end = text.data() + text.size();
  const auto [stop, fault] = std::from_chars(text.data(), end, value);
  if (fault != std::errc() || stop != end || !std::isfinite(value) || value < 0 || value > 1e9) return {};
  return value;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines(1);
  for (const char c : text) {
    if (c == '\n') {
      lines.emplace_back();
    } else if (c != '\r') {
      lines.back() += c;
    }
  }
  return lines;
}

// ---- amounts ---------------------------------------------------------------

Kind kind_of(Amount kind) {
  switch (kind) {
    case Amount::distance_km: return Kind::distance;
    case Amount::consumption_wh_per_km: return Kind::consumption;
    case Amount::mass_kg: return Kind::mass;
  }
  return Kind::mass;
}

}  // namespace

core::Result<std::vector<CellFile>> read_cells(const std::vector<fs::path>& files_or_folders, const Catalogue& catalogue) {
  Problems problems;
  std::vector<CellFile> cells;
  for (const fs::path& named : files_or_folders) {
    for (const fs::path& file : files_of(named, problems)) {
      if (auto cell = read_one(file, catalogue, problems)) cells.push_back({file.generic_string(), std::move(*cell)});
    }
  }
  refuse_same_names(cells, problems);
  if (!problems.empty()) return tl::unexpected(std::move(problems));
  return cells;
}

core::Result<std::map<std::string, double>> read_costs(const fs::path& file) {
  const auto text = read_whole_file(file);
  if (!text) return tl::unexpected(text.error());
  Problems problems;
  std::map<std::string, double> costs;
  const std::vector<std::string> lines = lines_of(*text);
  const auto refuse = [&](std::size_t i, std::string found, std::string expected) {
    problems.push_back({"E407", file.generic_string(), fmt::format("line {}", i + 1), "line of costs does not read", std::move(found), std::move(expected), ""});
  };
  if (lines[0] != "cell,cost_each") refuse(0, "\"" + lines[0] + "\"", "the heading cell,cost_each");
  for (std::size_t i = 1; i < lines.size(); ++i) {
    if (lines[i].empty()) continue;
    const auto fields = fields_of(lines[i]);
    const std::optional<double> cost = fields && fields->size() == 2 ? cost_of((*fields)[1]) : std::nullopt;
    if (!cost) {
      refuse(i, "\"" + lines[i] + "\"", "a cell's name, a comma, and a number of 0 or more; a name that holds a comma in quotes");
    } else if (!costs.emplace((*fields)[0], *cost).second) {
      refuse(i, "\"" + (*fields)[0] + "\" for the second time", "each cell once");
    }
  }
  if (!problems.empty()) return tl::unexpected(std::move(problems));
  return costs;
}

core::Result<double> read_amount(const std::string& text, Amount amount, const std::string& option, double most) {
  const Kind kind = kind_of(amount);
  const auto refuse = [&](std::string found, std::string hint) {
    return tl::unexpected(Problems{{"E405", "command line", option, "amount does not read", std::move(found),
                                    fmt::format("{} to at most {} {}, or with its own unit: {}", "more than 0", most, unit_of(kind), spellings_of(kind)), std::move(hint)}});
  };
  double value = 0;
  const char* const end = text.data() + text.size();
  const auto [stop, fault] = std::from_chars(text.data(), end, value);
  if (fault != std::errc() || stop != end) {
    const auto parsed = parse_quantity(text, kind);
    if (!parsed) return refuse("\"" + text + "\"", parsed.error().hint);
    value = *parsed;
  }
  if (!std::isfinite(value) || value <= 0 || value > most) return refuse(text, "");
  return value;
}

}  // namespace cellstow::survey
