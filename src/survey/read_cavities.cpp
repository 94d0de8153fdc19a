#include <fmt/format.h>

#include <cmath>

#include "outline.hpp"
#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

// ---- keep-outs -------------------------------------------------------------

std::optional<BoxShape> read_box(const Node& node) {
  const auto corners = read_list(node, 2, 2, "corners [x, y, z]");
  if (!corners) return {};
  const auto points = read_each<Point3>(*corners, read_point3);
  if (!points) return {};
  const BoxShape box{(*points)[0], (*points)[1]};
  if (box.low.x < box.high.x && box.low.y < box.high.y && box.low.z < box.high.z) return box;
  node.problem("E211", "box without extent",
               "the low corner first, below the high one in x, y and z",
               "order the two values of each axis: smaller in the first corner");
  return {};
}

std::optional<CylinderShape> read_cylinder(const Node& node) {
  const auto fields = Fields::of(node, "cylinder");
  if (!fields) return {};
  const std::size_t before = node.log->size();
  CylinderShape cylinder;
  set_needed(*fields, "from", cylinder.from, read_point3);
  set_needed(*fields, "to", cylinder.to, read_point3);
  set_needed(*fields, "diameter", cylinder.diameter, read_size);
  if (node.log->size() == before && cylinder.from == cylinder.to)
    node.problem("E212", "cylinder without length", "\"from\" and \"to\" at different places");
  return cylinder;
}

std::optional<PrismShape> read_prism(const Node& node) {
  const auto fields = Fields::of(node, "prism");
  if (!fields) return {};
  PrismShape prism;
  set_needed(*fields, "outline", prism.outline, read_outline);
  const auto heights = fields->need("z");
  const auto ends = heights ? read_list(*heights, 2, 2, "heights [z0, z1]") : std::nullopt;
  const auto z = ends ? read_each<Length>(*ends, read_coordinate) : std::nullopt;
  if (!z) return {};
  prism.z_low = (*z)[0];
  prism.z_high = (*z)[1];
  if (prism.z_low >= prism.z_high)
    heights->problem("E213", "prism without height", "[z0, z1] with z0 below z1");
  return prism;
}

template <class Shape, class Read>
void set_shape(const Fields& fields, std::string_view key, KeepOut& keep_out, Read read) {
  if (const auto node = fields.find(key))
    if (const std::optional<Shape> shape = read(*node)) keep_out.shape = *shape;
}

void read_shape(const Fields& fields, KeepOut& keep_out) {
  static constexpr std::string_view keys[] = {"box_mm", "cylinder_mm", "prism_mm"};
  std::string given;
  std::size_t count = 0;
  for (const std::string_view key : keys)
    if (fields.find(key)) {
      given += fmt::format("{}\"{}\"", count == 0 ? "" : ", ", key);
      ++count;
    }
  const std::string expected = "one of \"box_mm\", \"cylinder_mm\", \"prism_mm\"";
  const Node& node = fields.node();
  if (count == 0) node.log->add("E104", node.pointer, "key missing", "no shape", expected);
  if (count > 1)
    node.log->add("E112", node.pointer, "keys that exclude each other", given, expected,
                  "give each shape as a keep-out of its own");
  set_shape<BoxShape>(fields, "box_mm", keep_out, read_box);
  set_shape<CylinderShape>(fields, "cylinder_mm", keep_out, read_cylinder);
  set_shape<PrismShape>(fields, "prism_mm", keep_out, read_prism);
}

std::optional<KeepOut> read_keep_out(const Node& node) {
  static constexpr Word<KeepOutKind> kinds[] = {{"fixed", KeepOutKind::fixed},
                                                {"removable", KeepOutKind::removable},
                                                {"soft", KeepOutKind::soft},
                                                {"moving", KeepOutKind::moving}};
  const auto fields = Fields::of(node, "keep_out");
  if (!fields) return {};
  KeepOut keep_out;
  set_needed(*fields, "name", keep_out.name, read_name);
  set(*fields, "kind", keep_out.kind, [](const Node& n) { return read_choice(n, kinds); });
  set(*fields, "clearance_mm", keep_out.clearance, read_size_or_zero);
  read_shape(*fields, keep_out);
  return keep_out;
}

// ---- way in, fixings, fittings ---------------------------------------------

std::optional<WayIn> read_way_in(const Node& node) {
  const auto fields = Fields::of(node, "way_in");
  if (!fields) return {};
  const std::size_t before = node.log->size();
  WayIn way;
  set_needed(*fields, "name", way.name, read_name);
  set_needed(*fields, "across", way.across,
             [](const Node& n) { return read_choice(n, axis_words); });
  set_needed(*fields, "station_mm", way.station, read_coordinate);
  set_needed(*fields, "outline_mm", way.outline, read_outline);
  set(*fields, "move", way.move, read_direction);
  if (node.log->size() != before) return way;
  const double through = way.move[static_cast<std::size_t>(way.across)];
  if (std::abs(through) < 1e-6)
    node.log->add("E215", node.json->contains("move") ? below(node.pointer, "move") : node.pointer,
                  "box does not move through its opening",
                  fmt::format("a move along the opening's own plane, across {}",
                              axis_words[static_cast<std::size_t>(way.across)].word),
                  fmt::format("\"move\" with some way in {}",
                              axis_words[static_cast<std::size_t>(way.across)].word));
  return way;
}

std::optional<Fixing> read_fixing(const Node& node, const Catalogue& catalogue) {
  static constexpr Word<FixingKind> kinds[] = {{"weld nut", FixingKind::weld_nut},
                                               {"through hole", FixingKind::through_hole},
                                               {"stud", FixingKind::stud}};
  static constexpr Word<FixingUse> uses[] = {
      {"carry", FixingUse::carry}, {"locate", FixingUse::locate}, {"never", FixingUse::never}};
  const auto fields = Fields::of(node, "fixing");
  if (!fields) return {};
  Fixing fixing;
  set_needed(*fields, "name", fixing.name, read_name);
  set_needed(*fields, "at_mm", fixing.at, read_point3);
  set(*fields, "axis", fixing.axis, read_direction);
  set_needed(*fields, "thread", fixing.thread, read_thread, catalogue);
  set(*fields, "kind", fixing.kind, [](const Node& n) { return read_choice(n, kinds); });
  // the parent sheet carries: rounded down to the micrometre, never thicker than measured
  set(*fields, "sheet_mm", fixing.sheet, [](const Node& n) -> std::optional<Length> {
    const auto mm = read_quantity(n, Kind::length, {0.1, 100});
    return mm ? std::optional(-Length::from_mm_up(-*mm)) : std::nullopt;
  });
  set(*fields, "use", fixing.use, [](const Node& n) { return read_choice(n, uses); });
  set(*fields, "limit_n", fixing.limit,
      [](const Node& n) { return read_as<Newton>(n, Kind::force, above_zero(1e6)); });
  return fixing;
}

std::optional<Fitting> read_fitting(const Node& node) {
  static constexpr Word<FittingPlace> places[] = {{"beside", FittingPlace::beside},
                                                  {"above", FittingPlace::above},
                                                  {"wall", FittingPlace::wall}};
  const auto fields = Fields::of(node, "fitting");
  if (!fields) return {};
  Fitting fitting;
  set_needed(*fields, "name", fitting.name, read_name);
  if (const auto size = fields->need("size_mm")) {
    const auto sides = read_list(*size, 3, 3, "lengths [x, y, z]");
    const auto values = sides ? read_each<Length>(*sides, read_size) : std::nullopt;
    if (values) fitting.size = {(*values)[0], (*values)[1], (*values)[2]};
  }
  set(*fields, "count", fitting.count, [](const Node& n) { return read_whole(n, 1, 100); });
  set(*fields, "place", fitting.place, [](const Node& n) { return read_choice(n, places); });
  return fitting;
}

// ---- the cavity ------------------------------------------------------------

/// null, a count or [min, max].
std::optional<std::optional<CellsWanted>> read_cells_wanted(const Node& node) {
  using Wanted = std::optional<CellsWanted>;
  const auto read_count = [](const Node& n) { return read_whole(n, 0, 100'000); };
  if (node.json->is_null()) return Wanted{};
  if (node.json->is_number()) {
    const auto count = read_count(node);
    return count ? std::optional<Wanted>(CellsWanted{*count, *count}) : std::nullopt;
  }
  if (!node.json->is_array()) {
    node.problem("E105", "wrong kind of value", "a count, [min, max], or null for as many as fit");
    return {};
  }
  const auto ends = read_list(node, 2, 2, "counts [min, max]");
  const auto counts = ends ? read_each<int>(*ends, read_count) : std::nullopt;
  if (!counts) return {};
  check_order(node, "min", (*counts)[0], "max", (*counts)[1], "");
  return Wanted(CellsWanted{(*counts)[0], (*counts)[1]});
}

std::optional<Cavity> read_cavity(const Node& node, const AllowedFolders& allowed, const Catalogue& catalogue) {
  const auto fields = Fields::of(node, "cavity");
  if (!fields) return {};
  const auto read_one_fixing = [&](const Node& n) { return read_fixing(n, catalogue); };
  Cavity cavity;
  set_needed(*fields, "name", cavity.name, read_name);
  set_needed(*fields, "sections", cavity.sections, read_sections, allowed);
  set(*fields, "keep_outs", cavity.keep_outs,
      [](const Node& n) { return read_named<KeepOut>(n, 0, "keep-outs", read_keep_out); });
  set(*fields, "way_in", cavity.way_in,
      [](const Node& n) { return read_named<WayIn>(n, 0, "openings", read_way_in); });
  set(*fields, "fixings", cavity.fixings,
      [&](const Node& n) { return read_named<Fixing>(n, 0, "fixings", read_one_fixing); });
  set(*fields, "fittings", cavity.fittings,
      [](const Node& n) { return read_named<Fitting>(n, 0, "fittings", read_fitting); });
  set(*fields, "cells_wanted", cavity.cells_wanted, read_cells_wanted);
  set(*fields, "tape_error_mm", cavity.tape_error, read_size_or_zero);
  return cavity;
}

}  // namespace

std::optional<std::vector<Cavity>> read_cavities(const Node& node, const AllowedFolders& allowed,
                                                 const Catalogue& catalogue) {
  return read_named<Cavity>(node, 1, "cavities",
                            [&](const Node& n) { return read_cavity(n, allowed, catalogue); });
}

}  // namespace cellstow::survey
