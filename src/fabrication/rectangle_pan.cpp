#include "rectangle_pan.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "shape.hpp"

namespace cellstow::fabrication {
namespace {

/// Radius of the round cut at each corner of the middle face: metal beside a bend's end must be free to move.
double relief_mm(const BendRule& bend) { return std::max(1.0, bend.thickness_mm / 2); }

/// A rectangle whose corners are cut round, towards the inside, about themselves.
Path notched_rectangle(double width, double depth, double e) {
  const double quarter = -std::tan(std::numbers::pi / 8);
  return {{e, 0, 0},     {width - e, 0, quarter},         {width, e, 0}, {width, depth - e, quarter},
          {width - e, depth, 0}, {e, depth, quarter}, {0, depth - e, 0}, {0, e, quarter}};
}

Fold edge_fold(const RectanglePan& pan, const BendRule& bend, std::size_t side) {
  const double outside = side % 2 == 0 ? pan.width : pan.depth, set_in = bend.inside_radius_mm + bend.thickness_mm;
  const double e = relief_mm(bend), step = bend.thickness_mm / 2, high = pan.leg - set_in;
  const bool through = (side % 2 == 0) == (pan.width >= pan.depth);
  const double length = outside - 2 * set_in - 2 * e;
  const double set_back = through ? 0 : bend.thickness_mm + shop::weld_gap_mm;
  const double over = set_in + e - set_back;
  Fold fold;
  fold.edge = 2 * side;
  fold.up = pan.up;
  if (side < pan.names.size()) fold.what = pan.names[side];
  fold.face.outline = {{0, 0, 0},          {length, 0, 0},   {length, step, 0}, {length + over, step, 0}, {length + over, high, 0},
                       {-over, high, 0},   {-over, step, 0}, {0, step, 0}};
  const auto at = [=](double along, double above) { return FlatPoint{outside - set_in - e - along, above}; };
  if (pan.edge_holes) fold.face.holes = pan.edge_holes(side, at);
  if (pan.crown) {
    if (auto crown = pan.crown(side, length + 2 * over, set_back)) {
      fold.face.folds.push_back({4, 90, !pan.up, "mouth flange", std::move(*crown)});
    }
  }
  return fold;
}

}  // namespace

Face pan_face(const RectanglePan& pan, const BendRule& bend) {
  const double set_in = 2 * (bend.inside_radius_mm + bend.thickness_mm);
  Face face;
  face.outline = notched_rectangle(pan.width - set_in, pan.depth - set_in, relief_mm(bend));
  face.holes = pan.holes;
  for (std::size_t side = 0; side < 4; ++side) face.folds.push_back(edge_fold(pan, bend, side));
  return face;
}

}  // namespace cellstow::fabrication
