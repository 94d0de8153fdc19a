#include "hatch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "folding.hpp"

namespace cellstow::fabrication {
namespace {

constexpr double corner_mm = 8;

/// Clockwise, with round corners.
Path opening_path(FlatPoint low, FlatPoint high) {
  const double r = std::min({corner_mm, (high.a - low.a) / 3, (high.b - low.b) / 3}), bulge = -std::tan(std::numbers::pi / 8);
  return {{low.a, low.b + r, 0},         {low.a, high.b - r, bulge},  {low.a + r, high.b, 0}, {high.a - r, high.b, bulge},
          {high.a, high.b - r, 0},       {high.a, low.b + r, bulge},  {high.a - r, low.b, 0}, {low.a + r, low.b, bulge}};
}

double from_rectangle(const Hatch& hatch, FlatPoint p) {
  return std::hypot(std::max({hatch.low.a - p.a, 0.0, p.a - hatch.high.a}), std::max({hatch.low.b - p.b, 0.0, p.b - hatch.high.b}));
}

/// Sheet all round the opening: to the walls' inner faces, and to the lid's screws less what they need for themselves.
double room_round(const Shape& shape, const Hatch& hatch, const std::vector<FlatPoint>& screws) {
  double least = 1e9;
  for (const Side& side : shape.sides) {
    for (const FlatPoint corner : {hatch.low, hatch.high, FlatPoint{hatch.low.a, hatch.high.b}, FlatPoint{hatch.high.a, hatch.low.b}}) {
      least = std::min(least, distance_to(corner, side) - shape.wall);
    }
    least = std::min(least, from_rectangle(hatch, side.from) - shape.wall);
  }
  for (const FlatPoint& screw : screws) least = std::min(least, from_rectangle(hatch, screw) - hatch::screw_clear_mm);
  return least;
}

/// At the corners and between them, no farther apart than lid screws.
void add_studs(Hatch& hatch) {
  const double a0 = hatch.low.a - hatch::stud_in_mm, a1 = hatch.high.a + hatch::stud_in_mm;
  const double b0 = hatch.low.b - hatch::stud_in_mm, b1 = hatch.high.b + hatch::stud_in_mm;
  const int along = static_cast<int>(std::ceil((a1 - a0) / shop::screw_pitch_mm)), across = static_cast<int>(std::ceil((b1 - b0) / shop::screw_pitch_mm));
  for (int i = 0; i <= along; ++i) {
    for (const double b : {b0, b1}) hatch.studs.push_back({a0 + (a1 - a0) * i / along, b});
  }
  for (int i = 1; i < across; ++i) {
    for (const double a : {a0, a1}) hatch.studs.push_back({a, b0 + (b1 - b0) * i / across});
  }
}

}  // namespace

std::optional<Hatch> find_hatch(const Shape& shape, const packing::BoxLayout& layout, const std::vector<FlatPoint>& screws, SheetWork& work) {
  if (!shape.rules->fuse_hatch) return std::nullopt;
  const auto fuse = std::find_if(layout.fittings.begin(), layout.fittings.end(),
                                 [](const packing::PlacedFitting& f) { return packing::is_fuse(f) && f.place != survey::FittingPlace::wall; });
  if (fuse == layout.fittings.end()) {
    work.notes.push_back("no fuse hatch: there is no fuse in this box");
    return std::nullopt;
  }
  Hatch found{{fuse->body.low.x.mm(), fuse->body.low.y.mm()}, {fuse->body.high.x.mm(), fuse->body.high.y.mm()}, {}};
  const double room = std::round(room_round(shape, found, screws) * 1000) / 1000;
  work.checks.push_back(core::check_at_least("sheet round the fuse hatch", shape.mark + ", " + fuse->name, room, hatch::rim_mm, "mm",
                                             "rim of the cover with its studs; common practice, no source",
                                             fmt::format("the fuse {:.1f} mm further from walls and lid screws, or reach it with the lid off: fuse_hatch false", hatch::rim_mm - room)));
  const double over = shop::gasket_mm + shape.lid + hatch::thin_nut_mm + hatch::thread_over_mm;
  work.checks.push_back(core::check_at_most("hatch cover over the lid", shape.mark, over, shape.rules->lid_clearance.mm(), "mm",
                                            "gasket, cover, thin nut ISO 4035, 1 mm of thread, against lid_clearance_mm", "more lid_clearance_mm, or fuse_hatch false"));
  if (room < hatch::rim_mm) return std::nullopt;
  add_studs(found);
  const auto count = static_cast<double>(found.studs.size());
  work.loose.push_back({"press stud M5 x 10", count, "pieces", "lid, round the fuse hatch"});
  work.loose.push_back({"thin nut M5", count, "pieces", "hatch cover"});
  work.loose.push_back({"soft gasket strip, 4 thick, pressed to 2", std::ceil(2 * (found.high.a - found.low.a + found.high.b - found.low.b + 4 * hatch::stud_in_mm) / 100) / 10, "m",
                        "under the hatch cover"});
  work.cautions.push_back(shape.mark + ": behind the fuse hatch all is live. It opens only with the service disconnect out, a meter at hand and gloves on; the fuse comes out by its own puller");
  return found;
}

std::vector<FlatHole> lid_holes(const Hatch& hatch, FlatPoint from) {
  FlatHole opening;
  opening.kind = HoleKind::contour;
  opening.contour = opening_path({hatch.low.a - from.a, hatch.low.b - from.b}, {hatch.high.a - from.a, hatch.high.b - from.b});
  opening.centre = {(hatch.low.a + hatch.high.a) / 2 - from.a, (hatch.low.b + hatch.high.b) / 2 - from.b};
  opening.what = "fuse hatch";
  std::vector<FlatHole> holes{opening};
  for (const FlatPoint& stud : hatch.studs) holes.push_back(round_hole({stud.a - from.a, stud.b - from.b}, hatch::stud_hole_mm, "press stud M5"));
  return holes;
}

SheetPart hatch_cover(const Shape& shape, const Hatch& hatch) {
  SheetPart cover = new_part(shape, "HATCH", "cover of the fuse hatch", PartKind::plate, shape.lid);
  cover.arrow = Arrow::front;
  const FlatPoint low{hatch.low.a - hatch::rim_mm, hatch.low.b - hatch::rim_mm};
  std::vector<FlatHole> holes;
  for (const FlatPoint& stud : hatch.studs) holes.push_back(round_hole({stud.a - low.a, stud.b - low.b}, shop::screw_hole_mm, "stud M5"));
  lay_flat(rectangle(hatch.high.a - hatch.low.a + 2 * hatch::rim_mm, hatch.high.b - hatch.low.b + 2 * hatch::rim_mm), holes,
           lying(low, shape.lid_top + shop::gasket_mm + shape.lid), cover);
  cover.notes.push_back("label on it: warning triangle, greatest voltage, fuse rating");
  return cover;
}

}  // namespace cellstow::fabrication
