#include "fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <limits>

namespace cellstow::survey {
namespace {

std::string kind_name(const Json& json) {
  if (json.is_null()) return "null";
  if (json.is_boolean()) return shown(json);
  if (json.is_number()) return "the number " + shown(json);
  if (json.is_string()) return "the text " + shown(json);
  if (json.is_array()) return "a list of " + std::to_string(json.size());
  return "an object";
}

void wrong_kind(const Node& node, std::string expected, std::string hint = {}) {
  node.log->add("E105", node.pointer, "wrong kind of value", kind_name(*node.json),
                std::move(expected), std::move(hint));
}

std::string list_of(std::span<const std::string_view> words) {
  std::string text;
  for (const std::string_view word : words)
    text += fmt::format("{}\"{}\"", text.empty() ? "" : ", ", word);
  return text;
}

std::string did_you_mean(std::string_view word) {
  return word.empty() ? std::string() : fmt::format("did you mean \"{}\"?", word);
}

bool inside(double value, const Range& range) {
  return (range.low_open ? value > range.low : value >= range.low) && value <= range.high;
}

std::optional<double> in_range(const Node& node, double value, const Range& range,
                               std::string_view unit) {
  if (inside(value, range)) return value;
  node.problem("E107", "number out of range", in_words(range, unit));
  return {};
}

std::optional<double> parse_text(const Node& node, Kind kind) {
  const auto value = parse_quantity(node.json->get_ref<const std::string&>(), kind);
  if (value) return *value;
  const std::string expected =
      fmt::format("a number in {}, or text with its unit: {}", unit_of(kind), spellings_of(kind));
  switch (value.error().fault) {
    case UnitFault::no_unit:
      node.problem("E109", "no unit in the text", expected, value.error().hint);
      break;
    case UnitFault::other_kind:
      node.problem("E110", "unit of another kind", expected, value.error().hint);
      break;
    case UnitFault::not_a_quantity:
      node.problem("E109", "not an amount with a unit", expected, value.error().hint);
  }
  return {};
}

constexpr Range coordinate_range{-farthest_mm, farthest_mm};

bool printable(const std::string& text) {
  return std::none_of(text.begin(), text.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) == 0x7f;
  });
}

}  // namespace

std::string shown(const Json& json) {
  constexpr std::size_t longest = 60;
  std::string text = json.dump(-1, ' ', true, Json::error_handler_t::replace);
  if (text.size() > longest) text = text.substr(0, longest) + "...";
  return text;
}

void Node::problem(std::string id, std::string title, std::string expected,
                   std::string hint) const {
  log->add(std::move(id), pointer, std::move(title), shown(*json), std::move(expected),
           std::move(hint));
}

Node Node::at(std::size_t index) const { return {&(*json)[index], below(pointer, index), log}; }

// ---- objects ---------------------------------------------------------------

std::optional<Fields> Fields::of(const Node& node, std::string_view object) {
  if (!node.json->is_object()) {
    wrong_kind(node, "an object");
    return {};
  }
  const ObjectKeys& known = keys_of(object);
  for (const auto& [key, value] : node.json->items()) {
    if (std::find(known.keys.begin(), known.keys.end(), key) != known.keys.end()) continue;
    node.log->add("E103", below(node.pointer, key), "unknown key", shown(Json(key)),
                  known.keys.size() <= 8 ? "one of " + list_of(known.keys)
                                         : "a key that docs/job-file.md lists here",
                  did_you_mean(nearest(key, known.keys)));
  }
  return Fields(node, known);
}

std::optional<Node> Fields::find(std::string_view key) const {
  assert(std::find(keys_->keys.begin(), keys_->keys.end(), key) != keys_->keys.end());
  const auto found = node_.json->find(std::string(key));
  if (found == node_.json->end()) return {};
  return Node{&*found, below(node_.pointer, key), node_.log};
}

std::optional<Node> Fields::need(std::string_view key) const {
  std::optional<Node> node = find(key);
  if (!node)
    node_.log->add("E104", node_.pointer, "key missing", fmt::format("no \"{}\"", key),
                   fmt::format("\"{}\"", key));
  return node;
}

// ---- numbers ---------------------------------------------------------------

std::string in_words(const Range& range, std::string_view unit) {
  const std::string suffix = unit.empty() ? std::string() : fmt::format(" {}", unit);
  if (range.low_open)
    return fmt::format("more than {:.10g}, at most {:.10g}{}", range.low, range.high, suffix);
  return fmt::format("{:.10g} to {:.10g}{}", range.low, range.high, suffix);
}

std::optional<double> read_number(const Node& node, const Range& range, std::string_view unit) {
  if (node.json->is_number()) return in_range(node, node.json->get<double>(), range, unit);
  wrong_kind(node, "a plain number, " + in_words(range, unit));
  return {};
}

std::optional<double> read_quantity(const Node& node, Kind kind, const Range& range) {
  if (!node.json->is_string() && !node.json->is_number()) {
    wrong_kind(node, fmt::format("a number in {}, or text with its unit: {}", unit_of(kind),
                                 spellings_of(kind)));
    return {};
  }
  const std::optional<double> value =
      node.json->is_number() ? std::optional(node.json->get<double>()) : parse_text(node, kind);
  return value ? in_range(node, *value, range, unit_of(kind)) : std::nullopt;
}

std::optional<core::Length> read_coordinate(const Node& node) {
  const auto mm = read_quantity(node, Kind::length, coordinate_range);
  return mm ? std::optional(core::Length::from_mm(*mm)) : std::nullopt;
}

std::optional<core::Length> read_size_or_zero(const Node& node) {
  const auto mm = read_quantity(node, Kind::length, at_least_zero(farthest_mm));
  return mm ? std::optional(core::Length::from_mm_up(*mm)) : std::nullopt;
}

std::optional<core::Length> read_size(const Node& node) {
  // a tenth of a millimetre: thinner is foil, not a part, and 0 by mistake
  const auto mm = read_quantity(node, Kind::length, {0.1, farthest_mm});
  return mm ? std::optional(core::Length::from_mm_up(*mm)) : std::nullopt;
}

std::optional<int> read_whole(const Node& node, int low, int high) {
  const Range range{static_cast<double>(low), static_cast<double>(high)};
  if (!node.json->is_number()) {
    wrong_kind(node, "a whole number, " + in_words(range, {}));
    return {};
  }
  const double value = node.json->get<double>();
  if (value != std::floor(value)) {
    node.problem("E108", "not a whole number", "a whole number, " + in_words(range, {}));
    return {};
  }
  if (!in_range(node, value, range, {})) return {};
  return static_cast<int>(value);
}

// ---- text ------------------------------------------------------------------

std::optional<std::string> read_text(const Node& node) {
  if (node.json->is_string()) return node.json->get<std::string>();
  wrong_kind(node, "text in quotes");
  return {};
}

std::optional<std::string> read_name(const Node& node) {
  constexpr std::size_t longest = 100;
  std::optional<std::string> text = read_text(node);
  if (!text) return {};
  const bool blank = text->find_first_not_of(' ') == std::string::npos;
  if (!blank && text->size() <= longest && printable(*text)) return text;
  node.problem("E116", "name cannot be printed",
               fmt::format("1 to {} letters on one line", longest));
  return {};
}

std::optional<bool> read_yes_no(const Node& node) {
  if (node.json->is_boolean()) return node.json->get<bool>();
  wrong_kind(node, "true or false");
  return {};
}

std::optional<std::size_t> read_word(const Node& node, std::span<const std::string_view> words) {
  if (!node.json->is_string()) {
    wrong_kind(node, "one of " + list_of(words));
    return {};
  }
  const auto& word = node.json->get_ref<const std::string&>();
  const auto found = std::find(words.begin(), words.end(), word);
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  node.problem("E106", "not a known word", "one of " + list_of(words),
               did_you_mean(nearest(word, words)));
  return {};
}

// ---- lists -----------------------------------------------------------------

std::optional<std::vector<Node>> read_list(const Node& node, std::size_t least, std::size_t most,
                                           std::string_view of_what) {
  const std::string expected = least == most ? fmt::format("a list of {} {}", least, of_what)
                               : least == 0
                                   ? fmt::format("a list of {}", of_what)
                                   : fmt::format("a list of {} or more {}", least, of_what);
  if (!node.json->is_array()) {
    wrong_kind(node, expected);
    return {};
  }
  const std::size_t count = node.json->size();
  if (count < least || count > most) {
    node.log->add(
        "E115", node.pointer, "wrong count in a list", std::to_string(count),
        count > most && least != most ? fmt::format("at most {} {}", most, of_what) : expected);
    return {};
  }
  std::vector<Node> nodes;
  for (std::size_t i = 0; i < count; ++i) nodes.push_back(node.at(i));
  return nodes;
}

std::optional<core::Point3> read_point3(const Node& node) {
  const auto list = read_list(node, 3, 3, "coordinates [x, y, z]");
  if (!list) return {};
  const auto values = read_each<core::Length>(*list, read_coordinate);
  if (!values) return {};
  return core::Point3{(*values)[0], (*values)[1], (*values)[2]};
}

std::optional<core::Point2> read_point2(const Node& node) {
  const auto list = read_list(node, 2, 2, "coordinates");
  if (!list) return {};
  const auto values = read_each<core::Length>(*list, read_coordinate);
  if (!values) return {};
  return core::Point2{(*values)[0], (*values)[1]};
}

std::optional<std::array<double, 3>> read_direction(const Node& node) {
  const auto list = read_list(node, 3, 3, "numbers [x, y, z]");
  if (!list) return {};
  const auto parts = read_each<double>(*list, [](const Node& part) {
    return read_number(part, {-1e6, 1e6});
  });
  if (!parts) return {};
  std::array<double, 3> v = {(*parts)[0], (*parts)[1], (*parts)[2]};
  const double length = std::hypot(v[0], v[1], v[2]);
  if (length < 1e-6) {
    node.problem("E214", "direction of no length", "a direction [x, y, z] that is not [0, 0, 0]");
    return {};
  }
  // a unit vector stays bit for bit as it is, so that a printed job reads back the same
  if (std::abs(length - 1) > 1e-12)
    for (double& part : v) part /= length;
  return v;
}

void check_names(const std::vector<Node>& nodes) {
  std::vector<std::string> seen;
  for (const Node& node : nodes) {
    if (!node.json->is_object() || !node.json->contains("name")) continue;
    const Json& name = (*node.json)["name"];
    if (!name.is_string()) continue;
    const auto text = name.get<std::string>();
    const auto first = std::find(seen.begin(), seen.end(), text);
    if (first != seen.end())
      node.log->add("E111", below(node.pointer, "name"), "name stands twice in its list",
                    shown(name), "names that differ within the list",
                    "reports and drawings tell things apart by name");
    seen.push_back(text);
  }
}

void check_order(const Node& node, std::string_view low_name, double low,
                 std::string_view high_name, double high, std::string_view unit) {
  if (low <= high) return;
  const std::string suffix = unit.empty() ? std::string() : fmt::format(" {}", unit);
  node.log->add(
      "E113", node.pointer, fmt::format("{} above {}", low_name, high_name),
      fmt::format("{} {:.10g}{}, {} {:.10g}{}", low_name, low, suffix, high_name, high, suffix),
      fmt::format("{} at most {}", low_name, high_name), "the two may be exchanged");
}

std::string in_mm(core::Length length) {
  std::string text = fmt::format("{:.3f}", length.mm());
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace cellstow::survey
