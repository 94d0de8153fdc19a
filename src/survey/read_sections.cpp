#include <fmt/format.h>

#include <algorithm>

#include "outline.hpp"
#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

/// A section as read, outline and holes still running as the user listed them.
struct ReadSection {
  Section section;
  Node node;
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

std::optional<ReadSection> read_section(const Node& node) {
  const auto fields = Fields::of(node, "section");
  if (!fields) return {};
  ReadSection read{{}, node};
  const std::size_t before = node.log->size();
  set_needed(*fields, "station_mm", read.section.station, read_coordinate);
  std::optional<Ring> outline;
  if (const auto at = fields->need("outline_mm")) outline = read_ring(*at);
  if (const auto at = fields->find("holes_mm"))
    if (const auto holes = read_holes(*at, outline)) read.section.holes = *holes;
  if (const auto at = fields->find("measured")) read.section.measured = read_measured(*at, outline);
  if (node.log->size() != before) return {};
  read.section.outline = *outline;
  return read;
}

void check_stations(const std::vector<ReadSection>& sorted) {
  for (std::size_t i = 1; i < sorted.size(); ++i) {
    if (sorted[i].section.station != sorted[i - 1].section.station) continue;
    sorted[i].node.log->add(
        "E207", below(sorted[i].node.pointer, "station_mm"), "station given twice",
        fmt::format("{} mm, as in {}", in_mm(sorted[i].section.station),
                    sorted[i - 1].node.pointer),
        "each station once", "for a step, give two sections a little apart, say 1 mm");
  }
}

// ---- between: straight -----------------------------------------------------

void check_same_run(const Ring& ring, const Ring& first, const Node& node, std::string_view what,
                    const Node& first_node) {
  if (ring.size() != first.size()) {
    node.log->add("E209", node.pointer, "neighbouring outlines cannot be matched",
                  fmt::format("{} of {} vertices, {} in {}", what, ring.size(), first.size(),
                              first_node.pointer),
                  "with \"between\": \"straight\" the same number of vertices in every section",
                  "add the missing corner to the simpler section, on its wall");
  } else if (runs_clockwise(ring) != runs_clockwise(first)) {
    node.log->add("E210", node.pointer, "neighbouring outlines run in opposite directions",
                  fmt::format("{} listed the other way round than in {}", what, first_node.pointer),
                  "with \"between\": \"straight\" matching vertices in matching order",
                  "list this one backwards, from the same first vertex");
  }
}

/// Every section against the one that stands first in the file.
void check_matching(const std::vector<ReadSection>& in_file) {
  const ReadSection& first = in_file.front();
  const Node first_outline{nullptr, below(first.node.pointer, "outline_mm"), first.node.log};
  for (std::size_t i = 1; i < in_file.size(); ++i) {
    const ReadSection& other = in_file[i];
    const std::string holes_at = below(other.node.pointer, "holes_mm");
    check_same_run(other.section.outline, first.section.outline,
                   {nullptr, below(other.node.pointer, "outline_mm"), other.node.log}, "outline",
                   first_outline);
    if (other.section.holes.size() != first.section.holes.size()) {
      const bool listed = other.node.json->contains("holes_mm");
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

std::optional<std::vector<Section>> read_stations(const Node& node, Between between) {
  const auto nodes = read_list(node, 0, 500, "sections");
  if (!nodes) return {};
  if (nodes->size() < 2) {
    node.log->add("E208", node.pointer, "fewer than 2 sections", std::to_string(nodes->size()),
                  "2 or more sections; outside the first and last nothing is free");
    // what the one section holds is still looked at
  }
  auto read = read_each<ReadSection>(*nodes, read_section);
  if (!read || read->empty()) return {};
  if (between == Between::straight) check_matching(*read);
  std::stable_sort(read->begin(), read->end(),
                   [](const ReadSection& left, const ReadSection& right) {
                     return left.section.station < right.section.station;
                   });
  check_stations(*read);
  return normalised(std::move(*read));
}

}  // namespace

std::optional<Sections> read_sections(const Node& node, const AllowedFolders& allowed) {
  static constexpr Word<Between> between_words[] = {{"common", Between::common},
                                                    {"straight", Between::straight}};
  const auto fields = Fields::of(node, "sections");
  if (!fields) return {};
  Sections sections;
  set_needed(*fields, "across", sections.across,
             [](const Node& n) { return read_choice(n, axis_words); });
  set(*fields, "between", sections.between,
      [](const Node& n) { return read_choice(n, between_words); });
  if (!fields->find("from_scan"))
    set_needed(*fields, "at", sections.at, read_stations, sections.between);
  else if (fields->find("at"))
    node.log->add("E112", node.pointer, "keys that exclude each other", "\"at\", \"from_scan\"", "one of them",
                  "a station between two others can be cut from the scan as well");
  else
    set(*fields, "from_scan", sections.at, read_scan_sections, sections, allowed);
  return sections;
}

}  // namespace cellstow::survey
