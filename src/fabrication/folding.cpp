#include "folding.hpp"

#include <cmath>
#include <numbers>

namespace cellstow::fabrication {
namespace {

/// Where a face lies on the flat sheet: origin and its a axis; b is a quarter turn on.
struct OnFlat {
  FlatPoint origin, a_axis{1, 0};

  FlatPoint at(double a, double b) const {
    return {origin.a + a * a_axis.a - b * a_axis.b, origin.b + a * a_axis.b + b * a_axis.a};
  }
};

Space sum(const Space& p, double k, const Space& q) { return {p[0] + k * q[0], p[1] + k * q[1], p[2] + k * q[2]}; }
Space times(double k, const Space& p) { return {k * p[0], k * p[1], k * p[2]}; }

/// The edge a child hangs on: from p to q, d along it, out square to it.
struct Edge {
  FlatPoint p, q, d, out;
  double length = 0;
};

Edge edge_of(const Face& face, std::size_t index) {
  const PathPoint &p = face.outline[index], &q = face.outline[(index + 1) % face.outline.size()];
  Edge edge{{p.a, p.b}, {q.a, q.b}, {}, {}, std::hypot(q.a - p.a, q.b - p.b)};
  edge.d = {(q.a - p.a) / edge.length, (q.b - p.b) / edge.length};
  edge.out = {edge.d.b, -edge.d.a};
  return edge;
}

Space direction(const Placement& at, FlatPoint d) { return sum(times(d.a, at.a_axis), d.b, at.b_axis); }

class Unfolder {
 public:
  Unfolder(const BendRule& bend, SheetPart& part) : bend_(bend), part_(part) {}

  /// The face's outline on the flat, children included, from its corner `first` on once round.
  Path walk(const Face& face, const OnFlat& flat, const Placement& at, std::size_t first) {
    add_plate(face, flat, at);
    Path path;
    for (std::size_t i = 0; i < face.outline.size(); ++i) {
      const std::size_t corner = (first + i) % face.outline.size();
      const PathPoint& p = face.outline[corner];
      const FlatPoint on = flat.at(p.a, p.b);
      path.push_back({on.a, on.b, p.bulge});
      for (const Fold& fold : face.folds) {
        if (fold.edge == corner) append(path, face, fold, flat, at);
      }
    }
    return path;
  }

 private:
  void add_plate(const Face& face, const OnFlat& flat, const Placement& at) {
    part_.folded.back().plates.push_back({at, face.outline, face.holes, bend_.thickness_mm});
    for (FlatHole hole : face.holes) {
      hole.centre = flat.at(hole.centre.a, hole.centre.b);
      hole.angle_deg += std::atan2(flat.a_axis.b, flat.a_axis.a) * 180 / std::numbers::pi;
      for (PathPoint& p : hole.contour) {
        const FlatPoint on = flat.at(p.a, p.b);
        p = {on.a, on.b, p.bulge};
      }
      part_.flat.holes.push_back(std::move(hole));
    }
  }

  void append(Path& path, const Face& face, const Fold& fold, const OnFlat& flat, const Placement& at) {
    const Edge edge = edge_of(face, fold.edge);
    const double allowance = bend_.allowance_mm(fold.angle_deg);
    const auto beyond = [&](FlatPoint from, double by) { return flat.at(from.a + by * edge.out.a, from.b + by * edge.out.b); };
    const FlatPoint p = beyond(edge.p, allowance), q = beyond(edge.q, allowance);
    const OnFlat child{q, {(p.a - q.a) / edge.length, (p.b - q.b) / edge.length}};
    part_.flat.bends.push_back({beyond(edge.p, allowance / 2), beyond(edge.q, allowance / 2), fold.up, fold.angle_deg,
                                bend_.inside_radius_mm, allowance, bend_.deduction_mm(fold.angle_deg), bend_.k_factor,
                                fold.what});
    const Path outline = walk(fold.face, child, bent(edge, fold, at), 1);
    path.insert(path.end(), outline.begin(), outline.end());
  }

  /// Where the child lies in the box; adds the bend between.
  Placement bent(const Edge& edge, const Fold& fold, const Placement& at) {
    const double angle = fold.angle_deg * std::numbers::pi / 180, side = fold.up ? 1 : -1;
    // The drawn face lies at the inside radius of an upward bend and at the outside of a downward one.
    const double drawn = bend_.inside_radius_mm + (fold.up ? 0 : bend_.thickness_mm);
    const Space out = direction(at, edge.out), d = direction(at, edge.d);
    const Space radial = sum(times(-side * std::cos(angle), at.normal), std::sin(angle), out);
    const Space axis_p = in_space(at, edge.p, side * drawn), axis_q = in_space(at, edge.q, side * drawn);
    BendSolid solid;
    solid.axis_point = fold.up ? axis_q : axis_p;
    solid.along = fold.up ? times(-1, d) : d;
    solid.start = times(-side, at.normal);
    solid.length = edge.length;
    solid.angle_deg = fold.angle_deg;
    solid.inside_radius = bend_.inside_radius_mm;
    solid.thickness = bend_.thickness_mm;
    part_.folded.back().bends.push_back(solid);
    Placement child;
    child.origin = sum(axis_q, drawn, radial);
    child.a_axis = times(-1, d);
    child.b_axis = sum(times(std::cos(angle), out), side * std::sin(angle), at.normal);
    child.normal = sum(times(std::cos(angle), at.normal), -side * std::sin(angle), out);
    return child;
  }

  const BendRule& bend_;
  SheetPart& part_;
};

bool in_line(const PathPoint& p, const PathPoint& q, const PathPoint& r) {
  if (p.bulge != 0 || q.bulge != 0) return false;
  const double cross = (q.a - p.a) * (r.b - p.b) - (q.b - p.b) * (r.a - p.a);
  return std::abs(cross) < 1e-7 * (std::abs(r.a - p.a) + std::abs(r.b - p.b) + 1);
}

/// Without corners that are none.
Path tidied(const Path& path) {
  Path once;
  for (const PathPoint& p : path) {
    if (!once.empty() && std::hypot(p.a - once.back().a, p.b - once.back().b) < 1e-7) once.back() = p;
    else once.push_back(p);
  }
  if (once.size() > 1 && std::hypot(once.front().a - once.back().a, once.front().b - once.back().b) < 1e-7) once.pop_back();
  Path out;
  for (std::size_t i = 0; i < once.size(); ++i) {
    const PathPoint& before = out.empty() ? once.back() : out.back();
    if (!in_line(before, once[i], once[(i + 1) % once.size()])) out.push_back(once[i]);
  }
  return out;
}

void shift(FlatPattern& flat, double a, double b) {
  for (PathPoint& p : flat.outline) p = {p.a + a, p.b + b, p.bulge};
  for (FlatHole& hole : flat.holes) {
    hole.centre = {hole.centre.a + a, hole.centre.b + b};
    for (PathPoint& p : hole.contour) p = {p.a + a, p.b + b, p.bulge};
  }
  for (BendLine& bend : flat.bends) {
    bend.from = {bend.from.a + a, bend.from.b + b};
    bend.to = {bend.to.a + a, bend.to.b + b};
  }
}

}  // namespace

void fold_up(const Face& root, const Placement& at, const BendRule& bend, SheetPart& part) {
  part.folded.emplace_back();
  Unfolder unfolder(bend, part);
  part.flat.outline = tidied(unfolder.walk(root, {}, at, 0));
  const FlatExtent extent = extent_of(part.flat.outline);
  shift(part.flat, -extent.low.a, -extent.low.b);
}

Path rectangle(double width, double height) { return {{0, 0, 0}, {width, 0, 0}, {width, height, 0}, {0, height, 0}}; }

}  // namespace cellstow::fabrication
