#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <set>

#include "dxf_drawing.hpp"
#include "fields.hpp"

namespace cellstow::survey {
namespace {

/// Lettering and dimensions stand on the same layer often enough, and are no outline.
constexpr std::string_view lettering[] = {"TEXT", "MTEXT", "ATTDEF", "DIMENSION", "LEADER", "MULTILEADER", "POINT", "HATCH"};
constexpr std::string_view outline_kinds[] = {"LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE"};

template <std::size_t n>
bool among(const std::string& word, const std::string_view (&words)[n]) {
  return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

std::optional<double> number_in(const std::string& text) {
  constexpr double farthest = 1e7;  // ten kilometres in mm: what is drawn farther out is not a car
  std::string_view digits = text;
  if (digits.starts_with('+')) digits.remove_prefix(1);
  double value = 0;
  const auto [end, fault] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (fault != std::errc() || end != digits.data() + digits.size() || !(std::abs(value) <= farthest)) return {};
  return value;
}

std::optional<int> whole_in(const std::string& text) {
  int value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size()) return {};
  return value;
}

/// The groups that places, sizes and shapes hang on.
bool is_measure(int code) { return (code >= 10 && code <= 58) || (code >= 210 && code <= 230); }
bool is_count(int code) { return (code >= 60 && code <= 79) || code == 90; }

class EntityCheck {
 public:
  EntityCheck(const DxfEntity& entity, ProblemLog& log) : entity_(entity), log_(log) {}

  bool holds() {
    if (!numbers_hold()) return false;
    if (!flat()) return refuse_kind("does not lie flat in the drawing's plane");
    if (entity_.type == "LINE") return has({10, 20, 11, 21});
    if (entity_.type == "ARC") return has({10, 20, 40, 50, 51}) && radius_holds();
    if (entity_.type == "CIRCLE") return has({10, 20, 40}) && radius_holds();
    return entity_.type == "LWPOLYLINE" ? light_polyline_holds() : polyline_holds();
  }

 private:
  bool refuse(int line, const std::string& found, const std::string& expected) {
    log_.add("E230", "", "drawing cannot be read", fmt::format("line {}: {}", line, found), expected);
    return false;
  }

  bool refuse_kind(const std::string& why) {
    log_.add("E233", "", "not a line, arc or polyline", fmt::format("line {}: {} {}", entity_.line, entity_.type, why),
             "lines, arcs, circles and plain polylines", "draw it again flat, as lines and arcs");
    return false;
  }

  bool numbers_hold() {
    for (const DxfGroup& group : entity_.groups) {
      if (is_measure(group.code) && !number_in(group.value))
        return refuse(group.line, fmt::format("{} in a {}", shown(Json(group.value)), entity_.type), "a number of at most 10000000");
      if (is_count(group.code) && !whole_in(group.value))
        return refuse(group.line, fmt::format("{} in a {}", shown(Json(group.value)), entity_.type), "a whole number");
      if (group.code == 42 && std::abs(*number_in(group.value)) > 1000)
        return refuse(group.line, fmt::format("a bulge of {}", group.value), "an arc of less than a full turn");
    }
    return true;
  }

  std::optional<double> value(int code) const {
    for (const DxfGroup& group : entity_.groups)
      if (group.code == code) return number_in(group.value);
    return {};
  }

  bool flat() const {
    if (value(210).value_or(0) != 0 || value(220).value_or(0) != 0 || std::abs(value(230).value_or(1)) != 1) return false;
    return entity_.type != "LINE" || value(30).value_or(0) == value(31).value_or(0);
  }

  bool has(std::initializer_list<int> codes) {
    for (const int code : codes)
      if (!value(code)) return refuse(entity_.line, fmt::format("a {} without its group {}", entity_.type, code), "a whole entity");
    return true;
  }

  bool radius_holds() {
    return *value(40) > 0 || refuse(entity_.line, fmt::format("a radius of {}", *value(40)), "a radius above 0");
  }

  /// Each place is a 10 followed by a 20; bulges follow the place they belong to.
  bool light_polyline_holds() {
    int places = 0, heights = 0;
    for (const DxfGroup& group : entity_.groups) {
      if (group.code == 10 && places++ != heights) return refuse(group.line, "a place without its second number", "two numbers");
      if (group.code == 20 && ++heights != places) return refuse(group.line, "a second number without a place", "two numbers");
      if (group.code == 42 && places == 0) return refuse(group.line, "a bulge before the first place", "places first");
    }
    const double told = value(90).value_or(-1);
    if (places != heights || told != places)
      return refuse(entity_.line, fmt::format("a LWPOLYLINE that says {} corners and has {}", told, places), "as many as it says");
    return true;
  }

  bool polyline_holds() {
    // 4 smoothed by a spline, 8 in space, 16 and 64 nets of faces
    const int kind = static_cast<int>(value(70).value_or(0));
    if (kind & (4 | 8 | 16 | 64)) return refuse_kind("smoothed, in space or a net of faces");
    bool has_a = true, has_b = true;
    int line = entity_.line;
    for (const DxfGroup& group : entity_.groups) {
      if (group.code == 0) {
        if (!has_a || !has_b) return refuse(line, "a VERTEX without its place", "two numbers");
        has_a = has_b = group.value != "VERTEX";
        line = group.line;
      }
      has_a |= group.code == 10;
      has_b |= group.code == 20;
    }
    if (std::none_of(entity_.groups.begin(), entity_.groups.end(), is_end))
      return refuse(entity_.line, "a POLYLINE without SEQEND", "a whole entity");
    return (has_a && has_b) || refuse(line, "a VERTEX without its place", "two numbers");
  }

  static bool is_end(const DxfGroup& group) { return group.code == 0 && group.value == "SEQEND"; }

  const DxfEntity& entity_;
  ProblemLog& log_;
};

std::string layers_of(const DxfDrawing& drawing) {
  std::set<std::string> names;
  for (const DxfEntity& entity : drawing.entities)
    if (!entity.on_paper) names.insert(entity.layer);
  std::string text;
  std::size_t told = 0;
  for (const std::string& name : names) {
    if (told++ == 10) return text + fmt::format(" and {} more", names.size() - 10);
    text += (text.empty() ? "" : ", ") + shown(Json(name));
  }
  return text.empty() ? "the drawing is empty" : "layers with something on them: " + text;
}

struct Counted {
  int count = 0, first_line = 0;
};

void count_in(std::map<std::string, Counted>& kinds, const DxfEntity& entity) {
  Counted& counted = kinds[entity.type];
  if (counted.count++ == 0) counted.first_line = entity.line;
}

void refuse_kinds(const std::map<std::string, Counted>& kinds, const std::string& layer, ProblemLog& log) {
  for (const auto& [kind, counted] : kinds) {
    const bool block = kind == "INSERT";
    log.add("E233", "", "not a line, arc or polyline",
            fmt::format("{} {} on layer {}, the first in line {}", counted.count, shown(Json(kind)), shown(Json(layer)), counted.first_line),
            "lines, arcs, circles and plain polylines",
            block ? "break the block up into its lines (explode)" : "draw it again as lines and arcs, or move it to another layer");
  }
}

}  // namespace

std::optional<LayerPieces> pieces_on_layer(const DxfDrawing& drawing, const std::string& layer, ProblemLog& log) {
  std::vector<const DxfEntity*> wanted;
  std::map<std::string, Counted> aside, refused;
  for (const DxfEntity& entity : drawing.entities) {
    if (entity.on_paper || entity.layer != layer) continue;
    if (among(entity.type, outline_kinds))
      wanted.push_back(&entity);
    else
      count_in(among(entity.type, lettering) ? aside : refused, entity);
  }
  refuse_kinds(refused, layer, log);
  if (wanted.empty() && refused.empty())
    log.add("E232", "", "nothing drawn on the layer", fmt::format("no line on layer {}; {}", shown(Json(layer)), layers_of(drawing)),
            "lines, arcs, circles or polylines on that layer");
  bool all_hold = refused.empty() && !wanted.empty();
  for (const DxfEntity* entity : wanted) all_hold = EntityCheck(*entity, log).holds() && all_hold;
  if (!all_hold) return {};
  LayerPieces found{drawn_pieces(wanted), 0, {}};
  if (found.pieces.size() > most_pieces) {
    log.add("E117", "", "more than any outline holds", fmt::format("{} pieces on layer {}", found.pieces.size(), shown(Json(layer))),
            fmt::format("at most {}", most_pieces));
    return {};
  }
  found.arcs = static_cast<int>(std::count_if(found.pieces.begin(), found.pieces.end(), [](const auto& piece) { return piece.bulge != 0; }));
  for (const auto& [kind, counted] : aside) found.left_aside.push_back(fmt::format("{} {}", counted.count, kind));
  return found;
}

}  // namespace cellstow::survey
