#include "report/flat_drawing.hpp"

#include <algorithm>
#include <cmath>

#include "report/flat_lists.hpp"

namespace cellstow::report {
namespace {

using namespace fabrication;

constexpr double same = 0.05;   // mm: shown with one decimal, the same figure

/// A length from the datum along one axis: nearest and farthest place across it where it can be taken.
struct Along { double value = 0, near = 0, far = 0; bool boxed = false; };

void add_along(std::vector<Along>& all, double value, double across, bool boxed) {
  for (Along& known : all) {
    if (std::abs(known.value - value) >= same) continue;
    known = {known.value, std::min(known.near, across), std::max(known.far, across), known.boxed || boxed};
    return;
  }
  all.push_back({value, across, across, boxed});
}

/// What is dimensioned along both axes, each length once.
struct FromDatum { std::vector<Along> across, up; };

void add_point(FromDatum& out, FlatPoint p, bool across, bool up, bool boxed) {
  if (across) add_along(out.across, p.a, p.b, boxed);
  if (up) add_along(out.up, p.b, p.a, boxed);
}

FromDatum from_datum(const FlatPattern& flat, bool holes, bool corners) {
  FromDatum out;
  const FlatExtent e = extent_of(flat.outline);
  add_point(out, e.low, true, true, false);
  for (const PathPoint& p : flat.outline) {
    const bool end_a = std::abs(p.a - e.low.a) < same || std::abs(p.a - e.high.a) < same;
    const bool end_b = std::abs(p.b - e.low.b) < same || std::abs(p.b - e.high.b) < same;
    add_point(out, {p.a, p.b}, corners || end_a, corners || end_b, false);
  }
  add_point(out, e.high, true, true, false);
  for (const BendLine& bend : flat.bends) {
    for (const FlatPoint& p : {bend.from, bend.to}) add_point(out, p, is_upright(bend), is_level(bend), false);
  }
  for (const FlatHole& hole : flat.holes) {
    if (!corners || hole.kind != HoleKind::contour) continue;
    for (const PathPoint& p : hole.contour) add_point(out, {p.a, p.b}, true, true, false);
  }
  if (!holes) return out;
  for (const FlatHole& hole : flat.holes) {
    if (hole.kind == HoleKind::contour) continue;
    add_along(out.across, hole.centre.a, e.low.b, true);
    add_along(out.up, hole.centre.b, e.low.a, true);
  }
  return out;
}

/// The pattern's place on paper.
struct OnPaper {
  double scale = 1;
  Spot datum;
  Spot at(FlatPoint p) const { return {datum.x + p.a / scale, datum.y - p.b / scale}; }
  Trace trace(const Path& path, double width) const {
    Trace out{{}, true, width, LineKind::full, Area::none, {}};
    for (const PathPoint& p : path) out.points.push_back({at({p.a, p.b}), p.bulge});
    return out;
  }
};

/// The figures of two opposite sides: each stands where its line is shorter.
struct TwoSides { std::vector<Ordinate> near, far; };

TwoSides ordinates(const std::vector<Along>& all, const OnPaper& paper, bool across, const FlatExtent& e, survey::DrawnUnits units) {
  TwoSides out;
  const double low = across ? e.low.b : e.low.a, high = across ? e.high.b : e.high.a;
  for (const Along& a : all) {
    const bool near = a.near - low <= high - a.far;
    const double leaves = near ? a.near : a.far;
    const Spot spot = across ? paper.at({a.value, leaves}) : paper.at({leaves, a.value});
    (near ? out.near : out.far).push_back({across ? spot.x : spot.y, across ? spot.y : spot.x, size_text(a.value, units), a.boxed});
  }
  return out;
}

/// Room for figures outside the part's edges.
struct Reach { double below, above, left, right, run_across, run_up; };

Reach reach(const FromDatum& from, const FlatExtent& e, survey::DrawnUnits units) {
  const TwoSides across = ordinates(from.across, {}, true, e, units), up = ordinates(from.up, {}, false, e, units);
  return {ordinate_reach(across.near), ordinate_reach(across.far), ordinate_reach(up.near), ordinate_reach(up.far),
          std::max(ordinate_run(across.near), ordinate_run(across.far)), std::max(ordinate_run(up.near), ordinate_run(up.far))};
}

bool fits(const FromDatum& from, const FlatExtent& e, survey::DrawnUnits units, const Patch& room) {
  const Reach r = reach(from, e, units);
  return r.run_across <= room.width() - r.left - r.right && r.run_up <= room.height() - r.below - r.above;
}

void draw_hole(Paper& sheet, Placer& placer, const FlatHole& hole, const OnPaper& paper) {
  const Spot centre = paper.at(hole.centre);
  double reach = hole.diameter / 2 / paper.scale;
  if (hole.kind == HoleKind::round) {
    sheet.marks.emplace_back(Circle{centre, reach, wide_line, Area::none});
  } else {
    const Path path = hole_path(hole);
    const FlatExtent e = extent_of(path);
    reach = std::max(e.width(), e.height()) / 2 / paper.scale;
    sheet.marks.emplace_back(paper.trace(path, wide_line));
    if (hole.kind == HoleKind::contour) {
      const std::vector<FlatPoint> corners = straightened(path, 0.2);
      for (std::size_t i = 0; i < corners.size(); ++i) placer.avoid(paper.at(corners[i]), paper.at(corners[(i + 1) % corners.size()]));
      return;
    }
  }
  const double cross = reach + 1;
  add_line(sheet, {centre.x - cross, centre.y}, {centre.x + cross, centre.y});
  add_line(sheet, {centre.x, centre.y - cross}, {centre.x, centre.y + cross});
  placer.avoid(Patch{centre.x - cross, centre.y - cross, centre.x + cross, centre.y + cross});
}

/// Chain lines from a hole's centre to the two edges where its figures stand.
void draw_to_datum(Paper& sheet, Placer& placer, Spot centre, Spot datum) {
  for (const Spot& edge : {Spot{centre.x, datum.y}, Spot{datum.x, centre.y}}) {
    add_line(sheet, centre, edge, narrow_line, LineKind::chain);
    placer.avoid(centre, edge);
  }
}

void draw_lines(Paper& sheet, Placer& placer, const FlatPattern& flat, const OnPaper& paper) {
  sheet.marks.emplace_back(paper.trace(flat.outline, wide_line));
  const std::vector<FlatPoint> corners = straightened(flat.outline, 0.2);
  for (std::size_t i = 0; i < corners.size(); ++i) placer.avoid(paper.at(corners[i]), paper.at(corners[(i + 1) % corners.size()]));
  for (const BendLine& bend : flat.bends) {
    add_line(sheet, paper.at(bend.from), paper.at(bend.to), narrow_line, bend.up ? LineKind::chain : LineKind::dashed);
    placer.avoid(paper.at(bend.from), paper.at(bend.to));
  }
  for (const EtchLine& etch : flat.etch_lines) {
    add_line(sheet, paper.at(etch.from), paper.at(etch.to), narrow_line);
    placer.avoid(paper.at(etch.from), paper.at(etch.to));
  }
}

/// Etched lettering is smaller on paper than can be read; its place is shown and its text stands in the notes.
void draw_etched(Paper& sheet, Placer& placer, const EtchText& etch, const OnPaper& paper) {
  const double angle = etch.angle_deg * 3.14159265358979 / 180, c = std::cos(angle), s = std::sin(angle);
  const double width = 0.8 * etch.height * static_cast<double>(etch.text.size());
  Trace place{{}, true, narrow_line, LineKind::dashed, Area::none, {}};
  Patch around = rectangle(paper.at(etch.at), paper.at(etch.at));
  for (const FlatPoint& p : {FlatPoint{0, 0}, FlatPoint{width, 0}, FlatPoint{width, etch.height}, FlatPoint{0, etch.height}}) {
    const Spot spot = paper.at({etch.at.a + p.a * c - p.b * s, etch.at.b + p.a * s + p.b * c});
    place.points.push_back({spot, 0});
    around = {std::min(around.left, spot.x), std::min(around.top, spot.y), std::max(around.right, spot.x), std::max(around.bottom, spot.y)};
  }
  sheet.marks.emplace_back(std::move(place));
  placer.avoid(around);
}

void name_holes(Paper& sheet, Placer& placer, const FlatPattern& flat, const OnPaper& paper, bool table, survey::DrawnUnits units) {
  const std::vector<std::string> marks = hole_marks(flat.holes);
  for (const FlatHole& hole : flat.holes) placer.named(paper.at(hole.centre));
  for (std::size_t i = 0; i < flat.holes.size(); ++i) {
    const FlatHole& hole = flat.holes[i];
    if (hole.kind == HoleKind::contour) {
      const FlatPoint corner{hole.contour.front().a, hole.contour.front().b};
      placer.place(sheet, paper.at(corner), 1, {{}, "opening" + (hole.what.empty() ? "" : ", " + hole.what), lettering, Anchor::middle, false, false, false});
      continue;
    }
    const FlatExtent e = extent_of(hole_path(hole));
    const double clear = std::hypot(e.width(), e.height()) / 2.8 / paper.scale + 0.8;
    const std::string text = table ? marks[i] : hole_size(hole, units) + (hole.what.empty() ? "" : " " + hole.what);
    placer.place(sheet, paper.at(hole.centre), clear, {{}, text, table ? small_lettering : lettering, Anchor::middle, false, false, false});
  }
}

void name_bends(Paper& sheet, Placer& placer, const FlatPattern& flat, const OnPaper& paper) {
  for (std::size_t i = 0; i < flat.bends.size(); ++i) {
    const BendLine& bend = flat.bends[i];
    const Spot from = paper.at(bend.from), to = paper.at(bend.to);
    const Spot at{from.x + 0.3 * (to.x - from.x), from.y + 0.3 * (to.y - from.y)};
    placer.place(sheet, at, 0.6, {{}, "B" + std::to_string(i + 1), lettering, Anchor::middle, false, false, false});
  }
}

void name_corners(Paper& sheet, Placer& placer, const FlatPattern& flat, const OnPaper& paper) {
  int number = 0;
  for (const Path& path : cornered(flat)) {
    for (const PathPoint& p : path) {
      placer.place(sheet, paper.at({p.a, p.b}), 0.6, {{}, std::to_string(++number), small_lettering, Anchor::middle, false, false, false});
    }
  }
}

}  // namespace

FlatTables flat_tables(const FlatPattern& flat, survey::DrawnUnits units, const Patch& room) {
  FlatTables out;
  const auto located = std::count_if(flat.holes.begin(), flat.holes.end(), [](const FlatHole& h) { return h.kind != HoleKind::contour; });
  out.holes = located > holes_in_place;
  if (out.holes) out.all.push_back(hole_table(flat.holes, units));
  if (!flat.bends.empty()) out.all.push_back(bend_table(flat.bends, units));
  out.corners = !fits(from_datum(flat, !out.holes, true), extent_of(flat.outline), units, room);
  if (out.corners) out.all.push_back(corner_table(flat, units));
  return out;
}

double add_flat(Paper& sheet, const FlatPattern& flat, survey::DrawnUnits units, const FlatTables& tables, const Patch& room) {
  const FlatExtent e = extent_of(flat.outline);
  const FromDatum from = from_datum(flat, !tables.holes, !tables.corners);
  const Reach r = reach(from, e, units);
  constexpr double margin = 6;   // for names outside the part
  const double wide = room.width() - r.left - r.right - 2 * margin, high = room.height() - r.below - r.above - 2 * margin;
  OnPaper paper{drawing_scale(e.width(), e.height(), wide, high), {}};
  const double width = e.width() / paper.scale, height = e.height() / paper.scale;
  paper.datum = {room.left + r.left + margin + (wide - width) / 2, room.top + r.above + margin + (high - height) / 2 + height};
  Placer placer(room);
  draw_lines(sheet, placer, flat, paper);
  for (const FlatHole& hole : flat.holes) {
    draw_hole(sheet, placer, hole, paper);
    if (!tables.holes && hole.kind != HoleKind::contour) draw_to_datum(sheet, placer, paper.at(hole.centre), paper.datum);
  }
  for (const EtchText& etch : flat.etch_texts) draw_etched(sheet, placer, etch, paper);
  sheet.marks.emplace_back(Circle{paper.datum, datum_ring, narrow_line, Area::none});
  const TwoSides across = ordinates(from.across, paper, true, e, units), up = ordinates(from.up, paper, false, e, units);
  const double low_x = room.left + r.left, high_x = room.right - r.right, low_y = room.top + r.above, high_y = room.bottom - r.below;
  add_ordinates(sheet, placer, across.near, Side::below, paper.datum.y, low_x, high_x);
  add_ordinates(sheet, placer, across.far, Side::above, paper.datum.y - height, low_x, high_x);
  add_ordinates(sheet, placer, up.near, Side::left, paper.datum.x, low_y, high_y);
  add_ordinates(sheet, placer, up.far, Side::right, paper.datum.x + width, low_y, high_y);
  name_holes(sheet, placer, flat, paper, tables.holes, units);
  name_bends(sheet, placer, flat, paper);
  if (tables.corners) name_corners(sheet, placer, flat, paper);
  else {
    for (const auto& [text, at] : radius_notes(flat.outline, units)) placer.place(sheet, paper.at(at), 0.6, {{}, text, lettering, Anchor::middle, false, false, false});
  }
  return paper.scale;
}

}  // namespace cellstow::report
