#include <algorithm>

#include "report/draft.hpp"

namespace cellstow::report {
namespace {

constexpr double pad = 1.2;

std::vector<double> widths_of(const DrawnTable& table) {
  std::vector<double> widths;
  for (std::size_t column = 0; column < table.head.size(); ++column) {
    double width = lettering_width(table.head[column], small_lettering, true);
    for (const auto& row : table.rows) width = std::max(width, lettering_width(row[column], small_lettering, false));
    widths.push_back(width + 2 * pad);
  }
  return widths;
}

double sum(const std::vector<double>& widths) {
  double out = 0;
  for (const double width : widths) out += width;
  return out;
}

/// The widest columns give until all fit.
void narrow(std::vector<double>& widths, double room) {
  while (sum(widths) > room + 1e-9) {
    auto widest = std::max_element(widths.begin(), widths.end());
    *widest -= std::min(1.0, sum(widths) - room);
    if (*widest < 8) return;
  }
}

void add_row(Paper& paper, const std::vector<std::string>& cells, const std::vector<double>& widths, Spot corner, bool bold) {
  double x = corner.x;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const std::string text = fitting(cells[i], small_lettering, widths[i] - 2 * pad + 1e-6, bold);
    if (!text.empty()) paper.marks.emplace_back(Lettering{{x + pad, corner.y + row_height / 2}, text, small_lettering, Anchor::start, bold, false, false});
    x += widths[i];
  }
}

void add_rules(Paper& paper, const DrawnTable& table, const std::vector<double>& widths, Spot corner, double bottom) {
  const double right = corner.x + sum(widths);
  add_box(paper, {corner.x, corner.y, right, bottom});
  add_line(paper, {corner.x, corner.y + row_height}, {right, corner.y + row_height}, wide_line);
  double x = corner.x;
  for (std::size_t i = 0; i < widths.size(); ++i) {
    if (i > 0) add_line(paper, {x, corner.y}, {x, bottom});
    if (std::find(table.boxed.begin(), table.boxed.end(), i) != table.boxed.end()) {
      add_box(paper, {x, corner.y + row_height, x + widths[i], bottom}, wide_line);
    }
    x += widths[i];
  }
}

}  // namespace

double table_width(const DrawnTable& table) {
  return std::max(sum(widths_of(table)), lettering_width(table.title, small_lettering, true));
}

std::size_t add_table(Paper& paper, const DrawnTable& table, std::size_t first, const Patch& patch, double& bottom) {
  const double room = patch.height() - 2 * row_height;
  const std::size_t rows = std::min(table.rows.size() - first, static_cast<std::size_t>(std::max(0.0, room / row_height)));
  if (rows == 0) return 0;
  std::vector<double> widths = widths_of(table);
  narrow(widths, patch.width());
  const std::string title = fitting(table.title + (first > 0 ? ", continued" : ""), small_lettering, patch.width(), true);
  paper.marks.emplace_back(Lettering{{patch.left, patch.top + row_height / 2}, title, small_lettering, Anchor::start, true, false, false});
  const Spot corner{patch.left, patch.top + row_height};
  add_row(paper, table.head, widths, corner, true);
  for (std::size_t i = 0; i < rows; ++i) {
    add_row(paper, table.rows[first + i], widths, {corner.x, corner.y + static_cast<double>(i + 1) * row_height}, false);
  }
  bottom = corner.y + static_cast<double>(rows + 1) * row_height;
  add_rules(paper, table, widths, corner, bottom);
  return rows;
}

std::size_t add_lines(Paper& paper, const std::vector<std::string>& lines, std::size_t first, const Patch& patch) {
  const std::size_t fit = static_cast<std::size_t>(std::max(0.0, (patch.height() + 1e-9) / row_height));
  const std::size_t count = std::min(lines.size() - first, fit);
  for (std::size_t i = 0; i < count; ++i) {
    if (lines[first + i].empty()) continue;
    paper.marks.emplace_back(Lettering{{patch.left, patch.top + (static_cast<double>(i) + 0.5) * row_height}, lines[first + i], small_lettering, Anchor::start, false, false, false});
  }
  return count;
}

}  // namespace cellstow::report
