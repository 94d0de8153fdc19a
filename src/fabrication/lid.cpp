#include "lid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "hatch.hpp"
#include "lid_tabs.hpp"
#include "rectangle_pan.hpp"

namespace cellstow::fabrication {
namespace {

/// A flange welded on needs room for the nut beside the weld and metal outside its hole.
constexpr double ring_least_mm = 15;
constexpr double metal_beside_nut_mm = 3.5;
constexpr double cap_leg_least_mm = 20;
/// Low heads of M4 screws (2.2 mm) and a little air. Head height ISO 7380-1, from memory.
constexpr double side_head_mm = 2.5;
/// Slot in a cap's edge for M4, upright, so that the gasket can be pressed before the screw is tightened.
constexpr double side_slot_mm = 4.5, side_slot_length_mm = 7, side_slot_from_edge_mm = 7;
/// Between neighbouring lid screws along the mouth. Common practice for a soft gasket, no source.
constexpr double tabs_per_perimeter_mm = 250;
/// Beyond this a 2 mm lid lifts off its gasket between screws. Common practice, no source.
constexpr double longest_unstiffened_mm = 300;

double folded_flange_least(const Shape& shape) {
  const double nut_needs = shape.bend.inside_radius_mm + hole_to_bend_mm(shape.bend) + shop::nut_hole_mm + metal_beside_nut_mm;
  return std::max(nut_needs, shortest_leg_mm(shape.bend, *shape.rules) - shape.wall);
}

double cap_leg(const Shape& shape) { return std::max(cap_leg_least_mm, std::ceil(shortest_leg_mm(shape.lid_bend, *shape.rules))); }

/// With room for screw heads outside its edges a cap lies close round the walls; else it fills the outline.
bool has_side_screws(const Shape& shape) { return shape.flange >= shape.lid + shop::lid_play_mm + side_head_mm; }

double cap_stands_out(const Shape& shape) { return has_side_screws(shape) ? shape.lid + shop::lid_play_mm : shape.flange; }

/// The inside of the lid's fold must pass the walls' top outer corner.
bool cap_clears_walls(const Shape& shape) {
  const double r = shape.lid_bend.inside_radius_mm, play = cap_stands_out(shape) - shape.lid;
  const double across = std::max(0.0, r - play), down = std::max(0.0, r - shop::gasket_mm);
  return across == 0 || down == 0 || std::hypot(across, down) <= r;
}

/// A rectangle's edges are folded; round other outlines strips are welded on, which only pays with screws through them.
bool has_cap(const Shape& shape) {
  if (!shape.is_rectangle) return has_side_screws(shape);
  return shape.flange >= shape.lid + shop::lid_play_mm && cap_clears_walls(shape);
}

Path path_of(const std::vector<core::Point2>& outline, FlatPoint from) {
  Path path;
  for (const core::Point2& p : outline) path.push_back({p.a.mm() - from.a, p.b.mm() - from.b, 0});
  return path;
}

FlatPoint low_of(const std::vector<core::Point2>& outline) {
  core::Point2 low = outline.front();
  for (const core::Point2& p : outline) low = {std::min(low.a, p.a), std::min(low.b, p.b)};
  return {low.a.mm(), low.b.mm()};
}

FlatPoint outside_of(const Side& side, double along, double out) {
  return {side.from.a + along * side.along.a - out * side.inward.a, side.from.b + along * side.along.b - out * side.inward.b};
}

std::vector<FlatPoint> all_flange_screws(const Shape& shape, const Mouth& mouth) {
  std::vector<FlatPoint> screws;
  for (std::size_t i = 0; i < shape.sides.size(); ++i) {
    for (const double along : flange_screws(shape, i, mouth)) screws.push_back(outside_of(shape.sides[i], along, mouth.screw_out));
  }
  return screws;
}

std::vector<FlatHole> holes_at(const std::vector<FlatPoint>& screws, FlatPoint from, double diameter, const std::string& what) {
  std::vector<FlatHole> holes;
  for (const FlatPoint& p : screws) holes.push_back(round_hole({p.a - from.a, p.b - from.b}, diameter, what));
  return holes;
}

void add_ring(const Shape& shape, const Mouth& mouth, const std::vector<FlatPoint>& screws, SheetWork& work) {
  SheetPart ring = new_part(shape, "FLANGE", "mouth flange", PartKind::flange, shape.wall);
  ring.arrow = Arrow::front;
  const FlatPoint low = low_of(shape.outline);
  std::vector<FlatHole> holes = holes_at(screws, low, shop::nut_hole_mm, "rivet nut M5");
  FlatHole mouth_hole;
  mouth_hole.kind = HoleKind::contour;
  mouth_hole.contour = path_of(box::inset(shape.outline, shape.rules->flange + shape.rules->wall), low);
  std::reverse(mouth_hole.contour.begin(), mouth_hole.contour.end());
  const FlatExtent extent = extent_of(mouth_hole.contour);
  mouth_hole.centre = {(extent.low.a + extent.high.a) / 2, (extent.low.b + extent.high.b) / 2};
  mouth_hole.what = "mouth";
  holes.push_back(mouth_hole);
  lay_flat(path_of(shape.outline, low), holes, lying(low, mouth.walls_top + shape.wall), ring);
  ring.welds.push_back({"flange to the walls' top edges, from outside underneath, closed all round", shape.perimeter(), 1});
  work.parts.push_back(std::move(ring));
}

void add_hatch(const std::optional<Hatch>& hatch, FlatPoint from, std::vector<FlatHole>& holes) {
  if (!hatch) return;
  for (FlatHole& hole : lid_holes(*hatch, from)) holes.push_back(std::move(hole));
}

SheetPart plate_lid(const Shape& shape, const std::vector<core::Point2>& outline, const std::vector<FlatPoint>& screws, const std::optional<Hatch>& hatch) {
  SheetPart lid = new_part(shape, "LID", "lid", PartKind::lid, shape.lid);
  lid.arrow = Arrow::front;
  const FlatPoint low = low_of(outline);
  std::vector<FlatHole> holes = holes_at(screws, low, shop::screw_hole_mm, "lid screw M5");
  add_hatch(hatch, low, holes);
  lay_flat(path_of(outline, low), holes, lying(low, shape.lid_top), lid);
  return lid;
}

FlatHole side_slot(FlatPoint centre) {
  FlatHole slot;
  slot.kind = HoleKind::slot;
  slot.centre = centre;
  slot.diameter = side_slot_mm;
  slot.length = side_slot_length_mm;
  slot.angle_deg = 90;
  slot.what = "lid screw M4";
  return slot;
}

SheetPart cap_lid(const Shape& shape, const Mouth& mouth, const std::vector<FlatPoint>& screws, const std::optional<Hatch>& hatch) {
  SheetPart lid = new_part(shape, "LID", "lid, edges folded down", PartKind::lid, shape.lid);
  lid.arrow = Arrow::front;
  const double out = cap_stands_out(shape), set_in = shape.lid_bend.inside_radius_mm + shape.lid;
  const FlatPoint low{shape.sides[0].from.a - out, shape.sides[0].from.b - out};
  RectanglePan pan;
  pan.width = shape.sides[0].length + 2 * out;
  pan.depth = shape.sides[1].length + 2 * out;
  pan.up = false;
  pan.leg = cap_leg(shape);
  pan.holes = holes_at(screws, {low.a + set_in, low.b + set_in}, shop::screw_hole_mm, "lid screw M5");
  add_hatch(hatch, {low.a + set_in, low.b + set_in}, pan.holes);
  for (const char* side : {"left", "rear", "right", "front"}) pan.names.push_back(std::string("edge, ") + side);
  pan.edge_holes = [&](std::size_t side, const RectanglePan::At& at) {
    std::vector<FlatHole> slots;
    for (const double along : side_screws(shape, side, mouth)) {
      slots.push_back(side_slot(at(out + along, pan.leg - set_in - side_slot_from_edge_mm)));
    }
    return slots;
  };
  fold_up(pan_face(pan, shape.lid_bend), lying({low.a + set_in, low.b + set_in}, shape.lid_top), shape.lid_bend, lid);
  lid.welds.push_back({"corner of the folded edges, from outside", pan.leg - set_in, 4});
  return lid;
}

LooseItem gasket(const Shape& shape) {
  return {"soft gasket strip, 4 thick, pressed to 2", std::ceil(shape.perimeter() / 100) / 10, "m", "under the lid"};
}

void add_fasteners(std::size_t screws, const Shape& shape, SheetWork& work) {
  const auto count = static_cast<double>(screws);
  work.loose.push_back({"screw M5 x 16, low head", count, "pieces", "lid"});
  work.loose.push_back({"rivet nut M5", count, "pieces", "lid screws"});
  work.loose.push_back(gasket(shape));
}

std::string held_by_tabs(const Shape& shape) {
  return shape.flange > 0 ? fmt::format("flange_mm {:g} is too little for a flange with screws", shape.flange) : "flange_mm is 0";
}

/// Would a cap with screws through its edges do?
bool cap_cures(const Shape& shape) {
  Shape wider = shape;
  wider.flange = shape.lid + shop::lid_play_mm + side_head_mm;
  return has_cap(wider);
}

/// Longest stretch along the mouth from one screw to the next, each screw brought to its nearest side.
double longest_free_edge(const Shape& shape, const std::vector<FlatPoint>& screws) {
  std::vector<double> places;
  for (const FlatPoint& p : screws) {
    double best = 1e9, place = 0, before = 0;
    for (const Side& side : shape.sides) {
      const double a = p.a - side.from.a, b = p.b - side.from.b;
      const double along = std::clamp(a * side.along.a + b * side.along.b, 0.0, side.length);
      const double off = std::hypot(a - along * side.along.a, b - along * side.along.b);
      if (off < best) best = off, place = before + along;
      before += side.length;
    }
    places.push_back(place);
  }
  std::sort(places.begin(), places.end());
  double longest = places.empty() ? shape.perimeter() : places.front() + shape.perimeter() - places.back();
  for (std::size_t i = 1; i < places.size(); ++i) longest = std::max(longest, places[i] - places[i - 1]);
  return longest;
}

void check_tabs(const Shape& shape, std::size_t found, SheetWork& work) {
  const double wanted = std::max(4.0, std::ceil(shape.perimeter() / tabs_per_perimeter_mm));
  work.checks.push_back(core::check_at_least(
      "lid screws", shape.mark, static_cast<double>(found), wanted, "screws",
      "one for every 250 mm of the mouth, four at least; common practice, no source",
      fmt::format("no more room for angle tabs between the cells and the walls: {} flange_mm to {:g}, and {}",
                  shape.flange > 0 ? "raise" : "set", cap_cures(shape) ? shape.lid + shop::lid_play_mm + side_head_mm : ring_least_mm,
                  cap_cures(shape) ? "the lid gets edges down over the walls, screwed to them from the side"
                                   : "the lid is screwed to a flange outside the walls")));
}

}  // namespace

Mouth choose_mouth(const Shape& shape, bool walls_fold) {
  Mouth mouth;
  mouth.walls_top = shape.mouth;
  if (walls_fold && shape.flange >= folded_flange_least(shape)) {
    mouth.style = LidStyle::plate_on_flange;
    mouth.folded_flange = true;
    const double near = shape.bend.inside_radius_mm + hole_to_bend_mm(shape.bend) + shop::nut_hole_mm / 2;
    mouth.screw_out = std::max(near, shape.flange / 2);
  } else if (shape.flange >= ring_least_mm) {
    mouth.style = LidStyle::plate_on_flange;
    mouth.walls_top = shape.mouth - shape.wall;
    mouth.screw_out = shape.flange / 2;
  } else if (has_cap(shape)) {
    mouth.style = LidStyle::cap;
    mouth.side_screws = has_side_screws(shape);
    mouth.side_screw_z = shape.lid_top - cap_leg(shape) + side_slot_from_edge_mm;
  } else {
    mouth.style = LidStyle::plate_on_tabs;
  }
  return mouth;
}

std::vector<double> flange_screws(const Shape& shape, std::size_t side, const Mouth& mouth) {
  constexpr double from_corner_mm = 25;
  const std::size_t n = shape.sides.size();
  const auto turns_in = [&](std::size_t corner) {  // at the corner where this side begins
    const FlatPoint p = shape.sides[(corner + n - 1) % n].along, q = shape.sides[corner % n].along;
    return p.a * q.b - p.b * q.a < 0;
  };
  // At an inside corner the neighbour's flange stands in the way.
  const double first = from_corner_mm + (turns_in(side) ? shape.flange : 0);
  const double last = shape.sides[side].length - from_corner_mm - (turns_in(side + 1) ? shape.flange : 0);
  if (last < first || mouth.style != LidStyle::plate_on_flange) return {};
  const int gaps = std::max(last - first < 2 * from_corner_mm ? 0 : 1, static_cast<int>(std::ceil((last - first) / shop::screw_pitch_mm)));
  if (gaps == 0 || last - first < 2 * from_corner_mm) return {(first + last) / 2};
  std::vector<double> screws;
  for (int i = 0; i <= gaps; ++i) screws.push_back(first + (last - first) * i / gaps);
  return screws;
}

namespace {

/// The place nearest to `along` where a nut stands clear of the hole's own nut, once and a half the hole across. Common practice, no source.
double beside(const WallOpening& hole, double along, double z, double low, double high) {
  const double needed = 0.75 * hole.diameter + shop::press_nut_hole_mm, dz = z - hole.z;
  if (std::hypot(along - hole.along, dz) >= needed) return along;
  const double shift = std::sqrt(needed * needed - dz * dz), before = hole.along - shift, after = hole.along + shift;
  const bool go_back = after > high || (before >= low && along < hole.along);
  return go_back ? before : after;
}

}  // namespace

std::vector<double> side_screws(const Shape& shape, std::size_t side, const Mouth& mouth) {
  constexpr double from_corner_mm = 40, least_side_mm = 20;
  const double length = shape.sides[side].length, room = length - 2 * from_corner_mm;
  if (!mouth.side_screws || length < least_side_mm) return {};
  std::vector<double> screws;
  if (room <= from_corner_mm) screws = {length / 2};
  const int gaps = screws.empty() ? static_cast<int>(std::ceil(room / shop::screw_pitch_mm)) : -1;
  for (int i = 0; i <= gaps; ++i) screws.push_back(from_corner_mm + room * i / gaps);
  for (double& along : screws) {
    for (const WallOpening& hole : mouth.wall_holes)
      if (hole.side == side) along = beside(hole, along, mouth.side_screw_z, least_side_mm / 2, length - least_side_mm / 2);
  }
  return screws;
}

Face flange_face(const Shape& shape, const Mouth& mouth, double length, double set_back, const std::vector<double>& screws) {
  const double r = shape.bend.inside_radius_mm, flat = shape.flange - r, step = shape.wall / 2;
  // Beyond the wall's end the flange goes on to the mitre, straight out from the body's corner.
  const double near = set_back + r + step - shop::weld_gap_mm, far = set_back + shape.flange - shop::weld_gap_mm;
  Face face;
  face.outline = {{0, 0, 0},         {length, 0, 0},        {length, step, 0}, {length + near, step, 0}, {length + far, flat, 0},
                  {-far, flat, 0},   {-near, step, 0},      {0, step, 0}};
  for (const double a : screws) face.holes.push_back(round_hole({a, mouth.screw_out - r}, shop::nut_hole_mm, "rivet nut M5"));
  return face;
}

namespace {

/// A plate with strips under its rim, welded along the outside.
void add_welded_cap(const Shape& shape, const Mouth& mouth, const std::optional<Hatch>& hatch, SheetWork& work) {
  const core::Length out = core::Length::from_mm(shape.lid + shop::lid_play_mm);
  const std::vector<core::Point2> rim = box::inset(shape.body, -out);
  for (const box::WallRun& run : box::wall_runs(rim, shape.rules->lid)) {
    const Side& side = shape.sides[run.edge];
    const double high = cap_leg(shape) - shape.lid, foot = shape.lid_top - cap_leg(shape);
    const double start = (run.footprint[0].a.mm() - side.from.a) * side.along.a + (run.footprint[0].b.mm() - side.from.b) * side.along.b;
    Placement at = standing(side, start, foot);
    for (std::size_t i = 0; i < 2; ++i) at.origin[i] += at.normal[i] * out.mm();
    std::vector<FlatHole> slots;
    for (const double along : side_screws(shape, run.edge, mouth)) slots.push_back(side_slot({along - start, side_slot_from_edge_mm}));
    SheetPart strip = new_part(shape, "LID-EDGE-" + side_mark(side).substr(5), "lid edge, " + side_name(side).substr(6), PartKind::plate, shape.lid);
    strip.arrow = Arrow::up;
    lay_flat(rectangle(run.length.mm(), high), slots, at, strip);
    strip.welds.push_back({"strip under the lid's rim, along the outside and at its ends", run.length.mm() + high, 1});
    work.parts.push_back(std::move(strip));
  }
  work.parts.push_back(plate_lid(shape, rim, {}, hatch));
  work.notes.push_back("the lid's edge strips are welded under its rim with the lid lying on the box and a strip of 0.5 mm between: the play");
}

void add_side_fasteners(const Shape& shape, const Mouth& mouth, SheetWork& work) {
  double count = 0;
  for (std::size_t i = 0; i < shape.sides.size(); ++i) count += static_cast<double>(side_screws(shape, i, mouth).size());
  work.loose.push_back({"screw M4 x 6, low head", count, "pieces", "lid"});
  work.loose.push_back({"flush press nut M4", count, "pieces", "walls, for the lid's edges"});
  work.loose.push_back(gasket(shape));
  work.notes.push_back("lid: a cap, screwed through slots in its edges; press it down on its gasket, then tighten; screws no longer than 6 mm, "
                       "so that none reaches the liner; press the nuts in before welding");
}

}  // namespace

void add_lid(const Shape& shape, const Mouth& mouth, const packing::BoxLayout& layout, const survey::Cell* cell, SheetWork& work) {
  work.lid = mouth.style;
  std::optional<Hatch> hatch;
  const auto add_cover = [&] {
    if (hatch) work.parts.push_back(hatch_cover(shape, *hatch));
  };
  if (mouth.side_screws) {
    hatch = find_hatch(shape, layout, {}, work);
    if (shape.is_rectangle) work.parts.push_back(cap_lid(shape, mouth, {}, hatch));
    else add_welded_cap(shape, mouth, hatch, work);
    add_cover();
    return add_side_fasteners(shape, mouth, work);
  }
  std::vector<FlatPoint> screws;
  if (mouth.style == LidStyle::plate_on_flange) {
    screws = all_flange_screws(shape, mouth);
    if (!mouth.folded_flange) add_ring(shape, mouth, screws, work);
    hatch = find_hatch(shape, layout, screws, work);
    work.parts.push_back(plate_lid(shape, shape.outline, screws, hatch));
  } else {
    screws = add_lid_tabs(shape, layout, cell, work);
    check_tabs(shape, screws.size(), work);
    const double free_edge = longest_free_edge(shape, screws);
    if (free_edge > longest_unstiffened_mm) {
      work.notes.push_back(fmt::format("lid: its edge runs {:.0f} mm without a screw, for there is no room for a tab: stiffen it there with a strip or "
                                       "angle welded underneath, inside the gasket's line, or give flange_mm room",
                                       free_edge));
    }
    hatch = find_hatch(shape, layout, screws, work);
    work.parts.push_back(mouth.style == LidStyle::cap ? cap_lid(shape, mouth, screws, hatch) : plate_lid(shape, shape.body, screws, hatch));
    if (mouth.style == LidStyle::plate_on_tabs) {
      work.notes.push_back("lid: a plate on the walls' edges, screwed into angle tabs inside, because " + held_by_tabs(shape));
    }
  }
  add_cover();
  add_fasteners(screws.size(), shape, work);
  work.notes.push_back(
      "lid screws: heads stand about 3 mm above the lid, within the clearance kept over it; seal under the heads; rivet nuts go in "
      "after welding");
}

}  // namespace cellstow::fabrication
