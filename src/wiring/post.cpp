#include "cellstow/wiring/post.hpp"

#include <cmath>

namespace cellstow::wiring {
namespace {

using packing::Cuboid;
using packing::PlacedCell;
using packing::Run;

double middle(core::Length low, core::Length high) { return static_cast<double>(low.um() + high.um()) / 2000.0; }

}  // namespace

std::int64_t distance_um(const Spot& a, const Spot& b) {
  return std::llround(std::sqrt((a.u - b.u) * (a.u - b.u) + (a.v - b.v) * (a.v - b.v) + (a.z - b.z) * (a.z - b.z)) * 1000.0);
}

Spot vent_of(const PlacedCell& cell, Run runs, Facing facing) {
  const Cuboid& body = cell.body;
  Spot at{middle(body.low.x, body.high.x), middle(body.low.y, body.high.y), middle(body.low.z, body.high.z)};
  if (facing == Facing::up) {
    at.z = body.high.z.mm();
  } else if (runs == Run::u) {
    at.v = facing == Facing::rising ? body.high.y.mm() : body.low.y.mm();
  } else {
    at.u = facing == Facing::rising ? body.high.x.mm() : body.low.x.mm();
  }
  return at;
}

Spot post_of(const PlacedCell& cell, Run runs, const Setting& setting, Pole pole, core::Length offset) {
  Spot at = vent_of(cell, runs, setting.facing);
  const bool rising = (pole == Pole::plus) != setting.turned;
  const double by = rising ? offset.mm() : -offset.mm();
  const bool along = cell.stance == survey::Stance::flat;
  if (cell.stance == survey::Stance::on_edge) {
    at.z += by;
  } else if ((runs == Run::u) == along) {
    at.u += by;
  } else {
    at.v += by;
  }
  return at;
}

}  // namespace cellstow::wiring
