#include "report/contents.hpp"

#include <algorithm>

namespace cellstow::report {
namespace {

using core::Length;
using packing::Cuboid;

bool covers(Look look, const Cuboid& near, const Cuboid& far) {
  const auto p = seen(look, near), q = seen(look, far);
  return p[0].a < q[2].a && q[0].a < p[2].a && p[0].b < q[2].b && q[0].b < p[2].b;
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
  std::stable_sort(out.begin(), out.end(), [look](const Body& p, const Body& q) {
    return nearness(look, p.cuboid) < nearness(look, q.cuboid);
  });
  for (std::size_t i = 0; i < out.size(); ++i) {
    for (std::size_t j = i + 1; j < out.size() && !out[i].hidden; ++j) {
      out[i].hidden = covers(look, out[j].cuboid, out[i].cuboid);
    }
  }
  return out;
}

std::vector<packing::Cuboid> strap_bands(const packing::Block& block,
                                         const restraint::Strap& strap) {
  std::vector<Cuboid> out;
  const bool along_u = block.runs == packing::Run::u;
  const Length low = along_u ? block.body.low.y : block.body.low.x;
  const Length high = along_u ? block.body.high.y : block.body.high.x;
  const int n = std::max(strap.quantity, 0);
  for (int i = 0; i < n; ++i) {
    // Straps side by side share the breadth evenly.
    const Length middle = Length::from_um(low.um() + (high - low).um() * (2 * i + 1) / (2 * n));
    const Length half = Length::from_um(strap.width.um() / 2);
    Cuboid band = block.body;
    (along_u ? band.low.y : band.low.x) = middle - half;
    (along_u ? band.high.y : band.high.x) = middle + half;
    out.push_back(band);
  }
  return out;
}

}  // namespace cellstow::report
