#include "cellstow/box/panels.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "cellstow/box/masses.hpp"
#include "cellstow/box/plan_outline.hpp"

namespace cellstow::box {
namespace {

Point2 at_mm(double a, double b) { return {Length::from_mm(a), Length::from_mm(b)}; }

Point2 low_corner(const std::vector<Point2>& outline) {
  Point2 low = outline.front();
  for (const Point2& p : outline) low = {std::min(low.a, p.a), std::min(low.b, p.b)};
  return low;
}

Panel sheet(std::string mark, std::string name, std::vector<Point2> outline, Length thickness,
            const survey::Material& material) {
  Panel panel;
  panel.mark = std::move(mark);
  panel.name = std::move(name);
  panel.mass = Kg::of(sheet_mass_kg(area_mm2(outline), thickness, material.density_kg_per_m3));
  panel.outline = std::move(outline);
  panel.thickness = thickness;
  panel.material = material.name;
  return panel;
}

Panel flat_plate(std::string mark, std::string name, const packing::BoxLayout& layout,
                 Length thickness, const survey::Material& material) {
  const Point2 datum = low_corner(layout.outline);
  std::vector<Point2> outline;
  for (const Point2& p : layout.outline) outline.push_back({p.a - datum.a, p.b - datum.b});
  return sheet(std::move(mark), std::move(name), std::move(outline), thickness, material);
}

Panel wall_plate(const WallRun& run, const std::string& mark, Length height,
                 const survey::Rules& rules) {
  std::string face = to_text(run.face);
  std::string name = fmt::format("wall, {} {}", face, run.number);
  for (char& c : face) c = static_cast<char>(c - 'a' + 'A');
  const Length zero;
  return sheet(fmt::format("{}-WALL-{}-{}", mark, face, run.number), std::move(name),
               {{zero, zero}, {run.length, zero}, {run.length, height}, {zero, height}}, rules.wall,
               rules.materials.wall);
}

double distance_to_edge_mm(Point2 p, Point2 from, Point2 to) {
  const double a = (to.a - from.a).mm(), b = (to.b - from.b).mm();
  const double pa = (p.a - from.a).mm(), pb = (p.b - from.b).mm();
  const double t = std::clamp((pa * a + pb * b) / (a * a + b * b), 0.0, 1.0);
  return std::hypot(pa - t * a, pb - t * b);
}

bool clear_of_edges(Point2 p, const std::vector<Point2>& outline, double least_mm) {
  // A micrometre of slack: the point itself lies on the grid.
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point2& to = outline[(i + 1) % outline.size()];
    if (distance_to_edge_mm(p, outline[i], to) < least_mm - 0.002) return false;
  }
  return true;
}

/// Near the outline's first corner, which is the lowest and so an outside one.
std::optional<Point2> drain_place(const std::vector<Point2>& outline, Length wall) {
  const Point2 corner = outline.front(), next = outline[1], last = outline.back();
  const double pa = (next.a - corner.a).mm(), pb = (next.b - corner.b).mm();
  const double qa = (last.a - corner.a).mm(), qb = (last.b - corner.b).mm();
  const double p = std::hypot(pa, pb), q = std::hypot(qa, qb);
  const double sine = (pa * qb - pb * qa) / (p * q);
  const double from_edges_mm = wall.mm() + (holes::clear_diameters + 0.5) * holes::drain_mm;
  const double k = from_edges_mm / sine;
  const Point2 place =
      at_mm(corner.a.mm() + k * (pa / p + qa / q), corner.b.mm() + k * (pb / p + qb / q));
  if (!clear_of_edges(place, outline, from_edges_mm)) return std::nullopt;
  return place;
}

void add_drain(Panel& floor, Length wall, std::vector<std::string>& notes) {
  const std::optional<Point2> place = drain_place(floor.outline, wall);
  if (!place) {
    notes.push_back("no drain hole drawn: the floor is too narrow at its front left corner");
    return;
  }
  floor.holes.push_back({*place, Length::from_mm(holes::drain_mm), "drain"});
  notes.push_back(
      "drain hole: cut the liner there too, and move the hole to the lowest point of the "
      "box as it sits in the parked car");
}

/// Centres of glands and breather along a wall of the given size; empty when it is too small.
std::vector<Hole> high_holes(double length_mm, double height_mm) {
  constexpr double gland_edge_mm = (holes::clear_diameters + 0.5) * holes::gland_mm;
  constexpr double breather_edge_mm = (holes::clear_diameters + 0.5) * holes::breather_mm;
  constexpr double second_mm = gland_edge_mm + (holes::clear_diameters + 1) * holes::gland_mm;
  constexpr double third_mm =
      second_mm + (holes::clear_diameters + 0.5) * holes::gland_mm + holes::breather_mm / 2;
  if (length_mm < third_mm + breather_edge_mm || height_mm < 2 * gland_edge_mm) return {};
  const Length gland = Length::from_mm(holes::gland_mm);
  const double gland_b = height_mm - gland_edge_mm;
  return {{at_mm(gland_edge_mm, gland_b), gland, "cable gland 1"},
          {at_mm(second_mm, gland_b), gland, "cable gland 2"},
          {at_mm(third_mm, height_mm - breather_edge_mm), Length::from_mm(holes::breather_mm),
           "breather"}};
}

/// A hole's band through the box, square to its wall: where a nut and cable want room.
struct Ray {
  bool along_x = false;
  bool rising = false;
  double inner_mm = 0, across_mm = 0, z_mm = 0, r_mm = 0;
};

std::optional<Ray> ray_behind(const Hole& hole, const WallRun& run, double floor_top_mm) {
  const Point2 from = run.footprint[0], to = run.footprint[1], inner = run.footprint[3];
  const bool along_x = from.a == to.a, along_y = from.b == to.b;
  if (!along_x && !along_y) return std::nullopt;
  Ray ray;
  ray.along_x = along_x;
  ray.inner_mm = along_x ? inner.a.mm() : inner.b.mm();
  ray.rising = along_x ? inner.a > from.a : inner.b > from.b;
  const double sign = (along_x ? to.b > from.b : to.a > from.a) ? 1 : -1;
  ray.across_mm = (along_x ? from.b : from.a).mm() + sign * hole.centre.a.mm();
  ray.z_mm = floor_top_mm + hole.centre.b.mm();
  ray.r_mm = hole.diameter.mm() / 2;
  return ray;
}

/// Depth from the wall's inner face to the body, or nothing when the band misses it.
std::optional<double> depth_to(const packing::Cuboid& body, const Ray& ray) {
  const double low = (ray.along_x ? body.low.y : body.low.x).mm();
  const double high = (ray.along_x ? body.high.y : body.high.x).mm();
  const bool misses = ray.across_mm + ray.r_mm <= low || ray.across_mm - ray.r_mm >= high ||
                      ray.z_mm + ray.r_mm <= body.low.z.mm() ||
                      ray.z_mm - ray.r_mm >= body.high.z.mm();
  if (misses) return std::nullopt;
  const double near_mm = ray.rising ? (ray.along_x ? body.low.x : body.low.y).mm() - ray.inner_mm
                                    : ray.inner_mm - (ray.along_x ? body.high.x : body.high.y).mm();
  if (near_mm < 0) return std::nullopt;
  return near_mm;
}

void note_room_behind(const Panel& wall, const WallRun& run, const packing::BoxLayout& layout,
                      double floor_top_mm, std::vector<std::string>& notes) {
  for (const Hole& hole : wall.holes) {
    const std::optional<Ray> ray = ray_behind(hole, run, floor_top_mm);
    if (!ray) continue;
    double room_mm = holes::room_inside_mm;
    for (const packing::Block& block : layout.blocks) {
      room_mm = std::min(room_mm, depth_to(block.body, *ray).value_or(room_mm));
    }
    for (const packing::PlacedFitting& fitting : layout.fittings) {
      room_mm = std::min(room_mm, depth_to(fitting.body, *ray).value_or(room_mm));
    }
    if (room_mm < holes::room_inside_mm) {
      notes.push_back(
          fmt::format("{}, {}: only {:.1f} mm clear behind the wall, {:.0f} mm wanted for "
                      "the nut: choose another place before cutting",
                      wall.mark, hole.what, room_mm, holes::room_inside_mm));
    }
  }
}

}  // namespace

PanelSet flat_panels(const packing::BoxLayout& layout, const survey::Rules& rules,
                     const std::string& mark) {
  PanelSet set;
  if (layout.outline.empty()) return set;
  const survey::Material& material = rules.materials.wall;
  const Length floor_top = layout.z_bottom + rules.floor;
  const Length height = layout.lid_top - rules.lid - floor_top;
  set.panels.push_back(flat_plate(mark + "-FLOOR", "floor", layout, rules.floor, material));
  add_drain(set.panels.back(), rules.wall, set.notes);

  const std::vector<WallRun> runs = wall_runs(layout.outline, rules.wall);
  for (const WallRun& run : runs) set.panels.push_back(wall_plate(run, mark, height, rules));
  const auto longest =
      std::max_element(runs.begin(), runs.end(),
                       [](const WallRun& p, const WallRun& q) { return p.length < q.length; });
  if (longest != runs.end()) {
    Panel& wall = set.panels[1 + static_cast<std::size_t>(longest - runs.begin())];
    wall.holes = high_holes(longest->length.mm(), height.mm());
    if (wall.holes.empty()) {
      set.notes.push_back(
          "no holes drawn for cable glands and breather: no wall is long and high enough");
    }
    note_room_behind(wall, *longest, layout, floor_top.mm(), set.notes);
  }
  set.panels.push_back(flat_plate(mark + "-LID", "lid", layout, rules.lid, material));
  return set;
}

}  // namespace cellstow::box
