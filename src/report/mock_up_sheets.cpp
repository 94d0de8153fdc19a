#include <algorithm>
#include <cmath>

#include "report/mock_up.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

/// No printer reaches the edge; what is below 8 mm is not counted on. Common practice, no source.
constexpr double margin = 10;
constexpr double header = 24, footer = 10;   ///< for names, check bar and warnings

struct Size { double width, height; };

Size paper_size(survey::TilePaper paper, bool upright) {
  const Size lying = paper == survey::TilePaper::a4 ? Size{297, 210} : Size{279.4, 215.9};
  return upright ? Size{lying.height, lying.width} : lying;
}

Size pattern_room(Size paper) { return {paper.width - 2 * margin, paper.height - 2 * margin - header - footer}; }

/// Free round the piece, so that its edge does not lie on the edge of a sheet.
constexpr double around = 5;

/// Tiles needed along one way: neighbours share the overlap.
int count_along(double length, double room) {
  return std::max(1, static_cast<int>(std::ceil((length + 2 * around - tile_overlap - 1e-6) / (room - tile_overlap))));
}

/// The polygon on one side of a line across or along (Sutherland and Hodgman's clipping, one side at a time).
std::vector<Spot> kept(const std::vector<Spot>& polygon, bool across, double at, bool below) {
  std::vector<Spot> out;
  const auto off = [&](const Spot& s) { return (below ? 1 : -1) * (at - (across ? s.x : s.y)); };
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Spot &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
    const double from = off(p), to = off(q);
    if (from >= 0) out.push_back(p);
    if ((from > 0 && to < 0) || (from < 0 && to > 0)) {
      const double share = from / (from - to);
      out.push_back({p.x + share * (q.x - p.x), p.y + share * (q.y - p.y)});
    }
  }
  return out;
}

double area_within(std::vector<Spot> polygon, const Patch& patch) {
  polygon = kept(polygon, true, patch.left, false);
  polygon = kept(polygon, true, patch.right, true);
  polygon = kept(polygon, false, patch.top, false);
  polygon = kept(polygon, false, patch.bottom, true);
  double twice = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Spot &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
    twice += p.x * q.y - q.x * p.y;
  }
  return std::abs(twice) / 2;
}

/// From the upper left corner, y downward.
std::vector<Spot> downward(const PlyPiece& piece) {
  std::vector<Spot> out;
  for (const Flat& p : piece.outline) out.push_back({p.a, piece.height - p.b});
  return out;
}

Tiling tiled(const PlyPiece& piece, Size paper) {
  const Size room = pattern_room(paper);
  Tiling out{paper.width, paper.height, count_along(piece.height, room.height), count_along(piece.width, room.width), {}};
  const std::vector<Spot> outline = downward(piece);
  for (int row = 0; row < out.rows; ++row) {
    for (int column = 0; column < out.columns; ++column) {
      const double x = column * (room.width - tile_overlap) - around, y = row * (room.height - tile_overlap) - around;
      const Patch part{x, y, x + room.width, y + room.height};
      if (area_within(outline, part) < 0.01) continue;
      const std::string letter = row < 26 ? std::string(1, static_cast<char>('A' + row)) : "R" + std::to_string(row + 1) + "-";
      out.tiles.push_back({letter + std::to_string(column + 1), row + 1, column + 1, part});
    }
  }
  return out;
}

void put(Paper& sheet, Spot at, const std::string& text, double height, Anchor anchor = Anchor::start, bool bold = false) {
  const double room = anchor == Anchor::start ? sheet.frame.right - at.x : anchor == Anchor::end ? at.x - sheet.frame.left : sheet.frame.width();
  const std::string shown = fitting(text, height, room, bold);
  if (!shown.empty()) sheet.marks.emplace_back(Lettering{at, shown, height, anchor, bold, false, false});
}

void add_bar(Paper& sheet, Spot at, double length, const std::string& text) {
  add_line(sheet, at, {at.x + length, at.y}, wide_line);
  for (int i = 0; i <= 10; ++i) {
    const double x = at.x + length * i / 10, tick = i % 5 == 0 ? 2.5 : 1.5;
    add_line(sheet, {x, at.y - tick}, {x, at.y});
  }
  put(sheet, {at.x + length + 3, at.y - 1}, text, small_lettering);
}

/// Ring and cross where four sheets meet.
void add_register(Paper& sheet, Spot at) {
  sheet.marks.emplace_back(Circle{at, 2, narrow_line, Area::none});
  add_line(sheet, {at.x - 4, at.y}, {at.x + 4, at.y});
  add_line(sheet, {at.x, at.y - 4}, {at.x, at.y + 4});
}

Paper blank(const Tiling& tiling) {
  Paper sheet;
  sheet.width = tiling.paper_width;
  sheet.height = tiling.paper_height;
  sheet.frame = {margin, margin, sheet.width - margin, sheet.height - margin};
  return sheet;
}

void add_heading(Paper& sheet, const survey::Job& job, const PlyPiece& piece, const std::string& right) {
  const double x = sheet.frame.left, y = sheet.frame.top;
  put(sheet, {sheet.frame.right, y + 3}, right, lettering, Anchor::end, true);
  const std::string left = piece.mark + " rev " + job.revision + ", " + piece.name + ", " + number(job.drawings.ply.mm()) + " mm ply";
  const std::string shown = fitting(left, lettering, sheet.frame.width() - lettering_width(right, lettering, true) - 6, true);
  sheet.marks.emplace_back(Lettering{{x, y + 3}, shown, lettering, Anchor::start, true, false, false});
  add_bar(sheet, {x, y + 12}, check_bar, "100 mm: measure it. Print at 100 %, no fit to page.");
  if (job.drawings.tile_paper == survey::TilePaper::letter) add_bar(sheet, {x, y + 19}, 101.6, "4 inches");
}

void add_edge(Paper& sheet, const PlyPiece& piece, Spot corner, double scale) {
  Trace edge{{}, true, wide_line, LineKind::full, Area::none, {}};
  for (const Spot& p : downward(piece)) edge.points.push_back({{corner.x + p.x / scale, corner.y + p.y / scale}, 0});
  sheet.marks.emplace_back(std::move(edge));
}

void add_pattern(Paper& sheet, const PlyPiece& piece, Spot corner) {
  add_edge(sheet, piece, corner, 1);
  for (const PlyPiece::Hole& hole : piece.holes) {
    const Spot centre{corner.x + hole.centre.a, corner.y + piece.height - hole.centre.b};
    const double arm = hole.diameter / 2 + 2;
    sheet.marks.emplace_back(Circle{centre, hole.diameter / 2, narrow_line, Area::none});
    add_line(sheet, {centre.x - arm, centre.y}, {centre.x + arm, centre.y});
    add_line(sheet, {centre.x, centre.y - arm}, {centre.x, centre.y + arm});
  }
}

Patch pattern_patch(const Tiling& tiling) {
  return {margin, margin + header, tiling.paper_width - margin, tiling.paper_height - margin - footer};
}

Paper tile_sheet(const survey::Job& job, const PlyPiece& piece, const Tiling& tiling, const Tile& tile) {
  Paper sheet = blank(tiling);
  const Patch room = pattern_patch(tiling);
  add_heading(sheet, job, piece, "sheet " + tile.name);
  sheet.marks.emplace_back(Window{room});
  add_pattern(sheet, piece, {room.left - tile.part.left, room.top - tile.part.top});
  sheet.marks.emplace_back(Window{});
  // The lines on which neighbours' own edges come to lie.
  const double x[] = {room.left, room.right - tile_overlap}, y[] = {room.top, room.bottom - tile_overlap};
  for (const double at : x) add_line(sheet, {at, room.top}, {at, room.bottom}, narrow_line, LineKind::dashed);
  for (const double at : y) add_line(sheet, {room.left, at}, {room.right, at}, narrow_line, LineKind::dashed);
  for (const double at_x : x) {
    for (const double at_y : y) add_register(sheet, {at_x, at_y});
  }
  put(sheet, {sheet.frame.left, sheet.frame.bottom - 3}, "Row " + number(tile.row) + " of " + number(tiling.rows) + ", column " + number(tile.column) + " of " + number(tiling.columns) + ". Lay rings on rings, dashed lines on the next sheet's edge lines.", small_lettering);
  return sheet;
}

/// All tiles small, with their names.
Paper key_sheet(const survey::Job& job, const PlyPiece& piece, const Tiling& tiling) {
  Paper sheet = blank(tiling);
  add_heading(sheet, job, piece, number(static_cast<double>(tiling.tiles.size())) + (tiling.tiles.size() == 1 ? " sheet" : " sheets"));
  Patch room = pattern_patch(tiling);
  std::vector<std::string> lines;
  const auto say = [&](const std::string& text) {
    for (std::string& line : lettering_lines(text, small_lettering, room.width())) lines.push_back(std::move(line));
  };
  say("Full-size pattern for a trial in the car: saw " + number(job.drawings.ply.mm()) + " mm ply to the outer edge of the line, " + number(piece.width) + " × " + number(piece.height) + " mm over all.");
  say("The plywood box has the outside of the metal one; inside it is smaller. Walls stand on the floor and carry the lid.");
  say("Brackets, glands, screw heads and the lifting sling are not in it: put them on before trying the way in and the way out.");
  const double text_height = static_cast<double>(lines.size()) * row_height;
  add_lines(sheet, lines, 0, {room.left, room.bottom - text_height, room.right, room.bottom});
  room.bottom -= text_height + 4;
  double right = piece.width, high = piece.height;
  for (const Tile& tile : tiling.tiles) high = std::max(high, tile.part.bottom), right = std::max(right, tile.part.right);
  const double scale = std::max({1.0, (right + around) / room.width(), (high + around) / room.height()});
  const Spot corner{room.left + around / scale, room.top + around / scale};
  add_edge(sheet, piece, corner, scale);
  for (const Tile& tile : tiling.tiles) {
    const Patch& p = tile.part;
    const Patch own{p.left, p.top, p.right - tile_overlap, p.bottom - tile_overlap};
    add_box(sheet, {corner.x + own.left / scale, corner.y + own.top / scale, corner.x + own.right / scale, corner.y + own.bottom / scale});
    put(sheet, {corner.x + (own.left + own.right) / 2 / scale, corner.y + (own.top + own.bottom) / 2 / scale}, tile.name, lettering, Anchor::middle, true);
  }
  return sheet;
}

}  // namespace

Tiling tiles_of(const PlyPiece& piece, survey::TilePaper paper) {
  Tiling lying = tiled(piece, paper_size(paper, false)), upright = tiled(piece, paper_size(paper, true));
  return lying.tiles.size() < upright.tiles.size() ? lying : upright;
}

DrawingSet mock_up_sheets(const survey::Job& job, const PlyPiece& piece) {
  const Tiling tiling = tiles_of(piece, job.drawings.tile_paper);
  DrawingSet set{"mock_up/" + file_part(piece.mark) + "_rev_" + file_part(job.revision), "mock-up " + piece.mark, {}};
  set.sheets.push_back(key_sheet(job, piece, tiling));
  for (const Tile& tile : tiling.tiles) set.sheets.push_back(tile_sheet(job, piece, tiling, tile));
  return set;
}

}  // namespace cellstow::report
