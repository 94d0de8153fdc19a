#include "post_room.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "cellstow/box/plan_outline.hpp"
#include "joins.hpp"

namespace cellstow::wiring {
namespace {

constexpr double half_lug_mm = beside_post_mm / 2;
constexpr double clear_of_posts_mm = 5;

/// Seen from the face with the posts: `out` runs away from it, `side` along it, both level.
struct Sight {
  bool out_is_v = true;
  double sign = 1, face = 0, side = 0, z = 0;

  double out_of(double u, double v) const { return sign * ((out_is_v ? v : u) - face); }
  double side_of(double u, double v) const { return (out_is_v ? u : v) - side; }
};

void offer(PostRoom& least, double mm, const std::string& towards) {
  if (mm < least.mm) least.mm = mm, least.towards = towards;
}

/// The part of a wall within half a lug of the post, as near as it comes.
void look_at_walls(const Sight& sight, const std::vector<core::Point2>& walls, PostRoom& least) {
  for (std::size_t i = 0; i < walls.size(); ++i) {
    const core::Point2 &p = walls[i], &q = walls[(i + 1) % walls.size()];
    const double a = sight.side_of(p.a.mm(), p.b.mm()), b = sight.side_of(q.a.mm(), q.b.mm());
    const double out_a = sight.out_of(p.a.mm(), p.b.mm()), out_b = sight.out_of(q.a.mm(), q.b.mm());
    const double low = std::max(std::min(a, b), -half_lug_mm), high = std::min(std::max(a, b), half_lug_mm);
    if (low > high || a == b) continue;   // beside the posts, or running away from them
    const auto out_at = [&](double side) { return out_a + (out_b - out_a) * (side - a) / (b - a); };
    const auto [nearest, farthest] = std::minmax({out_at(low), out_at(high)});
    if (farthest > 0) offer(least, std::max(0.0, nearest), "the box wall");
  }
}

void look_at(const Sight& sight, const packing::Cuboid& body, const std::string& name, PostRoom& least) {
  const double a = sight.side_of(body.low.x.mm(), body.low.y.mm()), b = sight.side_of(body.high.x.mm(), body.high.y.mm());
  if (std::max(a, b) <= -half_lug_mm || std::min(a, b) >= half_lug_mm || body.high.z.mm() <= sight.z - half_lug_mm || body.low.z.mm() >= sight.z + half_lug_mm) return;
  const double near = sight.out_of(body.low.x.mm(), body.low.y.mm()), far = sight.out_of(body.high.x.mm(), body.high.y.mm());
  if (std::max(near, far) > 0) offer(least, std::max(0.0, std::min(near, far)), name);
}

}  // namespace

double post_room_needed_mm(const survey::Cell& cell) {
  const double out_mm = (cell.terminal_top - cell.height).mm();
  return out_mm > 0 ? out_mm + clear_of_posts_mm : 0;
}

std::optional<PostRoom> room_before(const packing::BoxLayout& layout, const packing::Block& block, Facing facing, core::Length offset, const survey::Rules& rules) {
  PostRoom least{0, std::numeric_limits<double>::infinity(), ""};
  const std::vector<core::Point2> walls = layout.outline.empty() ? layout.outline : box::inset(layout.outline, rules.flange + rules.wall + rules.liner);
  for (std::size_t i = 0; i < layout.cells.size(); ++i) {
    const packing::PlacedCell& cell = layout.cells[i];
    if (cell.block != block.id) continue;
    PostRoom room{static_cast<int>(i), least.mm, ""};
    for (const Pole pole : {Pole::plus, Pole::minus}) {
      const Spot post = post_of(cell, block.runs, {facing, false}, pole, offset);
      const bool out_is_v = block.runs == packing::Run::u;
      const Sight sight{out_is_v, facing == Facing::rising ? 1.0 : -1.0, out_is_v ? post.v : post.u, out_is_v ? post.u : post.v, post.z};
      look_at_walls(sight, walls, room);
      for (const packing::Block& other : layout.blocks) {
        if (other.id != block.id) look_at(sight, other.body, fmt::format("block {}", other.id), room);
      }
      for (const packing::PlacedFitting& fitting : layout.fittings) {
        if (fitting.place != survey::FittingPlace::wall) look_at(sight, fitting.body, "the " + fitting.name, room);
      }
    }
    if (room.mm < least.mm) least = room;
  }
  if (least.towards.empty()) return std::nullopt;
  return least;
}

std::vector<std::vector<Facing>> facings_of(const survey::Cell& cell, const survey::Rules& rules, const packing::BoxLayout& layout) {
  std::vector<std::vector<Facing>> all;
  for (const packing::Block& block : layout.blocks) {
    if (block.stance == survey::Stance::upright) {
      all.push_back({Facing::up});
      continue;
    }
    std::vector<Facing> roomy;
    for (const Facing facing : {Facing::rising, Facing::falling}) {
      const std::optional<PostRoom> room = room_before(layout, block, facing, *cell.terminal_offset, rules);
      if (!room || room->mm >= post_room_needed_mm(cell)) roomy.push_back(facing);
    }
    all.push_back(roomy.empty() ? std::vector{Facing::rising, Facing::falling} : roomy);
  }
  return all;
}

}  // namespace cellstow::wiring
