#include "report/part_drawing.hpp"

#include <algorithm>
#include <cmath>

#include "report/flat_drawing.hpp"
#include "report/text.hpp"
#include "report/three_views.hpp"

namespace cellstow::report {
namespace {

using namespace fabrication;

/// Parts that would come out smaller than this on A4 go on A3.
constexpr double smallest_on_a4 = 5;

TitleFields title_of(const survey::Job& job, const SheetPart& part) {
  TitleFields out;
  out.job = job.title;
  out.title = part.name;
  out.number = "DR-" + part.mark;
  out.mark = part.mark;
  out.material = part.material;
  out.thickness = size_text(part.thickness, job.drawings.units);
  out.quantity = std::to_string(part.quantity);
  out.finish = job.drawings.finish;
  out.mass = fixed(part.mass.value(), 2);
  out.revision = part.revision;
  return out;
}

std::string weld_text(const WeldNote& weld, survey::DrawnUnits units) {
  return "Weld: " + weld.what + (weld.length > 0 ? ", " + size_text(weld.length, units) : "") + (weld.quantity > 1 ? ", " + std::to_string(weld.quantity) + " ×" : "");
}

std::vector<std::string> notes_of(const survey::Job& job, const SheetPart& part) {
  std::vector<std::string> out;
  out.push_back("First check the mock-up in the car; cut no metal before it has gone in and out.");
  out.push_back("Flat sheet seen from its drawn face. All sizes from the datum 0, 0: the lower left edges of the cut outline.");
  if (!part.flat.bends.empty()) out.push_back("Chain line: bend up, towards you. Dashed: bend down. Lines lie in the middle of the bend; K " + number(part.flat.bends.front().k_factor, 2) + ". Bend a test strip first.");
  if (part.hand != Hand::none) out.push_back("Handed: " + fabrication::to_text(part.hand) + "-hand part.");
  std::string etched;
  for (const EtchText& text : part.flat.etch_texts) etched += (etched.empty() ? "Etched: " : ", ") + text.text;
  if (!etched.empty()) out.push_back(etched);
  for (const WeldNote& weld : part.welds) out.push_back(weld_text(weld, job.drawings.units));
  for (const std::string& note : part.notes) out.push_back(sentence(note));
  return out;
}

/// Left for the view when the tables stand in a column at the right; tables that need more than half go elsewhere.
struct Split { Patch view, column; };

Split split(const Patch& room, const std::vector<DrawnTable>& tables) {
  double width = 0;
  for (const DrawnTable& table : tables) width = std::max(width, table_width(table) + 0.1);
  width = std::min(width, room.width() * 0.42);
  if (width <= 0) return {room, {}};
  return {{room.left, room.top, room.right - width - 4, room.bottom}, {room.right - width, room.top, room.right, room.bottom}};
}

struct FlatSheet { Paper sheet; Leftover left; double scale = 1; };

FlatSheet flat_sheet(const survey::Job& job, const SheetPart& part, PaperSize size) {
  FlatSheet out{empty_sheet(size), {}, 1};
  const Patch room = view_room(out.sheet);
  // Whether the corners need a table depends on the room, and the room on the tables: decided with the narrower room.
  FlatTables tables = flat_tables(part.flat, job.drawings.units, room);
  tables = flat_tables(part.flat, job.drawings.units, split(room, tables.all).view);
  const Split rooms = split(room, tables.all);
  if (rooms.column.width() > 0) fill_column(out.sheet, rooms.column, tables.all, out.left);
  out.scale = add_flat(out.sheet, part.flat, job.drawings.units, tables, rooms.view);
  fill_notes(out.sheet, notes_of(job, part), out.left);
  return out;
}

/// Between the drawn faces of two plates that look at each other across an axis of the box: the room inside a pan.
std::optional<Between> inside_of(const FoldedSolid& solid, std::size_t axis) {
  std::optional<double> low, high;
  for (const PlateSolid& plate : solid.plates) {
    const double at = plate.at.origin[axis];
    if (plate.at.normal[axis] > 0.999) low = low ? std::min(*low, at) : at;
    if (plate.at.normal[axis] < -0.999) high = high ? std::max(*high, at) : at;
  }
  if (!low || !high || *high <= *low) return {};
  return Between{*low, *high};
}

ThreeViews folded_views(const survey::Job& job, const SheetPart& part) {
  ThreeViews views;
  views.solids = {&part.folded.front()};
  views.projection = job.drawings.projection;
  views.units = job.drawings.units;
  for (std::size_t axis = 0; axis < 3; ++axis) views.inside[axis] = inside_of(part.folded.front(), axis);
  return views;
}

std::string stem(const char* folder, const std::string& mark, const std::string& revision) {
  return std::string("drawings/") + folder + "/" + file_part(mark) + "_rev_" + file_part(revision);
}

}  // namespace

DrawingSet part_drawing(const survey::Job& job, const SheetPart& part) {
  PaperSize size = job.drawings.paper == survey::DrawingPaper::a3 ? PaperSize::a3 : PaperSize::a4;
  FlatSheet flat = flat_sheet(job, part, size);
  if (size == PaperSize::a4 && flat.scale > smallest_on_a4) {
    FlatSheet larger = flat_sheet(job, part, PaperSize::a3);
    if (larger.scale < flat.scale) size = PaperSize::a3, flat = std::move(larger);
  }
  DrawingSet set{stem("parts", part.mark, part.revision), part.mark + " " + part.name, {}};
  TitleFields fields = title_of(job, part);
  fields.scale = scale_text(flat.scale);
  set.sheets.push_back(std::move(flat.sheet));
  if (!part.flat.bends.empty() && !part.folded.empty()) {
    Paper sheet = empty_sheet(size);
    const ThreeViews views = folded_views(job, part);
    const double scale = views_scale(views, view_room(sheet));
    add_views(sheet, views, view_room(sheet), scale);
    Leftover none;
    fill_notes(sheet, {"Folded. Outside sizes unless a figure says inside; hidden edges left out. Seen as the part stands in the car."}, none);
    if (scale != flat.scale) fields.scale = scale_text(flat.scale) + ", " + scale_text(scale);
    set.sheets.push_back(std::move(sheet));
  }
  add_sheets(set.sheets, size, std::move(flat.left));
  finish_set(set.sheets, fields, job.drawings);
  return set;
}

}  // namespace cellstow::report
