#include <fmt/format.h>

#include "dxf_drawing.hpp"
#include "given_outline.hpp"

namespace cellstow::survey {
namespace {

constexpr Word<double> units_mm[] = {{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}, {"ft", 304.8}};

std::optional<double> read_gap(const Node& node) { return read_quantity(node, Kind::length, at_least_zero(50)); }

std::optional<measuring::DrawnPoint> read_drawn_point(const Node& node) {
  constexpr Range range{-1e7, 1e7};
  const auto nodes = read_list(node, 2, 2, "numbers [a, b]");
  const auto numbers = nodes ? read_each<double>(*nodes, [&](const Node& n) { return read_number(n, range); }) : std::nullopt;
  if (!numbers) return {};
  return measuring::DrawnPoint{(*numbers)[0], (*numbers)[1]};
}

std::optional<measuring::KnownPair> read_known_pair(const Node& node) {
  const auto fields = Fields::of(node, "drawing_known_reference");
  if (!fields) return {};
  std::optional<measuring::DrawnPoint> drawn;
  std::optional<core::Point2> at;
  set_needed(*fields, "in_drawing", drawn, read_drawn_point);
  set_needed(*fields, "at_mm", at, read_point2);
  if (!drawn || !at) return {};
  return measuring::KnownPair{*drawn, {at->a.mm(), at->b.mm()}};
}

std::optional<std::vector<measuring::KnownPair>> read_known_pairs(const Node& node) {
  const auto nodes = read_list(node, 2, 50, "known points");
  const auto pairs = nodes ? read_each<measuring::KnownPair>(*nodes, read_known_pair) : std::nullopt;
  if (!pairs) return {};
  for (std::size_t i = 0; i < pairs->size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const auto &p = (*pairs)[i], &q = (*pairs)[j];
      const bool drawn_together = p.drawn.a_mm == q.drawn.a_mm && p.drawn.b_mm == q.drawn.b_mm;
      if (!drawn_together && (p.at.a_mm != q.at.a_mm || p.at.b_mm != q.at.b_mm)) continue;
      (*nodes)[i].log->add("E238", (*nodes)[i].pointer, "known points do not fit", fmt::format("the same place as known point {}", j),
                           "points apart from one another, best far apart");
      return {};
    }
  return pairs;
}

DrawingWanted read_wanted(const Fields& fields) {
  DrawingWanted wanted;
  set(fields, "gap_mm", wanted.gap_mm, read_gap);
  set(fields, "unit", wanted.unit_mm, [](const Node& n) { return read_choice(n, units_mm); });
  set(fields, "mirrored", wanted.mirrored, read_yes_no);
  set(fields, "known", wanted.known, read_known_pairs);
  set(fields, "known_within_mm", wanted.known_within_mm, [](const Node& n) { return read_quantity(n, Kind::length, above_zero(1000)); });
  set(fields, "give_or_take_mm", wanted.give_or_take, read_size_or_zero);
  return wanted;
}

/// A drawing that the job names, taken apart, with what the job says about it.
struct OpenedDrawing {
  Node file_node;
  std::string name;   ///< as the job gives it
  ProblemLog log;
  std::optional<DxfDrawing> drawing;
  DrawingWanted wanted;
  std::optional<Node> known;
};

std::optional<OpenedDrawing> open_drawing(const Fields& fields, const AllowedFolders& allowed) {
  const std::size_t before = fields.node().log->size();
  DrawingWanted wanted = read_wanted(fields);
  const auto file = fields.need("file");
  const auto text = file ? read_named_text(*file, allowed) : std::nullopt;
  if (!text) return {};
  OpenedDrawing opened{*file, file->json->get<std::string>(), ProblemLog(text->path.generic_string()), {}, std::move(wanted), fields.find("known")};
  opened.drawing = parse_dxf(text->text, opened.log);
  if (!opened.drawing) file->log->add_from_file(file->pointer, opened.log.in_file_order());
  if (!opened.drawing || file->log->size() != before) return {};
  return opened;
}

std::optional<GivenOutline> outline_of(OpenedDrawing& opened, const std::string& layer) {
  ProblemLog log(opened.log.file());
  auto given = outline_on_layer(*opened.drawing, layer, opened.wanted, log, opened.known ? &*opened.known : nullptr);
  opened.file_node.log->add_from_file(opened.file_node.pointer, log.in_file_order());
  if (!given) return {};
  given->measured.remarks.insert(given->measured.remarks.begin(), fmt::format("drawn on layer {} of {}", layer, opened.name));
  return given;
}

std::optional<LayerSection> read_layer(OpenedDrawing& opened, const std::string& layer, const Node& station_node) {
  const auto station = read_coordinate(station_node);
  auto given = outline_of(opened, layer);
  if (!station || !given) return {};
  return LayerSection{station_node, *station, std::move(*given)};
}

}  // namespace

std::optional<GivenOutline> read_drawing_outline(const Node& node, const AllowedFolders& allowed) {
  const auto fields = Fields::of(node, "drawing_reference");
  if (!fields) return {};
  std::optional<std::string> layer;
  set_needed(*fields, "layer", layer, read_name);
  auto opened = open_drawing(*fields, allowed);
  return opened && layer ? outline_of(*opened, *layer) : std::nullopt;
}

std::optional<std::vector<LayerSection>> read_drawn_sections(const Node& node, const AllowedFolders& allowed) {
  const auto fields = Fields::of(node, "from_drawing_reference");
  if (!fields) return {};
  const auto layers = fields->need("layers");
  auto opened = open_drawing(*fields, allowed);
  if (!layers) return {};
  if (!layers->json->is_object()) {
    layers->problem("E105", "wrong kind of value", "an object: layer and its station, {\"S70\": 70, \"S200\": 200}");
    return {};
  }
  if (layers->json->size() > 500) {
    layers->problem("E115", "wrong count in a list", "at most 500 layers");
    return {};
  }
  if (layers->json->size() < 2) layers->log->add("E208", layers->pointer, "fewer than 2 sections", std::to_string(layers->json->size()), "2 or more sections; outside the first and last nothing is free");
  if (!opened) return {};
  std::vector<LayerSection> sections;
  for (const auto& [layer, station] : layers->json->items())
    if (auto section = read_layer(*opened, layer, {&station, below(layers->pointer, layer), layers->log})) sections.push_back(std::move(*section));
  return sections.size() == layers->json->size() ? std::optional(std::move(sections)) : std::nullopt;
}

}  // namespace cellstow::survey
