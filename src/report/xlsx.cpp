#include "report/xlsx.hpp"

#include <xlsxwriter.h>

#include <algorithm>
#include <charconv>
#include <optional>
#include <stdexcept>

#include "report/scratch_file.hpp"

namespace cellstow::report {
namespace {

/// A column is never narrower or wider than this, in letters.
constexpr std::size_t narrowest = 8, widest = 60;

/// The whole text as a number, so that spreadsheets can add it up.
std::optional<double> as_number(const std::string& text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

void set_widths(lxw_worksheet* sheet, const Table& table) {
  for (std::size_t column = 0; column < table.head.size(); ++column) {
    std::size_t letters = table.head[column].size();
    for (const auto& row : table.rows) letters = std::max(letters, row[column].size());
    const auto at = static_cast<lxw_col_t>(column);
    worksheet_set_column(sheet, at, at, static_cast<double>(std::clamp(letters + 1, narrowest, widest)), nullptr);
  }
}

void fill(lxw_worksheet* sheet, const Table& table, lxw_format* bold) {
  for (std::size_t column = 0; column < table.head.size(); ++column) {
    worksheet_write_string(sheet, 0, static_cast<lxw_col_t>(column), table.head[column].c_str(), bold);
  }
  for (std::size_t row = 0; row < table.rows.size(); ++row) {
    for (std::size_t column = 0; column < table.rows[row].size(); ++column) {
      const std::string& text = table.rows[row][column];
      const auto y = static_cast<lxw_row_t>(row + 1);
      const auto x = static_cast<lxw_col_t>(column);
      if (const auto value = as_number(text)) {
        worksheet_write_number(sheet, y, x, *value, nullptr);
      } else if (!text.empty()) {
        worksheet_write_string(sheet, y, x, text.c_str(), nullptr);
      }
    }
  }
  set_widths(sheet, table);
  worksheet_freeze_panes(sheet, 1, 0);
  worksheet_set_landscape(sheet);
  worksheet_set_paper(sheet, 9);   // A4
  worksheet_fit_to_pages(sheet, 1, 0);
  worksheet_repeat_rows(sheet, 0, 0);
}

}  // namespace

std::string to_xlsx(const std::vector<NamedList>& lists) {
  const ScratchFile scratch;
  lxw_workbook* book = workbook_new(scratch.path().c_str());
  if (book == nullptr) throw std::runtime_error("cannot make a workbook");
  lxw_doc_properties properties{};
  properties.created = 946'684'800;   // the first second of the year 2000
  workbook_set_properties(book, &properties);
  lxw_format* bold = workbook_add_format(book);
  format_set_bold(bold);
  for (const auto& [name, table] : lists) fill(workbook_add_worksheet(book, name.c_str()), table, bold);
  if (const lxw_error error = workbook_close(book); error != LXW_NO_ERROR) {
    throw std::runtime_error(std::string("cannot write a workbook: ") + lxw_strerror(error));
  }
  return scratch.bytes();
}

}  // namespace cellstow::report
