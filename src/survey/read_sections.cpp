#include <fmt/format.h>

#include <algorithm>

#include "given_outline.hpp"
#include "outline.hpp"
#include "read_parts.hpp"
#include "read_tape.hpp"
#include "slope.hpp"

namespace cellstow::survey {
namespace {

/// A section as read, outline and holes still running as the user listed them.
struct ReadSection {
  Section section;
  Node node;
  std::string outline_at;  ///< where the outline is given
};

bool runs_clockwise(const Ring& ring) { return twice_area_um2(ring) < 0; }

void make_counter_clockwise(Ring& ring) {
  if (runs_clockwise(ring)) reverse_keeping_first(ring);
}

void make_clockwise(Ring& ring) {
  if (!runs_clockwise(ring)) reverse_keeping_first(ring);
}

std::optional<std::vector<Ring>> read_holes(const Node& node, const std::optional<Ring>& outline) {
  const auto nodes = read_list(node, 0, 200, "holes");
  if (!nodes) return {};
  const auto holes = read_each<Ring>(*nodes, read_ring);
  if (holes && outline) check_holes(*outline, *holes, *nodes);
  return holes;
}

constexpr Word<MeasuredBy> measured_by_words[] = {
    {"corners", MeasuredBy::corners}, {"tape", MeasuredBy::tape}, {"picture", MeasuredBy::picture},
    {"drawing", MeasuredBy::drawing}, {"list", MeasuredBy::list}, {"scan", MeasuredBy::scan}};

std::optional<MeasuredCorner> read_measured_corner(const Node& node) {
  const auto fields = Fields::of(node, "measured_corner");
  if (!fields) return {};
  MeasuredCorner corner;
  set(*fields, "name", corner.name, read_text);
  set(*fields, "give_or_take_mm", corner.give_or_take, read_size_or_zero);
  return corner;
}

/// @error E115 not one entry a corner of the outline
std::optional<Measured> read_measured(const Node& node, const std::optional<Ring>& outline) {
  const auto fields = Fields::of(node, "measured");
  if (!fields) return {};
  Measured measured;
  set(*fields, "by", measured.by, [](const Node& n) { return read_choice(n, measured_by_words); });
  if (const auto at = fields->find("corners")) {
    const std::size_t least = outline ? outline->size() : 0;
    const auto nodes = read_list(*at, least, outline ? least : most_vertices, "corners, one a vertex of the outline");
    if (nodes)
      if (auto corners = read_each<MeasuredCorner>(*nodes, read_measured_corner)) measured.corners = std::move(*corners);
  }
  if (const auto at = fields->find("remarks"))
    if (const auto nodes = read_list(*at, 0, longest_list, "remarks"))
      if (auto remarks = read_each<std::string>(*nodes, read_text)) measured.remarks = std::move(*remarks);
  return measured;
}

/// How the sections of a cavity are to be read.
struct Reading {
  std::optional<Axis> across;
  std::optional<measuring::Slope> slope;
  const AllowedFolders* allowed;
};

// ---- ways in which an outline is given -------------------------------------

/// Every key that gives an outline, the plain corners first.
constexpr std::string_view outline_keys[] = {"outline_mm", "tape", "drawing", "list", "picture"};

/// What gives this section's outline. @error E104 nothing does, E112 more than one
std::optional<Node> outline_source(const Fields& fields, std::string& key) {
  std::string given;
  std::optional<Node> source;
  std::size_t count = 0;
  for (const std::string_view known : outline_keys)
    if (auto node = fields.find(known)) {
      given += fmt::format("{}\"{}\"", count++ == 0 ? "" : ", ", known);
      key = known;
      source = std::move(node);
    }
  const Node& node = fields.node();
  if (count == 0) node.log->add("E104", node.pointer, "key missing", "no \"outline_mm\"", "\"outline_mm\", or another way of giving an outline");
  if (count <= 1) return source;
  node.log->add("E112", node.pointer, "keys that exclude each other", given, "one of them", "give another station for each");
  return {};
}

/// Drawings and lists hold the holes as well, and every way but plain corners says by itself how it was measured.
void check_alone(const Fields& fields, const std::string& key) {
  const Node& node = fields.node();
  for (const std::string_view other : {"holes_mm", "measured"}) {
    const bool excluded = key != "outline_mm" && !((key == "picture" || key == "tape") && other == "holes_mm");
    if (excluded && fields.find(other))
      node.log->add("E112", node.pointer, "keys that exclude each other", fmt::format("\"{}\", \"{}\"", key, other),
                    fmt::format("\"{}\" without \"{}\"", key, other));
  }
}

std::optional<GivenOutline> read_taped(const Node& source, std::optional<Axis> across) {
  const auto section = read_tape(source, across);
  auto out = section ? work_out(source, *section) : std::nullopt;
  if (!out) return {};
  return GivenOutline{std::move(out->ring), {}, std::move(out->measured)};
}

std::optional<GivenOutline> read_given(const Node& source, const std::string& key, const Fields& fields, const Reading& how) {
  if (key == "tape") return read_taped(source, how.across);
  if (key == "drawing") return read_drawing_outline(source, *how.allowed);
  if (key == "list") return read_list_outline(source, how.across.value_or(Axis::z), *how.allowed);
  if (key == "picture") return read_picture_outline(source);
  const auto ring = read_ring(source);
  if (const auto at = fields.find("measured")) {
    const auto measured = read_measured(*at, ring);
    return ring && measured ? std::optional(GivenOutline{*ring, {}, *measured}) : std::nullopt;
  }
  return ring ? std::optional(GivenOutline{*ring, {}, {}}) : std::nullopt;
}

std::optional<ReadSection> read_section(const Node& node, const Reading& how) {
  const auto fields = Fields::of(node, "section");
  if (!fields) return {};
  ReadSection read{{}, node, {}};
  const std::size_t before = node.log->size();
  set_needed(*fields, "station_mm", read.section.station, read_coordinate);
  std::string key;
  std::optional<GivenOutline> given;
  if (const auto source = outline_source(*fields, key)) {
    check_alone(*fields, key);
    read.outline_at = source->pointer;
    given = read_given(*source, key, *fields, how);
  }
  const auto outline = given ? std::optional(given->outline) : std::nullopt;
  if (given) read.section.holes = given->holes;
  if (const auto at = fields->find("holes_mm"))
    if (const auto holes = read_holes(*at, outline)) read.section.holes = *holes;
  if (node.log->size() != before || !outline) return {};
  read.section.outline = *outline;
  if (key != "outline_mm" || fields->find("measured")) read.section.measured = given->measured;
  if (how.slope && how.across) turn_back(read.section, *how.across, *how.slope, node);
  return read;
}

/// A section of a drawing of many layers is named by its station alone.
std::string station_pointer(const Node& section) {
  return section.json->is_object() ? below(section.pointer, "station_mm") : section.pointer;
}

void check_stations(const std::vector<ReadSection>& sorted) {
  for (std::size_t i = 1; i < sorted.size(); ++i) {
    if (sorted[i].section.station != sorted[i - 1].section.station) continue;
    sorted[i].node.log->add(
        "E207", station_pointer(sorted[i].node), "station given twice",
        fmt::format("{} mm, as in {}", in_mm(sorted[i].section.station),
                    sorted[i].node.log->where(sorted[i - 1].node.pointer)),
        "each station once", "for a step, give two sections a little apart, say 1 mm");
  }
}

// ---- between: straight -----------------------------------------------------

void check_same_run(const Ring& ring, const Ring& first, const Node& node, std::string_view what,
                    const Node& first_node) {
  if (ring.size() != first.size()) {
    node.log->add("E209", node.pointer, "neighbouring outlines cannot be matched",
                  fmt::format("{} of {} vertices, {} in {}", what, ring.size(), first.size(),
                              first_node.log->where(first_node.pointer)),
                  "with \"between\": \"straight\" the same number of vertices in every section",
                  "add the missing corner to the simpler section, on its wall");
  } else if (runs_clockwise(ring) != runs_clockwise(first)) {
    node.log->add("E210", node.pointer, "neighbouring outlines run in opposite directions",
                  fmt::format("{} listed the other way round than in {}", what, first_node.log->where(first_node.pointer)),
                  "with \"between\": \"straight\" matching vertices in matching order",
                  "list this one backwards, from the same first vertex");
  }
}

/// Every section against the one that stands first in the file.
void check_matching(const std::vector<ReadSection>& in_file) {
  const ReadSection& first = in_file.front();
  const Node first_outline{nullptr, first.outline_at, first.node.log};
  for (std::size_t i = 1; i < in_file.size(); ++i) {
    const ReadSection& other = in_file[i];
    const std::string holes_at = below(other.node.pointer, "holes_mm");
    check_same_run(other.section.outline, first.section.outline,
                   {nullptr, other.outline_at, other.node.log}, "outline",
                   first_outline);
    if (other.section.holes.size() != first.section.holes.size()) {
      const bool listed = other.node.json->is_object() && other.node.json->contains("holes_mm");
      other.node.log->add("E209", listed ? holes_at : other.node.pointer,
                          "neighbouring outlines cannot be matched",
                          fmt::format("holes: {} here, {} in {}", other.section.holes.size(),
                                      first.section.holes.size(), first.node.pointer),
                          "with \"between\": \"straight\" the same holes in every section",
                          "give such an obstacle as a keep-out instead");
      continue;
    }
    for (std::size_t h = 0; h < first.section.holes.size(); ++h)
      check_same_run(other.section.holes[h], first.section.holes[h],
                     {nullptr, below(holes_at, h), other.node.log}, "hole",
                     {nullptr, below(below(first.node.pointer, "holes_mm"), h), first.node.log});
  }
}

/// The outline counter-clockwise; what is known of each corner stays with it.
void turn_outline(Section& section) {
  if (runs_clockwise(section.outline) && section.measured && !section.measured->corners.empty())
    std::reverse(section.measured->corners.begin() + 1, section.measured->corners.end());
  make_counter_clockwise(section.outline);
}

/// First vertices stay first, so vertices that matched still do when all sections turn alike.
std::vector<Section> normalised(std::vector<ReadSection> sorted) {
  std::vector<Section> sections;
  for (ReadSection& read : sorted) {
    turn_outline(read.section);
    for (Ring& hole : read.section.holes) make_clockwise(hole);
    sections.push_back(std::move(read.section));
  }
  return sections;
}

std::optional<std::vector<Section>> in_order(std::vector<ReadSection> read, Between between) {
  if (between == Between::straight) check_matching(read);
  std::stable_sort(read.begin(), read.end(),
                   [](const ReadSection& left, const ReadSection& right) {
                     return left.section.station < right.section.station;
                   });
  check_stations(read);
  return normalised(std::move(read));
}

std::optional<std::vector<Section>> read_stations(const Node& node, const Sections& sections, const Reading& how) {
  const auto nodes = read_list(node, 0, 500, "sections");
  if (!nodes) return {};
  if (nodes->size() < 2) {
    node.log->add("E208", node.pointer, "fewer than 2 sections", std::to_string(nodes->size()),
                  "2 or more sections; outside the first and last nothing is free");
    // what the one section holds is still looked at
  }
  auto read = read_each<ReadSection>(*nodes, [&](const Node& n) { return read_section(n, how); });
  if (!read || read->empty()) return {};
  return in_order(std::move(*read), sections.between);
}

std::optional<std::vector<Section>> read_layers(const Node& node, const Sections& sections, const Reading& how) {
  auto layers = read_drawn_sections(node, *how.allowed);
  if (!layers || layers->empty()) return {};
  std::vector<ReadSection> read;
  for (LayerSection& layer : *layers) {
    read.push_back({{layer.station, std::move(layer.given.outline), std::move(layer.given.holes), std::move(layer.given.measured)},
                    layer.station_node, layer.station_node.pointer});
    if (how.slope && how.across) turn_back(read.back().section, *how.across, *how.slope, layer.station_node);
  }
  return in_order(std::move(read), sections.between);
}

/// A list of sections, one drawing with a layer for each, or a scan cut at stations. @error E104 none, E112 more than one
void read_at(const Fields& fields, Sections& sections, const Reading& how) {
  std::string given;
  std::size_t count = 0;
  for (const std::string_view key : {"at", "from_drawing", "from_scan"})
    if (fields.find(key)) given += fmt::format("{}\"{}\"", count++ == 0 ? "" : ", ", key);
  const Node& node = fields.node();
  if (count == 0) fields.need("at");
  if (count > 1)
    node.log->add("E112", node.pointer, "keys that exclude each other", given, "one of them",
                  "a section of the list may come from a drawing: \"drawing\"; a scan can be cut at every station");
  if (count != 1) return;
  set(fields, "at", sections.at, read_stations, sections, how);
  set(fields, "from_drawing", sections.at, read_layers, sections, how);
  set(fields, "from_scan", sections.at, read_scan_sections, sections, *how.allowed);
}

}  // namespace

std::optional<Sections> read_sections(const Node& node, const AllowedFolders& allowed) {
  static constexpr Word<Between> between_words[] = {{"common", Between::common},
                                                    {"straight", Between::straight}};
  const auto fields = Fields::of(node, "sections");
  if (!fields) return {};
  Sections sections;
  Reading how{{}, {}, &allowed};
  set_needed(*fields, "across", how.across,
             [](const Node& n) { return read_choice(n, axis_words); });
  if (how.across) sections.across = *how.across;
  set(*fields, "between", sections.between,
      [](const Node& n) { return read_choice(n, between_words); });
  set(*fields, "slope_deg", how.slope, read_slope);
  read_at(*fields, sections, how);
  return sections;
}

}  // namespace cellstow::survey
