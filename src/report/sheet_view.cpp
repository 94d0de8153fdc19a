#include <algorithm>
#include <cmath>
#include <map>

#include "report/page_drawings.hpp"
#include "report/stock_lists.hpp"
#include "report/text.hpp"
#include "report/wired.hpp"

namespace cellstow::report {
namespace {

constexpr double page_width = 180, edge = 6, letter = 3, legend_line = 4.6;

/// 1 : n, round, so that the sheet's long side fits the page.
int scale_for(double sheet_mm) {
  for (const int n : {2, 5, 10, 15, 20, 25, 30, 40, 50}) {
    if (sheet_mm / n <= page_width - 2 * edge) return n;
  }
  return static_cast<int>(std::ceil(sheet_mm / (page_width - 2 * edge)));
}

using Parts = std::multimap<std::string, const fabrication::SheetPart*>;

Parts parts_by_mark(const plan::Plan& plan) {
  Parts parts;
  for (const plan::BoxPlan* box : boxes_of(plan)) {
    for (const fabrication::SheetPart* part : cut_from_sheet(*box)) parts.emplace(part->mark, part);
  }
  return parts;
}

bool near(double a, double b) { return std::abs(a - b) < 0.01; }

/// The part that lies there: of its mark, and as large as its rectangle either way round.
const fabrication::SheetPart* part_of(const Parts& parts, const fabrication::LaidPiece& piece) {
  const auto [first, last] = parts.equal_range(piece.mark);
  const auto found = std::find_if(first, last, [&](const auto& entry) {
    const fabrication::FlatExtent size = fabrication::extent_of(entry.second->flat.outline);
    const double a = piece.length.mm(), b = piece.width.mm();
    return (near(size.width(), a) && near(size.height(), b)) || (near(size.width(), b) && near(size.height(), a));
  });
  return found == last ? nullptr : found->second;
}

/// One stock sheet being drawn: its lower left corner on paper, and its scale.
struct Board {
  Drawing drawing;
  Spot origin;
  int scale = 1;

  Spot at(double x, double y) const { return {origin.x + x / scale, origin.y - y / scale}; }
  void stroke(std::vector<Spot> points, Pen pen, Fill fill = Fill::none) { drawing.items.emplace_back(Stroke{std::move(points), true, pen, fill}); }
  void say(Spot spot, std::string text, Anchor anchor = Anchor::start, bool bold = false) {
    drawing.items.emplace_back(Label{spot, std::move(text), letter, anchor, bold, false});
  }
};

/// The part's own outline where it lies; turned a quarter where the rectangle was.
void draw_part(Board& board, const fabrication::SheetPart& part, const fabrication::LaidPiece& piece) {
  const fabrication::FlatExtent extent = fabrication::extent_of(part.flat.outline);
  const bool turned = !near(piece.length.mm(), extent.width());
  const auto place = [&](const fabrication::FlatPoint& p) {
    const double a = p.a - extent.low.a, b = p.b - extent.low.b;
    return turned ? board.at(piece.x.mm() + extent.height() - b, piece.y.mm() + a) : board.at(piece.x.mm() + a, piece.y.mm() + b);
  };
  const auto path = [&](const fabrication::Path& corners, Fill fill) {
    std::vector<Spot> points;
    for (const fabrication::FlatPoint& p : fabrication::straightened(corners, 0.5)) points.push_back(place(p));
    board.stroke(std::move(points), Pen::inner, fill);
  };
  path(part.flat.outline, Fill::box);
  for (const fabrication::FlatHole& hole : part.flat.holes) path(fabrication::hole_path(hole), Fill::paper);
}

/// The number goes where it has room; parts too small for it are told by the list.
void number_part(Board& board, const fabrication::LaidPiece& piece, const std::string& text) {
  const double wide = piece.length.mm() / board.scale, high = piece.width.mm() / board.scale;
  const Spot middle = board.at(piece.x.mm() + piece.length.mm() / 2, piece.y.mm() + piece.width.mm() / 2);
  const double room = text_width(text, letter, true) + 1.2;
  if (wide < room || high < letter + 1) return;
  const Patch ground{middle.x - room / 2, middle.y - letter / 2 - 0.5, middle.x + room / 2, middle.y + letter / 2 + 0.5};
  board.drawing.items.emplace_back(Stroke{corners(ground), true, Pen::none, Fill::paper});
  board.say(middle, text, Anchor::middle, true);
}

/// "1 FT-WRAP", in columns under the sheet.
void add_legend(Board& board, const std::vector<std::string>& marks, double top) {
  constexpr int columns = 4;
  const double column = (page_width - 2 * edge) / columns;
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const double x = edge + column * static_cast<double>(i % columns), y = top + legend_line * static_cast<double>(i / columns);
    board.say({x, y}, shortened(std::to_string(i + 1) + "  " + marks[i], 24));
  }
}

Drawing sheet_drawing(const survey::Stock& stock, const Parts& parts, const SheetKind& kind, const fabrication::LaidSheet& sheet, std::size_t number_of_sheet,
                      std::size_t of) {
  const double length = stock.sheet_length.mm(), width = stock.sheet_width.mm();
  Board board;
  board.scale = scale_for(length);
  board.drawing.name = file_part("sheet-" + kind.first + "-" + number(kind.second, 2) + "mm-" + std::to_string(number_of_sheet));
  std::replace(board.drawing.name.begin(), board.drawing.name.end(), '_', '-');
  board.drawing.title = "stock sheet " + std::to_string(number_of_sheet) + " of " + std::to_string(of) + ": " + one_line(sheet_name(kind));
  board.drawing.scale = "1:" + std::to_string(board.scale);
  board.drawing.width = page_width;
  board.origin = {(page_width - length / board.scale) / 2, 12 + width / board.scale};
  board.say({edge, 5}, mm_text(stock.sheet_length) + " x " + mm_text(stock.sheet_width) + " mm, " + percent(sheet.filled) +
                           " of it filled; laid by rectangles, either way round: mind the grain");
  board.stroke({board.at(0, 0), board.at(length, 0), board.at(length, width), board.at(0, width)}, Pen::frame);
  std::vector<std::string> marks;
  for (const fabrication::LaidPiece& piece : sheet.pieces) {
    std::size_t index = static_cast<std::size_t>(std::find(marks.begin(), marks.end(), piece.mark) - marks.begin());
    if (index == marks.size()) marks.push_back(piece.mark);
    if (const fabrication::SheetPart* part = part_of(parts, piece)) draw_part(board, *part, piece);
    number_part(board, piece, std::to_string(index + 1));
  }
  const double legend = board.origin.y + 6;
  add_legend(board, marks, legend);
  board.drawing.height = legend + legend_line * std::ceil(static_cast<double>(marks.size()) / 4) + 2;
  return board.drawing;
}

}  // namespace

std::vector<Drawing> sheet_drawings(const survey::Job& job, const plan::Plan& plan) {
  std::vector<Drawing> out;
  const Parts parts = parts_by_mark(plan);
  for (const auto& [kind, laid] : sheets_of(job, plan)) {
    for (std::size_t i = 0; i < laid.sheets.size(); ++i) out.push_back(sheet_drawing(job.stock, parts, kind, laid.sheets[i], i + 1, laid.sheets.size()));
  }
  return out;
}

}  // namespace cellstow::report
