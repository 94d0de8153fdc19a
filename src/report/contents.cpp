#include "report/contents.hpp"

#include <algorithm>

namespace cellstow::report {
namespace {

using core::Length;
using packing::Cuboid;

/// From above bodies of one box are compared along the box's own sides, else as the view shows them.
bool covers(Look look, core::Heading heading, const Cuboid& near, const Cuboid& far) {
  const bool above = look == Look::from_above;
  const auto p = seen(look, above ? near : around(near, heading)), q = seen(look, above ? far : around(far, heading));
  return p[0].a < q[2].a && q[0].a < p[2].a && p[0].b < q[2].b && q[0].b < p[2].b;
}

/// Which of two bodies apart along u or v the line of sight meets first: -1 the first, 1 the second, 0 neither hides the other.
int first_met(const Cuboid& p, const Cuboid& q, core::InPlan sight) {
  const auto along = [](Length p_low, Length p_high, Length q_low, Length q_high, double way) {
    if (way == 0 || (p_high > q_low && q_high > p_low)) return 0;
    return (p_high <= q_low) == (way > 0) ? -1 : 1;
  };
  const int u = along(p.low.x, p.high.x, q.low.x, q.high.x, sight.a);
  const int v = along(p.low.y, p.high.y, q.low.y, q.high.y, sight.b);
  return u * v < 0 ? 0 : u + v;
}

/// Far to near in a box that is turned. No single corner tells which of two turned bodies is nearer, so
/// each next one is the first that stands before none of those left.
void sort_far_to_near(std::vector<Body>& bodies, core::InPlan sight) {
  for (std::size_t done = 0; done + 1 < bodies.size(); ++done) {
    const auto from = bodies.begin() + static_cast<std::ptrdiff_t>(done);
    const auto farthest = std::find_if(from, bodies.end(), [&](const Body& body) {
      return std::none_of(from, bodies.end(), [&](const Body& other) {
        return first_met(body.cuboid, other.cuboid, sight) < 0;
      });
    });
    if (farthest != bodies.end()) std::rotate(from, farthest, farthest + 1);
  }
}

/// Both end plates of a block: between the room for the strap's legs and the cells.
void add_end_plates(std::vector<Body>& out, const packing::Block& block,
                    const survey::Rules& rules) {
  if (rules.end_plate.um() == 0) return;
  const bool along_u = block.runs == packing::Run::u;
  Cuboid first = block.body, last = block.body;
  Length& first_low = along_u ? first.low.x : first.low.y;
  Length& first_high = along_u ? first.high.x : first.high.y;
  Length& last_low = along_u ? last.low.x : last.low.y;
  Length& last_high = along_u ? last.high.x : last.high.y;
  first_low = first_low + rules.strap_space;
  first_high = first_low + rules.end_plate;
  last_high = last_high - rules.strap_space;
  last_low = last_high - rules.end_plate;
  out.push_back({first, Fill::end_plate, 0, false});
  out.push_back({last, Fill::end_plate, 0, false});
}

}  // namespace

std::vector<Body> contents(const packing::BoxLayout& layout, const survey::Rules& rules,
                           Look look) {
  std::vector<Body> out;
  int number = 0;
  for (const packing::PlacedCell& cell : layout.cells) {
    out.push_back({cell.body, Fill::cell, ++number, false});
  }
  for (const packing::Block& block : layout.blocks) add_end_plates(out, block, rules);
  for (const packing::PlacedFitting& fitting : layout.fittings) {
    out.push_back({fitting.body, Fill::fitting, 0, false});
  }
  const core::Heading heading = layout.heading;
  if (heading.is_square() || look == Look::from_above) {
    std::stable_sort(out.begin(), out.end(), [look](const Body& p, const Body& q) {
      return nearness(look, p.cuboid) < nearness(look, q.cuboid);
    });
  } else {
    sort_far_to_near(out, core::to_box(heading, look == Look::from_left ? core::InPlan{0, 1} : core::InPlan{-1, 0}));
  }
  for (std::size_t i = 0; i < out.size(); ++i) {
    for (std::size_t j = i + 1; j < out.size() && !out[i].hidden; ++j) {
      out[i].hidden = covers(look, heading, out[j].cuboid, out[i].cuboid);
    }
  }
  return out;
}

}  // namespace cellstow::report
