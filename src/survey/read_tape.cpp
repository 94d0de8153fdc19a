#include "read_tape.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

using measuring::Side;

constexpr std::size_t most_datums = 20, most_points = 60, most_checks = 200;
/// A tape in a cavity reads no less than its hook and no more than the car is long.
constexpr Range reading_range{1, 2 * farthest_mm};
constexpr Range give_or_take_range{0.05, 100};

/// The two directions of each axis, low one first.
constexpr std::string_view directions[3][2] = {{"front", "rear"}, {"left", "right"}, {"below", "above"}};

std::optional<Side> read_side(const Node& node, std::optional<Axis> across) {
  if (!across) return {};
  const auto words = side_words(*across);
  const auto found = read_word(node, words);
  return found ? std::optional(static_cast<Side>(*found)) : std::nullopt;
}

std::optional<double> read_give_or_take(const Node& node) { return read_quantity(node, Kind::length, give_or_take_range); }

std::optional<measuring::Datum> read_datum(const Node& node) {
  const auto fields = Fields::of(node, "tape_datum");
  if (!fields) return {};
  measuring::Datum datum;
  core::Point2 at;
  set_needed(*fields, "name", datum.name, read_name);
  set_needed(*fields, "at_mm", at, read_point2);
  datum.at = {at.a.mm(), at.b.mm()};
  return datum;
}

/// Reads one tape; names are looked up once datums and points are known.
class TapeReader {
 public:
  TapeReader(const Fields& fields, std::optional<Axis> across) : fields_(fields), across_(across) {
    if (across) tape_.across = *across;
  }

  std::optional<TapeSection> run() {
    const std::size_t before = fields_.node().log->size();
    set(fields_, "give_or_take_mm", tape_.give_or_take_mm, read_give_or_take);
    std::optional<Side> side;
    if (const auto at = fields_.find("side")) side = read_side(*at, across_);
    read_datums();
    read_points(side);
    for (std::size_t i = 0; i < point_fields_.size(); ++i) read_point_readings(i);
    if (const auto at = fields_.find("checks")) read_checks(*at);
    read_outline_order();
    if (fields_.node().log->size() != before) return {};
    return std::move(tape_);
  }

 private:
  void read_datums() {
    const auto node = fields_.need("datums");
    const auto nodes = node ? read_list(*node, 2, most_datums, "datums") : std::nullopt;
    if (!nodes) return;
    check_names(*nodes);
    if (auto datums = read_each<measuring::Datum>(*nodes, read_datum)) tape_.datums = std::move(*datums);
    for (std::size_t i = 0; i < tape_.datums.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (measuring::distance(tape_.datums[i].at, tape_.datums[j].at) > 0) continue;
        (*nodes)[i].log->add("E224", below((*nodes)[i].pointer, "at_mm"), "two datums at one place",
                             fmt::format("\"{}\" where \"{}\" is", tape_.datums[i].name, tape_.datums[j].name),
                             "datums apart from each other");
      }
    }
  }

  void read_points(std::optional<Side> side) {
    const auto node = fields_.need("points");
    const auto nodes = node ? read_list(*node, 3, most_points, "points") : std::nullopt;
    if (!nodes) return;
    check_names(*nodes);
    for (const Node& one : *nodes) {
      const auto fields = Fields::of(one, "tape_point");
      if (!fields) continue;
      measuring::Point point{"", side};
      set_needed(*fields, "name", point.name, read_name);
      if (const auto at = fields->find("side")) point.side = read_side(*at, across_);
      check_not_a_datum(*fields, point.name);
      tape_.points.push_back(std::move(point));
      point_fields_.push_back(*fields);
    }
  }

  void check_not_a_datum(const Fields& fields, const std::string& name) const {
    const bool taken = std::any_of(tape_.datums.begin(), tape_.datums.end(), [&](const measuring::Datum& d) { return d.name == name; });
    if (!taken || name.empty()) return;
    fields.node().log->add("E111", below(fields.node().pointer, "name"), "name stands twice", shown(Json(name)),
                           "points named otherwise than datums", "readings tell places apart by name");
  }

  /// Number of a datum or point. @error E223
  std::optional<std::size_t> place(const Node& node, const std::string& name) const {
    const std::size_t places = tape_.datums.size() + tape_.points.size();
    std::vector<std::string_view> names;
    for (std::size_t i = 0; i < places; ++i) {
      if (tape_.name(i) == name) return i;
      names.push_back(tape_.name(i));
    }
    const std::string_view like = nearest(name, names);
    node.log->add("E223", node.pointer, "name of no datum and no point", shown(Json(name)), "a name of this section's datums and points",
                  like.empty() || name.size() < 2 ? "" : fmt::format("did you mean \"{}\"?", like));
    return {};
  }

  /// @return false when the value does not read; null is a reading still to be taken
  bool read_length(const Node& node, TapeReading& reading) const {
    reading.pointer = node.pointer;
    if (node.json->is_null()) return true;
    reading.mm = read_tape_length(node);
    if (reading.mm) reading.written = node.json->is_string() ? node.json->get<std::string>() : node.json->dump();
    return reading.mm.has_value();
  }

  void read_point_readings(std::size_t point) {
    const Fields& fields = point_fields_[point];
    double give_or_take = tape_.give_or_take_mm;
    set(fields, "give_or_take_mm", give_or_take, read_give_or_take);
    const auto from = fields.need("from_mm");
    if (!from) return;
    if (!from->json->is_object()) {
      from->problem("E105", "wrong kind of value", "an object: a length for each datum, {\"D1\": 440, \"D2\": \"17 5/16 in\"}");
      return;
    }
    for (const auto& [name, value] : from->json->items()) {
      const Node node{&value, below(from->pointer, name), from->log};
      const auto other = place(node, name);
      TapeReading reading;
      reading.to = tape_.datums.size() + point;
      reading.give_or_take_mm = give_or_take;
      if (!read_length(node, reading) || !other) continue;
      reading.from = *other;
      if (check_ends(node, reading)) tape_.readings.push_back(std::move(reading));
    }
  }

  bool check_ends(const Node& node, const TapeReading& reading) const {
    if (reading.from != reading.to) return true;
    node.log->add("E223", node.pointer, "length from a place to itself", fmt::format("\"{}\" twice", tape_.name(reading.to)),
                  "two different places");
    return false;
  }

  void read_checks(const Node& node) {
    const auto nodes = read_list(node, 0, most_checks, "check readings");
    if (!nodes) return;
    for (const Node& one : *nodes) {
      if (const auto fields = Fields::of(one, "tape_check")) read_check(*fields);
    }
  }

  void read_check(const Fields& fields) {
    TapeReading reading;
    reading.check = true;
    reading.give_or_take_mm = tape_.give_or_take_mm;
    set(fields, "give_or_take_mm", reading.give_or_take_mm, read_give_or_take);
    const auto length = fields.need("reading_mm");
    const bool reads = length && read_length(*length, reading);
    const auto between = fields.need("between");
    const auto nodes = between ? read_list(*between, 2, 2, "names of places") : std::nullopt;
    const auto ends = nodes ? read_each<std::size_t>(*nodes, [&](const Node& n) -> std::optional<std::size_t> {
      const auto name = read_text(n);
      return name ? place(n, *name) : std::nullopt;
    }) : std::nullopt;
    if (!ends || !reads) return;
    reading.from = (*ends)[0];
    reading.to = (*ends)[1];
    if (check_ends(*between, reading)) tape_.readings.push_back(std::move(reading));
  }

  void read_outline_order() {
    const auto node = fields_.find("outline");
    for (std::size_t i = 0; !node && i < tape_.points.size(); ++i) tape_.outline.push_back(i);
    const auto nodes = node ? read_list(*node, 0, most_points, "names of points") : std::nullopt;
    if (!nodes) return;
    for (const Node& one : *nodes) {
      const auto name = read_text(one);
      const auto found = name ? place(one, *name) : std::nullopt;
      if (!found) continue;
      if (*found < tape_.datums.size())
        one.problem("E223", "a datum is no corner", "a name of this section's points");
      else
        tape_.outline.push_back(*found - tape_.datums.size());
    }
  }

  const Fields& fields_;
  std::optional<Axis> across_;
  std::vector<Fields> point_fields_;
  TapeSection tape_;
};

}  // namespace

std::optional<TapeSection> read_tape(const Node& node, std::optional<Axis> across) {
  const auto fields = Fields::of(node, "tape");
  return fields ? TapeReader(*fields, across).run() : std::nullopt;
}

std::array<std::string_view, 4> side_words(Axis across) {
  const int first = across == Axis::x ? 1 : 0, second = across == Axis::z ? 1 : 2;
  return {directions[first][0], directions[first][1], directions[second][0], directions[second][1]};
}

std::optional<double> read_tape_length(const Node& node) { return read_quantity(node, Kind::length, reading_range); }

std::string outline_pointer(const Node& tape) {
  return below(tape.pointer, tape.json->is_object() && tape.json->contains("outline") ? "outline" : "points");
}

std::string section_name(const TapeSection& section) {
  return fmt::format("{} {}", axis_words[static_cast<std::size_t>(section.across)].word, in_mm(section.station));
}

}  // namespace cellstow::survey
