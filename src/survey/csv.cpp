#include "csv.hpp"

#include <csv.h>

#include <algorithm>

namespace cellstow::survey {
namespace {

class Reader {
 public:
  explicit Reader(char divider) {
    csv_init(&parser_, 0);
    csv_set_delim(&parser_, static_cast<unsigned char>(divider));
  }
  ~Reader() { csv_free(&parser_); }
  Reader(const Reader&) = delete;
  Reader& operator=(const Reader&) = delete;

  std::vector<CsvRow> run(std::string_view text) {
    for (const char c : text) feed(c);
    csv_fini(&parser_, on_field, on_row, this);
    return std::move(rows_);
  }

 private:
  /// A byte at a time: only so can the line of a row be told.
  void feed(char c) {
    if (!inside_ && c != '\n' && c != '\r') {
      inside_ = true;
      row_.line = line_;
    }
    csv_parse(&parser_, &c, 1, on_field, on_row, this);
    line_ += c == '\n';
  }

  static void on_field(void* bytes, std::size_t size, void* self) {
    static_cast<Reader*>(self)->row_.fields.emplace_back(static_cast<const char*>(bytes), size);
  }

  static void on_row(int, void* self) {
    auto& reader = *static_cast<Reader*>(self);
    const auto& fields = reader.row_.fields;
    const bool empty = std::all_of(fields.begin(), fields.end(), [](const std::string& field) { return field.empty(); });
    if (!empty) reader.rows_.push_back(std::move(reader.row_));
    reader.row_ = {};
    reader.inside_ = false;
  }

  csv_parser parser_;
  std::vector<CsvRow> rows_;
  CsvRow row_;
  std::size_t line_ = 1;
  bool inside_ = false;
};

}  // namespace

std::vector<CsvRow> read_csv(std::string_view text) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // the mark some spreadsheets put before UTF-8
  const std::string_view head = text.substr(0, text.find('\n'));
  const auto count = [&](char c) { return std::count(head.begin(), head.end(), c); };
  return Reader(count(';') > count(',') ? ';' : ',').run(text);
}

}  // namespace cellstow::survey
