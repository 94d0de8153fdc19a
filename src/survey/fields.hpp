#pragma once
/// Reading values out of the tree, each with its checks and its words when something is wrong.
/// A reader returns nothing when the value is missing or bad; the log then holds why.

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "keys.hpp"
#include "strict_json.hpp"
#include "units.hpp"

namespace cellstow::survey {

/// A value of the tree with the pointer under which problems name it.
struct Node {
  const Json* json;
  std::string pointer;
  ProblemLog* log;

  void problem(std::string id, std::string title, std::string expected,
               std::string hint = {}) const;
  Node at(std::size_t index) const;
};

/// What stands there, as JSON, shortened to a line.
std::string shown(const Json& json);

/// An object whose keys are known.
class Fields {
 public:
  /// @error E105 not an object, E103 unknown key
  static std::optional<Fields> of(const Node& node, std::string_view object);

  /// @pre `key` is listed for the object in keys.cpp
  std::optional<Node> find(std::string_view key) const;
  /// @error E104 key missing
  std::optional<Node> need(std::string_view key) const;
  const Node& node() const { return node_; }

 private:
  Fields(Node node, const ObjectKeys& keys) : node_(std::move(node)), keys_(&keys) {}
  Node node_;
  const ObjectKeys* keys_;
};

// ---- limits ----------------------------------------------------------------

/// What a number may be; both ends belong to it unless low_open says otherwise.
struct Range {
  double low, high;
  bool low_open = false;
};

constexpr Range at_least_zero(double high) { return {0, high}; }
constexpr Range above_zero(double high) { return {0, high, true}; }

/// "0 to 10000 mm", "more than 0, at most 100 kg".
std::string in_words(const Range& range, std::string_view unit);

/// No place in or near a car is farther from the front axle than this.
inline constexpr double farthest_mm = 10'000;

// ---- single values ---------------------------------------------------------

/// A plain number. @error E105, E107
std::optional<double> read_number(const Node& node, const Range& range, std::string_view unit = {});

/// A number in the kind's unit, or text with its own. @error E105, E107, E109, E110
std::optional<double> read_quantity(const Node& node, Kind kind, const Range& range);

template <class Q>
std::optional<Q> read_as(const Node& node, Kind kind, const Range& range) {
  const std::optional<double> value = read_quantity(node, kind, range);
  return value ? std::optional<Q>(Q::of(*value)) : std::nullopt;
}

/// Nearest micrometre, within farthest_mm either way.
std::optional<core::Length> read_coordinate(const Node& node);
/// Next micrometre up, 0 to farthest_mm.
std::optional<core::Length> read_size_or_zero(const Node& node);
/// Next micrometre up, more than 0.
std::optional<core::Length> read_size(const Node& node);

/// A whole number. @error E105, E107, E108
std::optional<int> read_whole(const Node& node, int low, int high);

std::optional<std::string> read_text(const Node& node);
/// Text that reports and drawings can print. @error E116 empty, too long or with control characters
std::optional<std::string> read_name(const Node& node);
std::optional<bool> read_yes_no(const Node& node);

/// One word of a list. @error E105, E106
std::optional<std::size_t> read_word(const Node& node, std::span<const std::string_view> words);

template <class E>
struct Word {
  std::string_view word;
  E value;
};

template <class E, std::size_t n>
std::optional<E> read_choice(const Node& node, const Word<E> (&choices)[n]) {
  std::array<std::string_view, n> words;
  for (std::size_t i = 0; i < n; ++i) words[i] = choices[i].word;
  const std::optional<std::size_t> found = read_word(node, words);
  return found ? std::optional<E>(choices[*found].value) : std::nullopt;
}

// ---- lists -----------------------------------------------------------------

/// The elements of a list. @error E105 not a list, E115 too few or too many
std::optional<std::vector<Node>> read_list(const Node& node, std::size_t least, std::size_t most,
                                           std::string_view of_what);

std::optional<core::Point3> read_point3(const Node& node);
std::optional<core::Point2> read_point2(const Node& node);
std::optional<std::array<double, 3>> read_direction(const Node& node);

/// Every element must read; the whole list is nothing when one does not.
template <class T, class Read>
std::optional<std::vector<T>> read_each(const std::vector<Node>& nodes, Read read) {
  std::vector<T> values;
  bool all = true;
  for (const Node& node : nodes) {
    std::optional<T> value = read(node);
    if (value)
      values.push_back(std::move(*value));
    else
      all = false;
  }
  return all ? std::optional(std::move(values)) : std::nullopt;
}

/// Most entries a list of named things may have.
inline constexpr std::size_t longest_list = 1000;

/// @error E111 an object of the list has the name of an earlier one
void check_names(const std::vector<Node>& nodes);

/// A list of named things. @error E111 a name stands twice
template <class T, class Read>
std::optional<std::vector<T>> read_named(const Node& node, std::size_t least,
                                         std::string_view of_what, Read read) {
  const auto nodes = read_list(node, least, longest_list, of_what);
  if (!nodes) return {};
  check_names(*nodes);
  return read_each<T>(*nodes, read);
}

// ---- into members ----------------------------------------------------------

/// target = read(value of key), when the key is there and reads.
template <class T, class Read, class... More>
void set(const Fields& fields, std::string_view key, T& target, Read read, const More&... more) {
  const std::optional<Node> node = fields.find(key);
  if (!node) return;
  if (auto value = read(*node, more...)) target = std::move(*value);
}

/// As set, for a key that has to be there.
template <class T, class Read, class... More>
void set_needed(const Fields& fields, std::string_view key, T& target, Read read,
                const More&... more) {
  const std::optional<Node> node = fields.need(key);
  if (!node) return;
  if (auto value = read(*node, more...)) target = std::move(*value);
}

/// @error E113 the first of two values that belong together is above the second
void check_order(const Node& node, std::string_view low_name, double low,
                 std::string_view high_name, double high, std::string_view unit);

/// A length in mm as exact as it is held: "17.3", "440".
std::string in_mm(core::Length length);

}  // namespace cellstow::survey
