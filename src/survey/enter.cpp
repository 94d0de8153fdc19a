#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "cellstow/survey/tape.hpp"
#include "csv.hpp"
#include "json_spans.hpp"
#include "read_tape.hpp"

namespace cellstow::survey {
namespace {

enum Column : std::size_t { no, cavity, section, from, to, reading, unit, remark, columns };

std::string line_pointer(const CsvRow& row) { return fmt::format("line {}", row.line); }

std::string quoted(const std::string& text) { return shown(Json(text)); }

bool plain_number(const std::string& text) {
  const Json json = Json::parse(text, nullptr, false);
  return json.is_number() && text.find_first_of("eE") == std::string::npos;
}

/// One reading of the job and whether a row has named it.
struct Asked {
  const TapeSection* section;
  const TapeReading* reading;
  bool named = false;
};

std::string in_words(const Asked& asked) {
  const TapeSection& s = *asked.section;
  return fmt::format("{}, {}: {} to {}", s.cavity, section_name(s), s.name(asked.reading->from), s.name(asked.reading->to));
}

/// A value to put in the job.
struct Put {
  std::string pointer, text;
};

class Entry {
 public:
  Entry(const std::vector<TapeSection>& sections, const std::string& list_name) : log_(list_name) {
    for (const TapeSection& s : sections)
      for (const TapeReading& r : s.readings) asked_.push_back({&s, &r});
  }

  core::Result<Entered> run(std::string_view job_text, std::string_view list_text) {
    const std::vector<CsvRow> rows = read_csv(list_text);
    for (const CsvRow& row : rows) log_.note_place(line_pointer(row));
    if (read_head(rows))
      for (std::size_t i = 1; i < rows.size(); ++i) read_row(rows[i]);
    if (!log_.empty()) return tl::unexpected(log_.in_file_order());
    tell_missing();
    entered_.job_text = with_values(job_text);
    return std::move(entered_);
  }

 private:
  /// @error E228 no first line, or a column missing
  bool read_head(const std::vector<CsvRow>& rows) {
    std::string all;
    for (const std::string_view name : sheet_columns) all += fmt::format("{}{}", all.empty() ? "" : ", ", name);
    if (rows.empty()) {
      log_.add("E228", "", "list without a row", "nothing", "the filled list of \"cellstow sheet\", its first line " + all);
      return false;
    }
    std::string lacking;
    for (std::size_t i = 0; i < columns; ++i) {
      const auto found = std::find(rows[0].fields.begin(), rows[0].fields.end(), sheet_columns[i]);
      at_[i] = static_cast<std::size_t>(found - rows[0].fields.begin());
      const bool needed = i == cavity || i == section || i == from || i == to || i == reading;
      if (needed && found == rows[0].fields.end()) lacking += fmt::format("{}\"{}\"", lacking.empty() ? "" : ", ", sheet_columns[i]);
    }
    width_ = rows[0].fields.size();
    if (lacking.empty()) return true;
    log_.add("E228", line_pointer(rows[0]), "first line without a column", "no " + lacking, all,
             "keep the first line of the list as it was printed");
    return false;
  }

  std::string field(const CsvRow& row, Column column) const { return at_[column] < row.fields.size() ? row.fields[at_[column]] : ""; }

  void read_row(const CsvRow& row) {
    const bool too_long = std::any_of(row.fields.begin() + static_cast<std::ptrdiff_t>(std::min(width_, row.fields.size())), row.fields.end(),
                                      [](const std::string& f) { return !f.empty(); });
    if (too_long) {
      log_.add("E228", line_pointer(row), "row with more fields than the first line", std::to_string(row.fields.size()), std::to_string(width_),
               "decimals take a point, or the field quotes");
      return;
    }
    Asked* asked = find(row);
    if (!asked || field(row, reading).empty()) return;
    if (const auto text = read_reading(row)) put(*asked, *text);
  }

  /// @error E229 no such reading, or every such one named before
  Asked* find(const CsvRow& row) {
    const std::string name = fmt::format("{}, {}: {} to {}", field(row, cavity), field(row, section), field(row, from), field(row, to));
    bool known = false;
    for (Asked& asked : asked_) {
      if (!matches(row, asked)) continue;
      known = true;
      if (asked.named) continue;
      asked.named = true;
      return &asked;
    }
    if (known)
      log_.add("E229", line_pointer(row), "reading named a second time", name, "each reading once", "keep the right one of the two rows");
    else
      log_.add("E229", line_pointer(row), "reading that the job does not ask for", name, "a cavity, section and two places as the job has them",
               "put it into the job first: under \"from_mm\" of its point, or as a check reading, with null");
    return nullptr;
  }

  bool matches(const CsvRow& row, const Asked& asked) const {
    const TapeSection& s = *asked.section;
    const std::string &p = s.name(asked.reading->from), &q = s.name(asked.reading->to);
    const std::string f = field(row, from), t = field(row, to);
    return field(row, cavity) == s.cavity && field(row, section) == section_name(s) && ((f == p && t == q) || (f == q && t == p));
  }

  /// The reading as JSON text. @error E228 two units, E107, E109, E110
  std::optional<std::string> read_reading(const CsvRow& row) {
    const std::string bare = field(row, reading), in = field(row, unit);
    const auto alone = parse_quantity(bare, Kind::length);
    const bool own_unit = alone || alone.error().fault != UnitFault::no_unit;
    if (own_unit && !in.empty() && !bare.ends_with(in)) {
      log_.add("E228", line_pointer(row), "reading with two units", quoted(bare) + ", " + quoted(in), "one unit, in either place");
      return {};
    }
    const std::string text = own_unit ? bare : bare + " " + (in.empty() ? "mm" : in);
    const Json json(text);
    if (!read_tape_length({&json, line_pointer(row), &log_})) return {};
    return !own_unit && (in.empty() || in == "mm") && plain_number(bare) ? bare : json.dump();
  }

  void put(const Asked& asked, const std::string& text) {
    const Json json = Json::parse(text);
    const std::string now = json.is_string() ? json.get<std::string>() : json.dump();
    if (!asked.reading->mm) {
      ++entered_.entered;
    } else if (now == asked.reading->written) {
      return;
    } else {
      entered_.changed.push_back(fmt::format("{}: {} instead of {}", in_words(asked), now, asked.reading->written));
    }
    puts_.push_back({asked.reading->pointer, text});
  }

  void tell_missing() {
    for (const Asked& asked : asked_) {
      const bool filled = std::any_of(puts_.begin(), puts_.end(), [&](const Put& p) { return p.pointer == asked.reading->pointer; });
      if (!asked.reading->mm && !filled) entered_.missing.push_back(in_words(asked));
    }
  }

  std::string with_values(std::string_view job_text) const {
    const std::map<std::string, Span> spans = value_spans(job_text);
    std::map<std::size_t, std::pair<Span, std::string>> in_order;
    for (const Put& p : puts_) in_order[spans.at(p.pointer).from] = {spans.at(p.pointer), p.text};
    std::string out;
    std::size_t done = 0;
    for (const auto& [at, change] : in_order) {
      out += job_text.substr(done, at - done);
      out += change.second;
      done = change.first.to;
    }
    return out + std::string(job_text.substr(done));
  }

  ProblemLog log_;
  std::vector<Asked> asked_;
  std::array<std::size_t, columns> at_{};
  std::size_t width_ = 0;
  std::vector<Put> puts_;
  Entered entered_;
};

}  // namespace

core::Result<Entered> enter_readings(std::string_view job_text, const std::string& job_name, std::string_view list_text,
                                     const std::string& list_name) {
  const auto sections = read_tape_sections_text(job_text, job_name);
  if (!sections) return tl::unexpected(sections.error());
  return Entry(*sections, list_name).run(job_text, list_text);
}

}  // namespace cellstow::survey
