#include "cellstow/box/plan_outline.hpp"

#include <cmath>
#include <map>

namespace cellstow::box {
namespace {

using core::Um;

struct Vector {
  double a = 0, b = 0;
};

Vector operator+(Vector p, Vector q) { return {p.a + q.a, p.b + q.b}; }
Vector operator*(Vector p, double k) { return {p.a * k, p.b * k}; }

/// Direction of an edge, kept whole so that "square corner" is decided exactly.
struct Edge {
  Um a_um = 0, b_um = 0;
  double length_um() const {
    return std::hypot(static_cast<double>(a_um), static_cast<double>(b_um));
  }
  Vector unit() const {
    return Vector{static_cast<double>(a_um), static_cast<double>(b_um)} * (1.0 / length_um());
  }
};

Edge edge_at(const std::vector<Point2>& outline, std::size_t index) {
  const Point2& from = outline[index % outline.size()];
  const Point2& to = outline[(index + 1) % outline.size()];
  return {(to.a - from.a).um(), (to.b - from.b).um()};
}

Vector left_of(Vector unit) { return {-unit.b, unit.a}; }

Point2 shifted(const Point2& point, Vector by_um) {
  return {point.a + Length::from_um(std::llround(by_um.a)),
          point.b + Length::from_um(std::llround(by_um.b))};
}

Face face_of(const Edge& edge) {
  // Outward is to the right of a counter-clockwise edge: (b, -a).
  const Um out_x = edge.b_um, out_y = -edge.a_um;
  if (std::abs(out_x) >= std::abs(out_y)) return out_x < 0 ? Face::front : Face::rear;
  return out_y < 0 ? Face::left : Face::right;
}

struct Trim {
  double end_of_arriving_um = 0, start_of_leaving_um = 0;
};

/// How much each wall is cut back at the corner between two edges; negative runs past it.
Trim trim_at(const Edge& arriving, const Edge& leaving, double wall_um) {
  const Um cross = arriving.a_um * leaving.b_um - arriving.b_um * leaving.a_um;
  const Um dot = arriving.a_um * leaving.a_um + arriving.b_um * leaving.b_um;
  const bool outside_corner = cross > 0;
  if (dot == 0) return outside_corner ? Trim{0, wall_um} : Trim{-wall_um, 0};
  if (!outside_corner) return {};
  // The inner faces meet at wall * tan(turn / 2) from the corner, tan(t/2) = sin t / (1 + cos t).
  const double scale = arriving.length_um() * leaving.length_um();
  const double cut_um = wall_um * static_cast<double>(cross) / (scale + static_cast<double>(dot));
  return {cut_um, cut_um};
}

WallRun run_along(const std::vector<Point2>& outline, std::size_t index, Length wall) {
  const std::size_t n = outline.size();
  const double wall_um = static_cast<double>(wall.um());
  const Edge edge = edge_at(outline, index);
  const double start_um =
      trim_at(edge_at(outline, index + n - 1), edge, wall_um).start_of_leaving_um;
  const double end_um =
      edge.length_um() - trim_at(edge, edge_at(outline, index + 1), wall_um).end_of_arriving_um;
  const Vector along = edge.unit(), inward = left_of(along) * wall_um;
  const Point2 corner = outline[index];
  // 1e-4 um forgives binary noise, as everywhere on the grid.
  const double length_um = std::floor(end_um - start_um + 1e-4);
  WallRun run;
  run.edge = index;
  run.face = face_of(edge);
  run.length = Length::from_um(static_cast<Um>(length_um));
  const Vector from = along * start_um, to = along * (start_um + length_um);
  run.footprint = {shifted(corner, from), shifted(corner, to), shifted(corner, to + inward),
                   shifted(corner, from + inward)};
  return run;
}

}  // namespace

std::string to_text(Face face) {
  switch (face) {
    case Face::front:
      return "front";
    case Face::rear:
      return "rear";
    case Face::left:
      return "left";
    case Face::right:
      return "right";
  }
  return {};
}

std::int64_t twice_area_um2(const std::vector<Point2>& outline) {
  std::int64_t sum = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point2& p = outline[i];
    const Point2& q = outline[(i + 1) % outline.size()];
    sum += p.a.um() * q.b.um() - q.a.um() * p.b.um();
  }
  return sum;
}

double area_mm2(const std::vector<Point2>& outline) {
  return static_cast<double>(twice_area_um2(outline)) / 2e6;
}

std::array<double, 2> centroid_mm(const std::vector<Point2>& outline) {
  // From the first corner, so that a box far from the axle loses no digits.
  const Point2 origin = outline.front();
  double sum_a = 0, sum_b = 0, twice_area = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point2& p = outline[i];
    const Point2& q = outline[(i + 1) % outline.size()];
    const double pa = (p.a - origin.a).mm(), pb = (p.b - origin.b).mm();
    const double qa = (q.a - origin.a).mm(), qb = (q.b - origin.b).mm();
    const double cross = pa * qb - qa * pb;
    sum_a += (pa + qa) * cross;
    sum_b += (pb + qb) * cross;
    twice_area += cross;
  }
  return {origin.a.mm() + sum_a / (3 * twice_area), origin.b.mm() + sum_b / (3 * twice_area)};
}

std::vector<Point2> inset(const std::vector<Point2>& outline, Length depth) {
  const std::size_t n = outline.size();
  const double depth_um = static_cast<double>(depth.um());
  std::vector<Point2> result;
  for (std::size_t i = 0; i < n; ++i) {
    const Vector before = edge_at(outline, i + n - 1).unit(), after = edge_at(outline, i).unit();
    const double cosine = before.a * after.a + before.b * after.b;
    const Vector bisector = left_of(before) + left_of(after);
    result.push_back(shifted(outline[i], bisector * (depth_um / (1 + cosine))));
  }
  return result;
}

std::vector<WallRun> wall_runs(const std::vector<Point2>& outline, Length wall) {
  std::vector<WallRun> runs;
  std::map<Face, int> count;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    WallRun run = run_along(outline, i, wall);
    run.number = ++count[run.face];
    if (run.length > Length()) runs.push_back(run);
  }
  return runs;
}

}  // namespace cellstow::box
