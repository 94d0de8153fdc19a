#include "comma_list.hpp"

namespace cellstow::survey {
namespace {

class Reader {
 public:
  explicit Reader(std::string_view bytes) : text_(bytes) {}

  CommaList read() {
    if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;
    while (at_ < text_.size()) read_row();
    return std::move(table_);
  }

 private:
  bool at_end() const { return at_ >= text_.size(); }

  bool at_line_end() const { return at_end() || text_[at_] == '\n' || (text_[at_] == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n'); }

  void pass_line_end() {
    if (at_end()) return;
    at_ += text_[at_] == '\r' ? 2 : 1;
    ++line_;
  }

  void fault(int line, std::string found, std::string expected) { table_.faults.push_back({line, std::move(found), std::move(expected)}); }

  void read_row() {
    CommaRow row{line_, {}};
    for (;;) {
      row.fields.push_back(!at_end() && text_[at_] == '"' ? quoted() : plain());
      if (at_line_end()) break;
      ++at_;  // the comma
    }
    pass_line_end();
    table_.rows.push_back(std::move(row));
  }

  std::string plain() {
    std::string field;
    bool told = false;
    for (; !at_line_end() && text_[at_] != ','; ++at_) {
      const char c = text_[at_];
      if ((c == '"' || c == '\r' || c == '\0') && !told) {
        fault(line_, c == '"' ? "a quote inside a field that does not start with one" : "a byte that is no text",
              c == '"' ? "fields with quotes in quotes, each inner one doubled: \"5/8\"\" in\"" : "plain text");
        told = true;
      }
      field += c;
    }
    return field;
  }

  /// A field in quotes may hold commas, line ends and doubled quotes.
  std::string quoted() {
    const int start = line_;
    std::string field;
    for (++at_; !at_end(); ++at_) {
      if (text_[at_] == '\n') ++line_;
      if (text_[at_] != '"') {
        field += text_[at_];
      } else if (at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
        field += text_[at_++];
      } else {
        ++at_;
        if (!at_line_end() && text_[at_] != ',') {
          fault(line_, "text behind a closing quote", "a comma or the end of the line");
          plain();
        }
        return field;
      }
    }
    fault(start, "a quote that is never closed", "a closing quote");
    return field;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1;
  CommaList table_;
};

}  // namespace

CommaList parse_comma_list(std::string_view bytes) { return Reader(bytes).read(); }

}  // namespace cellstow::survey
