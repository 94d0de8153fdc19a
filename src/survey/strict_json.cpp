#include "strict_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

namespace cellstow::survey {
namespace {

constexpr std::size_t deepest = 32;
constexpr std::size_t most_keys = 200;

struct Place {
  std::size_t line = 1, column = 1;
};

/// Line and column, from 1, of the byte with this index.
Place place_of(std::string_view text, std::size_t index) {
  const std::string_view before = text.substr(0, index);
  const std::size_t line_start = before.rfind('\n') + 1;  // npos + 1 is 0: the first line
  return {1 + static_cast<std::size_t>(std::count(before.begin(), before.end(), '\n')),
          1 + index - line_start};
}

/// The last byte before `index` that is not white space, 0 when there is none.
char last_before(std::string_view text, std::size_t index) {
  const std::size_t at = text.substr(0, index).find_last_not_of(" \t\r\n");
  return at == std::string_view::npos ? '\0' : text[at];
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// The usual slips of those who write JSON by hand.
std::string slip(std::string_view text, std::size_t index) {
  if (index >= text.size()) return "the text ends too early: a quote, } or ] is missing";
  const std::string_view rest = text.substr(index);
  const char first = rest.front(), before = last_before(text, index);
  if ((first == '}' || first == ']') && before == ',') return "remove the comma before it";
  if (first == '/' || first == '#') return "comments are not part of JSON; take them out";
  if (first == '\'') return "put text in double quotes";
  if (rest.starts_with("NaN") || rest.starts_with("Inf") || rest.starts_with("-Inf"))
    return "give a number; what is not known is left out";
  if (is_digit(first) && index >= 2 && text[index - 1] == ',' && is_digit(text[index - 2]))
    return "write decimals with a point";
  if (is_digit(first) && before == '0') return "leave out the leading zero";
  if (is_letter(first)) return "text needs double quotes on both sides";
  if (first == '"' && before != ',' && before != '{' && before != '[')
    return "a comma or colon may be missing before it";
  return {};
}

/// Whether the parser's last token is one whole text or number: of other tokens it keeps no start.
bool whole_token(const std::string& token) {
  if (token.empty()) return false;
  if (token.front() == '"') {
    std::size_t at = 1;
    while (at < token.size() && token[at] != '"') at += token[at] == '\\' ? 2 : 1;
    return at + 1 >= token.size();
  }
  return token.find_first_not_of("0123456789+-.eE") == std::string::npos;
}

/// Where the token at fault starts. The parser tells how many bytes it has read, the faulty one
/// among them; a read beyond the end is the end.
std::size_t fault_index(std::string_view text, std::size_t bytes_read, const std::string& token) {
  if (bytes_read > text.size()) return text.size();
  if (bytes_read == 0) return 0;
  if (whole_token(token) && text.substr(0, bytes_read).ends_with(token))
    return bytes_read - token.size();
  std::size_t index = bytes_read - 1;
  while (is_letter(text[index]) && index > 0 && is_letter(text[index - 1])) --index;
  return index;
}

/// What stands at the fault, shortened, never a raw control character.
std::string excerpt(std::string_view text, std::size_t index) {
  if (index >= text.size()) return "the end of the text";
  std::string shown;
  for (const char c : text.substr(index, 12)) {
    if (c == '\n' || c == '\r') break;
    shown += static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) > 0x7e ? '?' : c;
  }
  return shown.empty() ? "the end of the line" : "'" + shown + "'";
}

class TreeBuilder : public nlohmann::json_sax<Json> {
 public:
  TreeBuilder(std::string_view text, ProblemLog& log) : text_(text), log_(log) {}

  bool null() override { return put(nullptr); }
  bool boolean(bool value) override { return put(value); }
  bool number_integer(number_integer_t value) override { return put(value); }
  bool number_unsigned(number_unsigned_t value) override { return put(value); }
  bool number_float(number_float_t value, const string_t&) override { return put(value); }
  bool string(string_t& value) override { return put(std::move(value)); }
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(Json::object()); }
  bool start_array(std::size_t) override { return open(Json::array()); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }

  bool key(string_t& value) override {
    Level& level = levels_.back();
    level.key = value;
    level.skip = level.json->contains(value);
    const std::string pointer = below(level.pointer, value);
    if (level.skip)
      log_.add("E102", pointer, "key given twice", fmt::format("\"{}\" a second time", value),
               "each key once", "keep the right one of the two");
    if (level.json->size() < most_keys) return true;
    log_.add("E117", level.pointer, "too many keys", fmt::format("more than {}", most_keys),
             "the keys that the job file has");
    return false;
  }

  bool parse_error(std::size_t bytes_read, const std::string& token,
                   const nlohmann::detail::exception& fault) override {
    constexpr int number_overflow = 406;
    if (fault.id == number_overflow)
      log_.add("E107", next_pointer(), "number out of range", token,
               "a number within about 1e308 of zero", "check the exponent");
    else
      report_syntax(fault_index(text_, bytes_read, token));
    return false;
  }

  Json take() { return std::move(root_); }

 private:
  struct Level {
    Json* json;
    std::string pointer;
    std::string key;    ///< of the next value in an object
    bool skip = false;  ///< the next value belongs to a key given twice
  };

  void report_syntax(std::size_t index) {
    const Place place = place_of(text_, index);
    const bool complete = levels_.empty() && !root_.is_null() && index < text_.size();
    log_.add("E101", "", "not JSON",
             fmt::format("line {}, column {}: {}", place.line, place.column, excerpt(text_, index)),
             "JSON: objects in {}, lists in [], text in double quotes, commas between",
             complete ? "one job per file: nothing may follow its last }" : slip(text_, index));
  }

  std::string next_pointer() const {
    if (levels_.empty()) return "";
    const Level& level = levels_.back();
    return level.json->is_array() ? below(level.pointer, level.json->size())
                                  : below(level.pointer, level.key);
  }

  /// Where the next value goes; values of a key given twice go where nobody looks.
  Json* place_value(Json value, const std::string& pointer) {
    if (levels_.empty()) {
      root_ = std::move(value);
      log_.note_place(pointer);
      return &root_;
    }
    Level& level = levels_.back();
    if (level.skip) {
      skipped_.push_back(std::make_unique<Json>(std::move(value)));
      return skipped_.back().get();
    }
    log_.note_place(pointer);
    if (level.json->is_array()) return &level.json->emplace_back(std::move(value));
    return &((*level.json)[level.key] = std::move(value));
  }

  bool put(Json value) {
    place_value(std::move(value), next_pointer());
    return true;
  }

  bool open(Json empty) {
    const std::string pointer = next_pointer();
    if (levels_.size() == deepest) {
      log_.add("E117", pointer, "nested too deep", fmt::format("level {}", deepest + 1),
               fmt::format("at most {} levels", deepest));
      return false;
    }
    Json* json = place_value(std::move(empty), pointer);
    levels_.push_back({json, pointer, {}, false});
    return true;
  }

  bool close() {
    levels_.pop_back();
    return true;
  }

  std::string_view text_;
  ProblemLog& log_;
  Json root_;
  std::vector<Level> levels_;
  std::vector<std::unique_ptr<Json>> skipped_;
};

}  // namespace

std::optional<Json> parse_strict(std::string_view text, ProblemLog& log) {
  TreeBuilder builder(text, log);
  const bool read = Json::sax_parse(text.begin(), text.end(), &builder,
                                    nlohmann::detail::input_format_t::json, true, false);
  if (!read) return {};
  return builder.take();
}

}  // namespace cellstow::survey
