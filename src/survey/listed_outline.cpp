#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "comma_list.hpp"
#include "given_outline.hpp"

namespace cellstow::survey {
namespace {

constexpr std::string_view unit_words[] = {"mm", "cm", "m", "in", "ft"};
constexpr std::size_t most_rows = 20'000;

std::string lower(std::string_view text) {
  std::string out;
  for (const char c : text) out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return out;
}

std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of(" \t");
  return first == std::string::npos ? std::string() : text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string in_quotes(const std::string& text) { return shown(Json(text)); }

/// "b_mm", "b (mm)", "b [mm]", "B mm", "b": the word and the unit.
struct Heading {
  std::string word, unit;
};

Heading heading_of(const std::string& field) {
  std::string text = lower(trimmed(field));
  if (!text.empty() && (text.back() == ')' || text.back() == ']')) text.pop_back();
  const std::size_t cut = text.find_last_of("_ ([");
  if (cut == std::string::npos) return {text, ""};
  const std::string tail = text.substr(cut + 1);
  if (std::find(std::begin(unit_words), std::end(unit_words), tail) == std::end(unit_words)) return {text, ""};
  const std::size_t end = text.find_last_not_of("_ ([", cut);
  return {end == std::string::npos ? std::string() : text.substr(0, end + 1), tail};
}

/// Where each thing stands; -1: nowhere.
struct Columns {
  int name = -1, first = -1, second = -1, section = -1, hole = -1, give_or_take = -1, note = -1;
  std::string first_unit, second_unit, give_or_take_unit;
};

class ListReader {
 public:
  ListReader(const ListWanted& wanted, ProblemLog& log) : wanted_(wanted), log_(log) {}

  std::optional<GivenOutline> read(std::string_view bytes) {
    const CommaList table = parse_comma_list(bytes);
    for (const CommaFault& fault : table.faults) line_fault(fault.line, fault.found, fault.expected);
    if (!table.faults.empty()) return {};
    if (table.rows.empty() || table.rows.size() > most_rows) {
      log_.add("E237", "", "not a list of corners", table.rows.empty() ? "an empty file" : fmt::format("{} lines", table.rows.size()),
               fmt::format("a line of headings, then at most {} corners, one a line", most_rows - 1));
      return {};
    }
    if (!read_headings(table.rows[0])) return {};
    for (std::size_t i = 1; i < table.rows.size(); ++i) read_row(table.rows[i], table.rows[0].fields.size());
    return finished();
  }

 private:
  void line_fault(int line, const std::string& found, const std::string& expected, const std::string& hint = {}) {
    log_.add("E236", "", "a line of the list cannot be used", fmt::format("line {}: {}", line, found), expected, hint);
  }

  bool heading_fault(const std::string& found, const std::string& hint = {}) {
    const auto [a, b] = axes_of_plane(wanted_.across);
    log_.add("E237", "", "not a list of corners", found,
             fmt::format("headings \"a\" and \"b\" (or \"{}\" and \"{}\") with their unit (\"{}_mm\"), and if wanted \"name\", \"section\", \"hole\", "
                         "\"give_or_take\", \"note\"", a, b, a), hint);
    return false;
  }

  bool read_headings(const CommaRow& row) {
    const auto [a, b] = axes_of_plane(wanted_.across);
    bool fine = true;
    for (std::size_t i = 0; i < row.fields.size(); ++i) {
      const Heading heading = heading_of(row.fields[i]);
      int* column = nullptr;
      std::string* unit = nullptr;
      if (heading.word == "name") column = &columns_.name;
      if (heading.word == "section") column = &columns_.section;
      if (heading.word == "hole") column = &columns_.hole;
      if (heading.word == "note") column = &columns_.note;
      if (heading.word == "a" || heading.word == std::string(1, a)) column = &columns_.first, unit = &columns_.first_unit;
      if (heading.word == "b" || heading.word == std::string(1, b)) column = &columns_.second, unit = &columns_.second_unit;
      if (heading.word == "give_or_take") column = &columns_.give_or_take, unit = &columns_.give_or_take_unit;
      if (!column || (!unit && !heading.unit.empty())) {
        const bool semicolons = row.fields.size() == 1 && row.fields[0].find(';') != std::string::npos;
        fine = heading_fault(fmt::format("line {}: heading {}", row.line, in_quotes(row.fields[i])),
                             semicolons ? "the columns are parted by semicolons; save the list with commas, and numbers with a point" : "");
        continue;
      }
      if (*column >= 0) fine = heading_fault(fmt::format("line {}: heading {} a second time", row.line, in_quotes(row.fields[i])));
      *column = static_cast<int>(i);
      if (unit) *unit = heading.unit;
    }
    if (fine && (columns_.first < 0 || columns_.second < 0)) fine = heading_fault(fmt::format("line {}: no two columns of numbers", row.line));
    return fine;
  }

  void read_row(const CommaRow& row, std::size_t fields) {
    if (row.fields.size() != fields) {
      const bool blank = row.fields.size() == 1 && trimmed(row.fields[0]).empty();
      line_fault(row.line, blank ? "an empty line" : fmt::format("{} fields", row.fields.size()), fmt::format("{} fields, as in the line of headings", fields),
                 row.fields.size() > fields ? "a decimal comma? numbers take a point" : "");
      return;
    }
    if (!of_wanted_section(row)) return;
    const auto a = read_length(row, columns_.first, columns_.first_unit), b = read_length(row, columns_.second, columns_.second_unit);
    const auto give_or_take = read_give_or_take(row);
    const std::string name = read_corner_name(row);
    if (!a || !b) return;
    const std::string hole = columns_.hole < 0 ? std::string() : trimmed(row.fields[static_cast<std::size_t>(columns_.hole)]);
    Ring& ring = hole.empty() ? given_.outline : hole_ring(hole);
    const core::Point2 point{Length::from_mm(*a), Length::from_mm(*b)};
    if (!seen_here(row, point)) return;
    ring.push_back(point);
    if (hole.empty()) given_.measured.corners.push_back({name, give_or_take});
  }

  bool of_wanted_section(const CommaRow& row) {
    if (columns_.section < 0) return true;
    const std::string section = trimmed(row.fields[static_cast<std::size_t>(columns_.section)]);
    if (std::find(sections_.begin(), sections_.end(), section) == sections_.end()) sections_.push_back(section);
    return wanted_.section ? section == *wanted_.section : section == sections_.front();
  }

  std::optional<double> read_length(const CommaRow& row, int column, const std::string& heading_unit) {
    const std::string text = trimmed(row.fields[static_cast<std::size_t>(column)]);
    const std::string& unit = heading_unit.empty() ? wanted_.unit : heading_unit;
    auto value = parse_quantity(text, Kind::length);
    if (!value && value.error().fault == UnitFault::no_unit) {
      if (unit.empty()) {
        if (!unit_asked_) log_.add("E231", "", "no unit", fmt::format("line {}: {} without a unit, and none in its heading", row.line, in_quotes(text)),
                                   "a unit in the heading (\"a_mm\"), in the value (\"17 5/16 in\"), or \"unit\" in the job");
        unit_asked_ = true;
        return {};
      }
      value = parse_quantity(text + " " + unit, Kind::length);
    }
    if (!value) {
      line_fault(row.line, text.empty() ? "an empty value" : in_quotes(text), "a number, with a point if need be, or an amount with its unit", value.error().hint);
      return {};
    }
    if (std::abs(*value) <= farthest_mm) return *value;
    line_fault(row.line, fmt::format("{:.7g} mm", *value), in_words({-farthest_mm, farthest_mm}, "mm"));
    return {};
  }

  std::optional<Length> read_give_or_take(const CommaRow& row) {
    if (columns_.give_or_take < 0 || trimmed(row.fields[static_cast<std::size_t>(columns_.give_or_take)]).empty()) return wanted_.give_or_take;
    const auto value = read_length(row, columns_.give_or_take, columns_.give_or_take_unit);
    if (!value) return {};
    if (*value >= 0) return Length::from_mm_up(*value);
    line_fault(row.line, fmt::format("a give or take of {:.7g} mm", *value), "0 or more");
    return {};
  }

  /// Names stand on drawings, so they have to be printable and each its own.
  std::string read_corner_name(const CommaRow& row) {
    if (columns_.name < 0) return {};
    std::string name = trimmed(row.fields[static_cast<std::size_t>(columns_.name)]);
    if (name.empty()) return name;
    const Json as_json(name);
    ProblemLog faults("");
    const std::string printed = as_json.dump(-1, ' ', false, Json::error_handler_t::replace);
    if (!read_name({&as_json, "", &faults}) || Json::parse(printed) != as_json)
      line_fault(row.line, fmt::format("name {}", in_quotes(name)), "1 to 100 letters on one line");
    else if (const auto [known, is_new] = names_.emplace(name, row.line); !is_new)
      line_fault(row.line, fmt::format("name {}, as in line {}", in_quotes(name), known->second), "names that differ within the section");
    return name;
  }

  Ring& hole_ring(const std::string& name) {
    const auto [known, is_new] = hole_places_.emplace(name, given_.holes.size());
    if (is_new) given_.holes.emplace_back();
    return given_.holes[known->second];
  }

  bool seen_here(const CommaRow& row, const core::Point2& point) {
    const auto [known, is_new] = places_.emplace(point, row.line);
    if (is_new) return true;
    line_fault(row.line, fmt::format("({}, {}) mm, the place of line {}", in_mm(point.a), in_mm(point.b), known->second), "each corner once, the outline not closed");
    return false;
  }

  std::string sections_in_words() const {
    std::string text;
    for (std::size_t i = 0; i < std::min<std::size_t>(sections_.size(), 10); ++i) text += (text.empty() ? "" : ", ") + in_quotes(sections_[i]);
    return text + (sections_.size() > 10 ? fmt::format(" and {} more", sections_.size() - 10) : "");
  }

  bool section_is_plain() {
    if (wanted_.section && columns_.section < 0)
      return heading_fault(fmt::format("no column \"section\", and section {} asked for", in_quotes(*wanted_.section)));
    if (wanted_.section && std::find(sections_.begin(), sections_.end(), *wanted_.section) == sections_.end()) {
      log_.add("E237", "", "not a list of corners", fmt::format("no line of section {}", in_quotes(*wanted_.section)),
               sections_.empty() ? "lines of that section" : "one of the sections in the list: " + sections_in_words());
      return false;
    }
    if (!wanted_.section && sections_.size() > 1) {
      log_.add("E237", "", "not a list of corners", "several sections in the list: " + sections_in_words(), "\"section\" in the job: which of them");
      return false;
    }
    return true;
  }

  std::optional<GivenOutline> finished() {
    if (!section_is_plain() || !log_.empty()) return {};
    const bool none_told = std::all_of(given_.measured.corners.begin(), given_.measured.corners.end(),
                                       [](const MeasuredCorner& corner) { return corner.name.empty() && !corner.give_or_take; });
    if (none_told) given_.measured.corners.clear();
    given_.measured.by = MeasuredBy::list;
    for (const Ring* ring : rings())
      if (ring->size() > most_vertices) {
        log_.add("E117", "", "more than any outline holds", fmt::format("{} corners", ring->size()), fmt::format("at most {}", most_vertices));
        return {};
      }
    check_given(given_, log_);
    return log_.empty() ? std::optional(std::move(given_)) : std::nullopt;
  }

  std::vector<const Ring*> rings() const {
    std::vector<const Ring*> all{&given_.outline};
    for (const Ring& hole : given_.holes) all.push_back(&hole);
    return all;
  }

  const ListWanted& wanted_;
  ProblemLog& log_;
  Columns columns_;
  GivenOutline given_;
  std::vector<std::string> sections_;
  std::map<std::string, int> names_;
  std::map<std::string, std::size_t> hole_places_;
  std::map<core::Point2, int> places_;
  bool unit_asked_ = false;
};

std::optional<std::string> read_unit_word(const Node& node) {
  const auto found = read_word(node, unit_words);
  return found ? std::optional<std::string>(unit_words[*found]) : std::nullopt;
}

}  // namespace

core::Result<GivenOutline> outline_from_csv(std::string_view bytes, const std::string& name, const ListWanted& wanted) {
  ProblemLog log(name);
  std::optional<GivenOutline> given = ListReader(wanted, log).read(bytes);
  if (given && log.empty()) return *given;
  return tl::unexpected(log.in_file_order());
}

std::optional<GivenOutline> read_list_outline(const Node& node, Axis across, const AllowedFolders& allowed) {
  const auto fields = Fields::of(node, "list_reference");
  if (!fields) return {};
  const std::size_t before = node.log->size();
  ListWanted wanted{across, {}, {}, {}};
  set(*fields, "section", wanted.section, read_name);
  set(*fields, "unit", wanted.unit, read_unit_word);
  set(*fields, "give_or_take_mm", wanted.give_or_take, read_size_or_zero);
  const auto file = fields->need("file");
  const auto text = file ? read_named_text(*file, allowed) : std::nullopt;
  if (!text || node.log->size() != before) return {};
  auto given = outline_from_csv(text->text, text->path.generic_string(), wanted);
  if (!given) {
    node.log->add_from_file(file->pointer, given.error());
    return {};
  }
  std::string remark = fmt::format("corners from the list {}", file->json->get<std::string>());
  if (wanted.section) remark += fmt::format(", section {}", *wanted.section);
  given->measured.remarks.insert(given->measured.remarks.begin(), std::move(remark));
  return *given;
}

}  // namespace cellstow::survey
