#include "report/drawing_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr double block_width = 180, block_height = 40, gap = 3;

Patch block_of(const Paper& sheet) {
  return {sheet.frame.right - block_width, sheet.frame.bottom - block_height, sheet.frame.right, sheet.frame.bottom};
}

struct Cell { const char* name; std::string value; double width; };

void add_cells(Paper& sheet, Spot corner, const std::vector<Cell>& cells) {
  double x = corner.x;
  for (const Cell& cell : cells) {
    add_box(sheet, {x, corner.y, x + cell.width, corner.y + 10});
    const auto put = [&](const std::string& text, double y, double height) {
      const std::string shown = fitting(text, height, cell.width - 2.4);
      if (!shown.empty()) sheet.marks.emplace_back(Lettering{{x + 1.2, corner.y + y}, shown, height, Anchor::start, false, false, false});
    };
    put(cell.name, 2.5, small_lettering);
    // A value that is too long in full height may be a little smaller rather than cut short.
    const bool fits = lettering_width(one_line(cell.value), lettering, false) <= cell.width - 2.4;
    put(cell.value, 7, fits ? lettering : small_lettering);
    x += cell.width;
  }
}

/// A cone cut off, from the side and from its small end: where the second view stands tells the method (ISO 5456-2).
void add_projection(Paper& sheet, const Patch& cell, survey::Projection projection) {
  const bool first = projection == survey::Projection::first;
  const double y = (cell.top + cell.bottom) / 2, side = cell.left + (first ? 2 : 10), circles = cell.left + (first ? 13.5 : 5);
  const double small = 1.5, large = 3, length = 6;
  Trace cone{{{{side, y - small}, 0}, {{side + length, y - large}, 0}, {{side + length, y + large}, 0}, {{side, y + small}, 0}}, true, wide_line, LineKind::full, Area::none, {}};
  sheet.marks.emplace_back(std::move(cone));
  sheet.marks.emplace_back(Circle{{circles, y}, small, wide_line, Area::none});
  sheet.marks.emplace_back(Circle{{circles, y}, large, wide_line, Area::none});
  add_line(sheet, {cell.left + 1, y}, {cell.left + 17.5, y}, narrow_line, LineKind::chain);
  add_line(sheet, {circles, y - 3.8}, {circles, y + 3.8}, narrow_line, LineKind::chain);
  sheet.marks.emplace_back(Lettering{{cell.left + 19, y}, first ? "first angle" : "third angle", small_lettering, Anchor::start, false, false, false});
}

}  // namespace

Paper empty_sheet(PaperSize size) {
  Paper sheet;
  sheet.width = size == PaperSize::a4 ? 297 : 420;
  sheet.height = size == PaperSize::a4 ? 210 : 297;
  sheet.frame = {20, 10, sheet.width - 10, sheet.height - 10};
  add_box(sheet, sheet.frame, wide_line);
  return sheet;
}

Patch view_room(const Paper& sheet) {
  return {sheet.frame.left + gap, sheet.frame.top + gap, sheet.frame.right - gap, sheet.frame.bottom - block_height - gap};
}

Patch notes_room(const Paper& sheet) {
  return {sheet.frame.left + gap, sheet.frame.bottom - block_height + 1, sheet.frame.right - block_width - gap, sheet.frame.bottom - 0.5};
}

void add_title_block(Paper& sheet, const TitleFields& f, const survey::DrawingRules& rules) {
  const Patch block = block_of(sheet);
  const bool inches = rules.units == survey::DrawnUnits::mm_and_inch;
  const double rows[] = {block.top, block.top + 10, block.top + 20, block.top + 30};
  add_cells(sheet, {block.left, rows[0]}, {{"Title", f.title, 64}, {"Part mark", f.mark, 64}, {"Revision", f.revision, 26}, {"Sheet", number(f.sheet) + " of " + number(f.sheets), 26}});
  add_cells(sheet, {block.left, rows[1]}, {{"Material, temper", f.material, 52}, {"Thickness mm", f.thickness, 27}, {"Quantity", f.quantity, 20}, {"Mass kg", f.mass, 21}, {"Scale", f.scale, 22}, {"Unit", inches ? "mm [inch]" : "mm", 38}});
  add_cells(sheet, {block.left, rows[2]}, {{"General tolerance; welds", rules.general_tolerance + "; " + rules.weld_tolerance, 79}, {"Finish", f.finish, 61}, {"", "", 40}});
  add_projection(sheet, {block.right - 40, rows[2], block.right, rows[2] + 10}, rules.projection);
  add_cells(sheet, {block.left, rows[3]}, {{"Drawing number", f.number, 52}, {"Job", f.job, 50}, {"Drawn", "", 26}, {"Checked", "", 26}, {"Date", "", 26}});
  add_box(sheet, block, wide_line);
}

double drawing_scale(double width_mm, double height_mm, double room_width, double room_height) {
  for (const double scale : {1.0, 2.0, 2.5, 5.0, 10.0, 20.0, 50.0, 100.0}) {
    if (width_mm / scale <= room_width && height_mm / scale <= room_height) return scale;
  }
  return 200;
}

std::string sentence(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') text.front() = static_cast<char>(text.front() - 'a' + 'A');
  return text;
}

std::string scale_text(double scale) { return "1:" + number(scale); }

void fill_column(Paper& sheet, Patch column, const std::vector<DrawnTable>& tables, Leftover& left) {
  for (const DrawnTable& table : tables) {
    double bottom = column.top;
    const std::size_t drawn = add_table(sheet, table, 0, column, bottom);
    if (drawn < table.rows.size()) left.tables.push_back({table, drawn});
    column.top = drawn > 0 ? bottom + gap : column.top;
  }
}

void fill_notes(Paper& sheet, const std::vector<std::string>& notes, Leftover& left) {
  Patch room = notes_room(sheet);
  const Patch elsewhere = view_room(sheet);
  for (const std::string& note : notes) {
    const std::vector<std::string> lines = lettering_lines(note, small_lettering, room.width());
    const double height = static_cast<double>(lines.size()) * row_height;
    if (left.lines.empty() && height <= room.height()) {
      add_lines(sheet, lines, 0, room);
      room.top += height;
      continue;
    }
    for (std::string& line : lettering_lines(note, small_lettering, std::min(elsewhere.width(), 200.0))) left.lines.push_back(std::move(line));
  }
}

namespace {

/// Tables below and beside one another until one finds no room.
/// @return lower edge of the first column, or the sheet's when there is more than one
double pour_tables(Paper& sheet, Leftover& left) {
  const Patch room = view_room(sheet);
  double x = room.left, right = room.left, y = room.top;
  bool one_column = true;
  while (!left.tables.empty()) {
    auto& [table, first] = left.tables.front();
    const double width = std::min(table_width(table), room.width()) + 0.1;
    if (x + width > room.right + 0.2) break;
    double bottom = y;
    const std::size_t drawn = add_table(sheet, table, first, {x, y, x + width, room.bottom}, bottom);
    first += drawn;
    if (drawn > 0) right = std::max(right, x + width), y = bottom + gap;
    if (first >= table.rows.size()) {
      left.tables.erase(left.tables.begin());
    } else {
      one_column = false;
      x = right + gap;
      right = x;
      y = room.top;
    }
  }
  return one_column ? y : room.bottom;
}

}  // namespace

void add_sheets(std::vector<Paper>& sheets, PaperSize size, Leftover left) {
  std::erase_if(left.tables, [](const auto& entry) { return entry.second >= entry.first.rows.size(); });
  while (!left.tables.empty() || !left.lines.empty()) {
    Paper sheet = empty_sheet(size);
    Patch room = view_room(sheet);
    room.top = pour_tables(sheet, left);
    if (left.tables.empty()) {
      const std::size_t drawn = add_lines(sheet, left.lines, 0, room);
      left.lines.erase(left.lines.begin(), left.lines.begin() + static_cast<std::ptrdiff_t>(drawn));
    }
    sheets.push_back(std::move(sheet));
  }
}

void finish_set(std::vector<Paper>& sheets, TitleFields fields, const survey::DrawingRules& rules) {
  fields.sheets = static_cast<int>(sheets.size());
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    fields.sheet = static_cast<int>(i) + 1;
    add_title_block(sheets[i], fields, rules);
  }
}

}  // namespace cellstow::report
