#include "live_pair.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/wiring/creepage.hpp"
#include "joins.hpp"

namespace cellstow::wiring {
namespace {

// Widths of live metal round a post and of a vent with its free path: common practice, no source.
constexpr double half_lug_mm = beside_post_mm / 2;
constexpr double vent_mm = 20;
constexpr double neighbours_mm = 100;

bool same_plane(const WiredCell& a, const WiredCell& b) {
  return a.setting.facing == b.setting.facing && (a.setting.facing == Facing::up || a.runs == b.runs);
}

/// Distance square to the face with the posts, and along it.
struct Apart { double off = 0, along = 0; };

Apart apart(const WiredCell& a, const Spot& at, const Spot& other) {
  const double u = std::abs(at.u - other.u), v = std::abs(at.v - other.v), z = std::abs(at.z - other.z);
  if (a.setting.facing == Facing::up) return {z, std::hypot(u, v)};
  return a.runs == packing::Run::u ? Apart{v, std::hypot(u, z)} : Apart{u, std::hypot(v, z)};
}

}  // namespace

void add_passed(const std::vector<WiredCell>& box_cells, const packing::BoxLayout& layout, Connection& link, const WiredCell& from,
                const WiredCell& to) {
  const Spot &start = spot_of(from, link.from_pole), &end = spot_of(to, link.to_pole);
  const int level = level_of(from, link.from_pole);
  for (const WiredCell& cell : box_cells) {
    if (!same_plane(cell, from)) continue;
    for (const Pole pole : {Pole::plus, Pole::minus}) {
      const bool other = level_of(cell, pole) != level;
      if (other && distance_from_line(start, end, spot_of(cell, pole)) < beside_post_mm) link.passes_post.push_back(cell.number);
    }
    const Spot vent = vent_of(layout.cells[static_cast<std::size_t>(cell.cell)], cell.runs, cell.setting.facing);
    if (distance_from_line(start, end, vent) < vent_mm) link.over_vent.push_back(cell.number);
  }
}

double clear_mm(const WiredCell& a, Pole pole_a, const WiredCell& b, Pole pole_b, double out_mm) {
  const Apart between = apart(a, spot_of(a, pole_a), spot_of(b, pole_b));
  const double along = std::max(0.0, between.along - 2 * half_lug_mm);
  const double off = same_plane(a, b) ? between.off : std::max(0.0, between.off - 2 * out_mm);
  return std::hypot(along, off);
}

std::optional<LivePair> worst_pair(const std::vector<WiredCell>& cells, double cell_max_v) {
  std::optional<LivePair> worst;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    for (std::size_t j = i + 1; j < cells.size(); ++j) {
      for (const Pole a : {Pole::plus, Pole::minus}) {
        for (const Pole b : {Pole::plus, Pole::minus}) {
          const double centre = static_cast<double>(distance_um(spot_of(cells[i], a), spot_of(cells[j], b))) / 1000;
          if (centre > neighbours_mm) continue;
          const double volts = std::abs(level_of(cells[i], a) - level_of(cells[j], b)) * cell_max_v;
          if (volts <= 0 || (worst && (volts < worst->volts || (volts == worst->volts && centre >= worst->centre_mm)))) continue;
          worst = LivePair{cells[i].number, cells[j].number, a, b, volts, centre, creepage_mm(volts)};
        }
      }
    }
  }
  return worst;
}

}  // namespace cellstow::wiring
