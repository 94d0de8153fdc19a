#include "cellstow/wiring/box_exits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "box_order.hpp"
#include "cellstow/box/plan_outline.hpp"
#include "live_pair.hpp"

namespace cellstow::wiring {
namespace {

using packing::BoxLayout;

double half(core::Length low, core::Length high) { return static_cast<double>(low.um() + high.um()) / 2000.0; }

/// Name of a wall by the side it looks to, and of its end nearer to the gland.
void name_wall(const std::vector<core::Point2>& walls, BoxExit& exit) {
  const std::size_t n = walls.size(), i = static_cast<std::size_t>(exit.way->wall);
  const core::Point2 &a = walls[i], &b = walls[(i + 1) % n];
  const double du = (b.a - a.a).mm(), dv = (b.b - a.b).mm(), length = std::hypot(du, dv);
  const bool along_u = std::abs(du) >= std::abs(dv);  // outside on the right of the way round
  exit.wall = along_u ? (du > 0 ? "left wall" : "right wall") : (dv > 0 ? "rear wall" : "front wall");
  const bool rising = along_u ? du > 0 : dv > 0;
  const double from_low = rising ? exit.way->along_mm : length - exit.way->along_mm;
  const bool low_end = from_low <= length / 2;
  exit.along_mm = low_end ? from_low : length - from_low;
  exit.from_corner = along_u ? (low_end ? "front" : "rear") : (low_end ? "left" : "right");
}

ExitTask task_of(const survey::Rules& rules, const BoxLayout& layout, const Wiring& wiring, const WiredCell& end, const CableChoice& cable) {
  ExitTask task{&layout, box::inset(layout.outline, rules.flange), rules.wall + rules.liner, {}, {}, {}, cable.outside_mm, cable.bend_radius_mm, {}};
  for (const WiredCell& cell : wiring.cells) {
    if (cell.box != end.box || cell.setting.facing != Facing::up || cell.plus.z != end.plus.z) continue;
    if (cell.number != end.number) {
      task.posts.push_back(cell.plus);
      task.posts.push_back(cell.minus);
    }
    task.vents.push_back(vent_of(layout.cells[static_cast<std::size_t>(cell.cell)], cell.runs, Facing::up));
  }
  return task;
}

BoxExit exit_of(const survey::Rules& rules, const BoxLayout& layout, const Wiring& wiring, const WiredCell& end, Pole pole, const CableChoice& cable,
                const std::vector<TakenPlace>& taken) {
  BoxExit out;
  out.box = end.box, out.cell = end.number, out.pole = pole;
  const packing::PlacedFitting* fuse = pole == Pole::plus ? fuse_of(layout) : nullptr;
  out.by_fuse = fuse && fuse->place != survey::FittingPlace::wall;
  if (layout.outline.empty()) {
    out.why_not = "there is no box";
  } else if (end.setting.facing != Facing::up) {
    out.why_not = "the posts look sideways: run and gland are for the builder to settle, or upright cells (\"stances\")";
  } else {
    ExitTask task = task_of(rules, layout, wiring, end, cable);
    task.taken = taken;
    const Spot& other = spot_of(end, pole == Pole::plus ? Pole::minus : Pole::plus);
    task.posts.push_back(other);
    task.from = out.by_fuse ? Spot{half(fuse->body.low.x, fuse->body.high.x), half(fuse->body.low.y, fuse->body.high.y), end.plus.z} : spot_of(end, pole);
    out.way = find_exit(task);
    if (out.way) name_wall(task.walls, out);
    if (!out.way) out.why_not = fmt::format("no run with one bend of {:.0f} mm radius and {:.0f} mm straight at the lug was found: a right-angled lug, a smaller cable doubled, or more room at the ends of the blocks", cable.bend_radius_mm, lug_straight_mm);
  }
  // As low as its nut clears the cases, so that metal is left over the hole; without room for the nut, in the middle.
  const double band_mm = (layout.lid_top - rules.lid).mm() - end.plus.z;
  out.z_mm = end.plus.z + std::min(cable.gland_nut_mm, band_mm) / 2;
  return out;
}

/// Walls have gland holes only where a way out was found.
core::Check check_ways_out(const std::string& box, const BoxExit& first, const BoxExit& last) {
  std::string why = first.why_not.empty() ? last.why_not : first.why_not;
  if (why != last.why_not && !last.why_not.empty()) why += "; " + last.why_not;
  return core::check_at_least("cables with a way out of the box", box, (first.way ? 1 : 0) + (last.way ? 1 : 0), 2, "cables", "one run and one gland for each end of the string's part in the box", why);
}

}  // namespace

Exits find_exits(const survey::Cell& cell, const survey::Rules& rules, const std::vector<BoxOfCells>& boxes, const Wiring& wiring, const CableChoice& cable) {
  Exits out;
  for (const BoxWiring& box : wiring.boxes) {
    const WiredCell &first = wiring.cells[static_cast<std::size_t>(box.first_cell) - 1], &last = wiring.cells[static_cast<std::size_t>(box.last_cell) - 1];
    const BoxLayout& layout = *boxes[static_cast<std::size_t>(first.box)].layout;
    std::vector<TakenPlace> taken;
    for (const auto& [end, pole] : {std::pair{&first, Pole::minus}, std::pair{&last, Pole::plus}}) {
      out.exits.push_back(exit_of(rules, layout, wiring, *end, pole, cable, taken));
      if (const auto& way = out.exits.back().way) taken.push_back({way->wall, way->along_mm});
    }
    if (layout.outline.empty()) continue;
    out.checks.push_back(check_ways_out("box " + box.mark, out.exits[out.exits.size() - 2], out.exits.back()));
    if (first.setting.facing != Facing::up) continue;
    const double band_mm = (layout.lid_top - rules.lid).mm() - std::max(first.plus.z, last.plus.z);
    out.checks.push_back(core::check_at_least("room for the cable between cases and lid", "box " + box.mark, band_mm, cable.outside_mm, "mm",
                                              "underside of the lid less the top of the cases, against the cable's outside (common practice for its size)",
                                              "more \"headroom_mm\", or two smaller cables side by side"));
    out.checks.push_back(core::check_at_least("room for the glands' nuts between cases and lid", "box " + box.mark, band_mm, cable.gland_nut_mm, "mm",
                                              "underside of the lid less the top of the cases, against the locknut across corners (common practice for its size)",
                                              "more \"headroom_mm\", or two smaller cables side by side through smaller glands"));
  }
  if (cell.terminal_top > cell.height) out.notes.push_back("cables lie over the cases and beside the posts: over a post there is only the headroom");
  return out;
}

}  // namespace cellstow::wiring
