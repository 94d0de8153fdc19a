#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iterator>

#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

namespace fs = std::filesystem;

constexpr Word<Stance> stance_words[] = {
    {"upright", Stance::upright}, {"on_edge", Stance::on_edge}, {"flat", Stance::flat}};
constexpr Word<CaseKind> case_words[] = {{"plastic", CaseKind::plastic},
                                         {"aluminium", CaseKind::aluminium}};

/// A cell side: a millimetre at least, so that counting cells stays counting.
std::optional<Length> read_side(const Node& node) {
  const auto mm = read_quantity(node, Kind::length, {1, 2000});
  return mm ? std::optional(Length::from_mm_up(*mm)) : std::nullopt;
}

std::optional<VoltageWindow> read_window(const Node& node) {
  const auto fields = Fields::of(node, "voltage_window");
  if (!fields) return {};
  const auto read_volts = [](const Node& n) {
    return read_as<Volt>(n, Kind::voltage, above_zero(1000));
  };
  const std::size_t before = node.log->size();
  VoltageWindow window;
  set_needed(*fields, "min", window.min, read_volts);
  set_needed(*fields, "nominal", window.nominal, read_volts);
  set_needed(*fields, "max", window.max, read_volts);
  if (node.log->size() != before) return {};
  check_order(node, "min", window.min.value(), "nominal", window.nominal.value(), "V");
  check_order(node, "nominal", window.nominal.value(), "max", window.max.value(), "V");
  return window;
}

std::optional<ForceRange> read_force_range(const Node& node) {
  const auto list = read_list(node, 2, 2, "forces [min, max]");
  if (!list) return {};
  const auto ends = read_each<double>(
      *list, [](const Node& n) { return read_quantity(n, Kind::force, at_least_zero(1e6)); });
  if (!ends) return {};
  check_order(node, "min", (*ends)[0], "max", (*ends)[1], "N");
  return ForceRange{Newton::of((*ends)[0]), Newton::of((*ends)[1])};
}

std::optional<std::vector<Stance>> read_stances(const Node& node) {
  const auto list = read_list(node, 1, 3, "stances");
  if (!list) return {};
  auto stances =
      read_each<Stance>(*list, [](const Node& n) { return read_choice(n, stance_words); });
  if (!stances) return {};
  for (std::size_t i = 1; i < stances->size(); ++i)
    if (std::find(stances->begin(), stances->begin() + static_cast<std::ptrdiff_t>(i),
                  (*stances)[i]) != stances->begin() + static_cast<std::ptrdiff_t>(i))
      (*list)[i].problem("E111", "stance stands twice", "each stance once");
  return stances;
}

void read_electrical(const Fields& fields, Cell& cell, const Catalogue& catalogue) {
  set(fields, "capacity_ah", cell.capacity,
      [](const Node& n) { return read_as<AmpereHour>(n, Kind::charge, above_zero(100'000)); });
  set(fields, "voltage_v", cell.voltage, read_window);
  set(fields, "resistance_mohm", cell.resistance,
      [](const Node& n) { return read_as<Milliohm>(n, Kind::resistance, above_zero(10'000)); });
  set(fields, "terminal_offset_mm", cell.terminal_offset, read_size);
  set(fields, "terminal_thread", cell.terminal_thread, read_thread, catalogue);
}

void read_sides(const Fields& fields, Cell& cell) {
  set_needed(fields, "thickness_mm", cell.thickness, read_side);
  set_needed(fields, "width_mm", cell.width, read_side);
  set_needed(fields, "height_mm", cell.height, read_side);
  cell.terminal_top = cell.height;
  set(fields, "terminal_top_mm", cell.terminal_top, read_side);
}

void check_sides(const Node& node, const Cell& cell) {
  if (cell.terminal_top < cell.height)
    node.log->add("E118", below(node.pointer, "terminal_top_mm"), "values contradict each other",
                  fmt::format("live metal at {} mm, case height {} mm", in_mm(cell.terminal_top),
                              in_mm(cell.height)),
                  "terminal_top_mm at least height_mm",
                  "it is measured from the cell's base, links and nuts included");
  if (cell.terminal_offset && *cell.terminal_offset * 2 >= cell.width)
    node.log->add("E118", below(node.pointer, "terminal_offset_mm"), "values contradict each other",
                  fmt::format("posts {} mm from the centre, width {} mm",
                              in_mm(*cell.terminal_offset), in_mm(cell.width)),
                  "terminal_offset_mm below half of width_mm",
                  "it is measured from the cell's centre, not from post to post");
}

Cell read_cell_fields(const Fields& fields, const Catalogue& catalogue) {
  Cell cell;
  set_needed(fields, "name", cell.name, read_name);
  const std::size_t before = fields.node().log->size();
  read_sides(fields, cell);
  read_electrical(fields, cell, catalogue);
  if (fields.node().log->size() == before) check_sides(fields.node(), cell);
  set_needed(fields, "mass_kg", cell.mass,
             [](const Node& n) { return read_as<Kg>(n, Kind::mass, above_zero(500)); });
  set(fields, "case", cell.case_kind, [](const Node& n) { return read_choice(n, case_words); });
  set(fields, "clamp_force_n", cell.clamp_force, read_force_range);
  set(fields, "growth_percent", cell.growth_percent, [](const Node& n) {
    return read_number(n, {0, 50}, "percent");
  });
  set(fields, "stances", cell.stances, read_stances);
  return cell;
}

// ---- cells kept in files of their own --------------------------------------

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

std::optional<Cell> parse_cell_file(const std::string& text, ProblemLog& log,
                                    const Catalogue& catalogue) {
  const std::optional<Json> json = parse_strict(text, log);
  if (!json) return {};
  const Node node{&*json, "", &log};
  if (!check_format(node, "cellstow-cell/1")) return {};
  const auto fields = Fields::of(node, "cell_file");
  if (!fields) return {};
  for (const auto key : {"source", "status", "note", "$schema"})
    if (const auto text_node = fields->find(key)) read_text(*text_node);
  return read_cell_fields(*fields, catalogue);
}

std::optional<Cell> read_cell_from(const Node& node, const AllowedFolders& allowed,
                                   const Catalogue& catalogue) {
  const std::optional<std::string> named = read_name(node);
  if (!named) return {};
  const fs::path path = (allowed.folder / *named).lexically_normal();
  if (!allowed_to_read(path, allowed)) {
    node.problem("E403", "file lies outside the allowed folders",
                 "a file in the job's folder, a folder given with --root, or the shipped shapes");
    return {};
  }
  const auto text = read_whole_file(path);
  if (!text) {
    for (const core::Problem& fault : text.error())
      node.log->add(fault.id, node.pointer, fault.title,
                    fmt::format("{}: {}", fault.file, fault.found), fault.expected,
                    "paths are taken from the folder of the file that names them");
    return {};
  }
  ProblemLog log(path.generic_string());
  std::optional<Cell> cell = parse_cell_file(*text, log, catalogue);
  node.log->add_from_file(node.pointer, log.in_file_order());
  return cell;
}

}  // namespace

std::optional<Cell> read_cell(const Node& node, const AllowedFolders& allowed,
                              const Catalogue& catalogue) {
  const bool reference = node.json->is_object() && node.json->contains("file");
  const auto fields = Fields::of(node, reference ? "cell_reference" : "cell");
  if (!fields) return {};
  if (!reference) return read_cell_fields(*fields, catalogue);
  const auto file = fields->need("file");
  return file ? read_cell_from(*file, allowed, catalogue) : std::nullopt;
}

std::optional<std::string> read_thread(const Node& node, const Catalogue& catalogue) {
  std::optional<std::string> name = read_name(node);
  if (!name || catalogue.threads.contains(*name)) return name;
  // no guess: the thread most like it in writing is seldom the one that fits
  node.problem("E304", "not in the tables", "one of " + known_names(catalogue.threads),
               "look-alike threads do not mix: try a known bolt in it");
  return {};
}

core::Result<std::string> read_whole_file(const fs::path& path) {
  constexpr std::uintmax_t largest = 16u << 20;
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
  if (fs::file_size(path, fault) > largest)
    return refuse("E117", "file too large", "more than 16 MB", "a job or cell of at most 16 MB");
  std::ifstream stream(path, std::ios::binary);
  std::string text{std::istreambuf_iterator<char>(stream), {}};
  if (!stream)
    return refuse("E401", "file cannot be read", "no permission, or a fault of the disk",
                  "a file that can be read");
  return text;
}

}  // namespace cellstow::survey
