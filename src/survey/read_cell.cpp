#include <fmt/format.h>

#include <algorithm>

#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

constexpr Word<Stance> stance_words[] = {
    {"upright", Stance::upright}, {"on_edge", Stance::on_edge}, {"flat", Stance::flat}};
constexpr Word<CaseKind> case_words[] = {{"plastic", CaseKind::plastic},
                                         {"aluminium", CaseKind::aluminium}};

constexpr std::string_view cell_texts[] = {"source", "status", "note", "$schema"};
constexpr FileKind cell_file = {"cell", "cell_file", "cell_reference", "cellstow-cell/1",
                                cell_texts};

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

}  // namespace

std::optional<Cell> read_cell(const Node& node, const AllowedFolders& allowed,
                              const Catalogue& catalogue) {
  return read_full_or_file<Cell>(node, cell_file, allowed, [&](const Fields& fields) {
    return read_cell_fields(fields, catalogue);
  });
}

std::optional<std::string> read_thread(const Node& node, const Catalogue& catalogue) {
  std::optional<std::string> name = read_name(node);
  if (!name || catalogue.threads.contains(*name)) return name;
  // no guess: the thread most like it in writing is seldom the one that fits
  node.problem("E304", "not in the tables", "one of " + known_names(catalogue.threads),
               "look-alike threads do not mix: try a known bolt in it");
  return {};
}

}  // namespace cellstow::survey
