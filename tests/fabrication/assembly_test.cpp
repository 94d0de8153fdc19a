/// Parts as they stand in the box: nothing in anything else, all of it inside the outline, cut lines a shop would take.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cellstow/fabrication/cut_check.hpp"
#include "fabrication/boxes.hpp"

namespace {

using namespace cellstow;
using namespace cellstow::fabrication;
using namespace cellstow::fabrication::testing;

/// Nearer than this to a surface counts as touching. Plates that butt do touch; coordinates are rounded to 0.001.
constexpr double skin_mm = 0.02;

double dot(const Space& p, const Space& q) { return p[0] * q[0] + p[1] * q[1] + p[2] * q[2]; }
Space minus(const Space& p, const Space& q) { return {p[0] - q[0], p[1] - q[1], p[2] - q[2]}; }
Space cross(const Space& p, const Space& q) {
  return {p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]};
}

double to_segment(double a, double b, FlatPoint q, FlatPoint r) {
  const double da = r.a - q.a, db = r.b - q.b;
  const double t = std::clamp(((a - q.a) * da + (b - q.b) * db) / (da * da + db * db), 0.0, 1.0);
  return std::hypot(a - q.a - t * da, b - q.b - t * db);
}

/// Winding number of the polygon round the point.
bool encloses(const std::vector<FlatPoint>& polygon, double a, double b) {
  double turn = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const FlatPoint &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
    turn += std::atan2((p.a - a) * (q.b - b) - (p.b - b) * (q.a - a), (p.a - a) * (q.a - a) + (p.b - b) * (q.b - b));
  }
  return std::abs(turn) > std::numbers::pi;
}

double to_edge(const std::vector<FlatPoint>& polygon, double a, double b) {
  double least = 1e9;
  for (std::size_t i = 0; i < polygon.size(); ++i) least = std::min(least, to_segment(a, b, polygon[i], polygon[(i + 1) % polygon.size()]));
  return least;
}

struct Plate {
  Placement at;
  double thickness = 0;
  std::vector<FlatPoint> outline;
  std::vector<std::vector<FlatPoint>> holes;
  FlatExtent extent;

  /// Deeper inside the metal than the skin.
  bool holds(const Space& p) const {
    const Space q = minus(p, at.origin);
    const double c = dot(q, at.normal);
    if (c > -skin_mm || c < -thickness + skin_mm) return false;
    const double a = dot(q, at.a_axis), b = dot(q, at.b_axis);
    if (a < extent.low.a || a > extent.high.a || b < extent.low.b || b > extent.high.b) return false;
    if (!encloses(outline, a, b) || to_edge(outline, a, b) < skin_mm) return false;
    return std::none_of(holes.begin(), holes.end(), [&](const auto& hole) { return encloses(hole, a, b); });
  }
};

bool holds(const BendSolid& bend, const Space& p) {
  const Space q = minus(p, bend.axis_point);
  const double s = dot(q, bend.along);
  if (s < skin_mm || s > bend.length - skin_mm) return false;
  const double x = dot(q, bend.start), y = dot(q, cross(bend.along, bend.start));
  const double r = std::hypot(x, y), angle = std::atan2(y, x);
  if (r < bend.inside_radius + skin_mm || r > bend.inside_radius + bend.thickness - skin_mm) return false;
  const double slack = skin_mm / r;
  return angle > slack && angle < bend.angle_deg * std::numbers::pi / 180 - slack;
}

struct Body {
  std::string mark;
  std::vector<Plate> plates;
  std::vector<BendSolid> bends;
  std::vector<Space> points;   ///< in and on the metal
};

void add_points(const Plate& plate, std::vector<Space>& points) {
  const auto add = [&](double a, double b) {
    if (!encloses(plate.outline, a, b)) return;
    for (const auto& hole : plate.holes) {
      if (encloses(hole, a, b)) return;
    }
    for (const double share : {0.03, 0.5, 0.97}) points.push_back(in_space(plate.at, {a, b}, -share * plate.thickness));
  };
  const double step = std::max({9.0, plate.extent.width() / 25, plate.extent.height() / 25});
  for (double a = plate.extent.low.a + 0.3; a < plate.extent.high.a; a += step) {
    for (double b = plate.extent.low.b + 0.3; b < plate.extent.high.b; b += step) add(a, b);
  }
  // Just inside the edge, where plates meet.
  for (std::size_t i = 0; i < plate.outline.size(); ++i) {
    const FlatPoint &p = plate.outline[i], &q = plate.outline[(i + 1) % plate.outline.size()];
    const double length = std::hypot(q.a - p.a, q.b - p.b);
    if (length < 0.5) continue;
    const FlatPoint in{-(q.b - p.b) / length * 0.1, (q.a - p.a) / length * 0.1};
    for (double s = 0.12; s < length; s += std::max(1.5, length / 60)) {
      add(p.a + (q.a - p.a) * s / length + in.a, p.b + (q.b - p.b) * s / length + in.b);
    }
  }
}

void add_points(const BendSolid& bend, std::vector<Space>& points) {
  const Space side = cross(bend.along, bend.start);
  for (const double share : {0.05, 0.5, 0.95}) {
    const double angle = share * bend.angle_deg * std::numbers::pi / 180;
    for (const double depth : {0.03, 0.5, 0.97}) {
      const double r = bend.inside_radius + depth * bend.thickness;
      for (int k = 0; k <= 40; ++k) {
        const double s = std::clamp(bend.length * k / 40, 0.1, bend.length - 0.1);
        Space p{};
        for (std::size_t i = 0; i < 3; ++i) {
          p[i] = bend.axis_point[i] + s * bend.along[i] + r * (std::cos(angle) * bend.start[i] + std::sin(angle) * side[i]);
        }
        points.push_back(p);
      }
    }
  }
}

std::vector<Body> bodies_of(const SheetWork& work) {
  std::vector<Body> bodies;
  for (const SheetPart& part : work.parts) {
    for (const FoldedSolid& piece : part.folded) {
      Body body{part.mark, {}, piece.bends, {}};
      for (const PlateSolid& plate : piece.plates) {
        Plate p{plate.at, plate.thickness, straightened(plate.outline), {}, extent_of(plate.outline)};
        for (const FlatHole& hole : plate.holes) p.holes.push_back(straightened(hole_path(hole)));
        add_points(p, body.points);
        body.plates.push_back(std::move(p));
      }
      for (const BendSolid& bend : piece.bends) add_points(bend, body.points);
      bodies.push_back(std::move(body));
    }
  }
  return bodies;
}

bool in_metal(const Body& body, const Space& p) {
  return std::any_of(body.plates.begin(), body.plates.end(), [&](const Plate& plate) { return plate.holds(p); }) ||
         std::any_of(body.bends.begin(), body.bends.end(), [&](const BendSolid& bend) { return holds(bend, p); });
}

std::string places(const Space& p) { return std::to_string(p[0]) + ", " + std::to_string(p[1]) + ", " + std::to_string(p[2]); }

/// First point of one body found inside another, told; empty when there is none.
std::string clash(const std::vector<Body>& bodies) {
  for (const Body& one : bodies) {
    for (const Space& p : one.points) {
      for (const Body& other : bodies) {
        if (&one != &other && in_metal(other, p)) return one.mark + " in " + other.mark + " at " + places(p);
      }
    }
  }
  return {};
}

/// Plates and bends of one piece share no room either.
std::string clash_with_itself(const std::vector<Body>& bodies) {
  for (const Body& body : bodies) {
    for (const Space& p : body.points) {
      const auto count = std::count_if(body.plates.begin(), body.plates.end(), [&](const Plate& plate) { return plate.holds(p); }) +
                         std::count_if(body.bends.begin(), body.bends.end(), [&](const BendSolid& bend) { return holds(bend, p); });
      if (count > 1) return body.mark + " at " + places(p);
    }
  }
  return {};
}

std::string clash_with_contents(const std::vector<Body>& bodies, const box::Box& box) {
  const auto in = [](const packing::Cuboid& c, const Space& p) {
    return p[0] > c.low.x.mm() + skin_mm && p[0] < c.high.x.mm() - skin_mm && p[1] > c.low.y.mm() + skin_mm && p[1] < c.high.y.mm() - skin_mm &&
           p[2] > c.low.z.mm() + skin_mm && p[2] < c.high.z.mm() - skin_mm;
  };
  for (const Body& body : bodies) {
    for (const Space& p : body.points) {
      for (const packing::Block& block : box.layout.blocks) {
        if (in(block.body, p)) return body.mark + " in the cells at " + places(p);
      }
    }
  }
  return {};
}

/// No metal beyond the outline that was proved to fit, below the floor or above the lid.
std::string beyond_outline(const std::vector<Body>& bodies, const box::Box& box) {
  std::vector<FlatPoint> outline;
  for (const Point2& p : box.layout.outline) outline.push_back({p.a.mm(), p.b.mm()});
  for (const Body& body : bodies) {
    for (const Space& p : body.points) {
      const bool high = p[2] > box.layout.lid_top.mm() + skin_mm || p[2] < box.layout.z_bottom.mm() - skin_mm;
      if (high || (!encloses(outline, p[0], p[1]) && to_edge(outline, p[0], p[1]) > skin_mm)) return body.mark + " at " + places(p);
    }
  }
  return {};
}

}  // namespace

TEST_CASE("no part stands in another, in the cells, or beyond the outline; random boxes") {
  int checked = 0;
  for (std::uint32_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    const Made made = random_made(seed);
    CAPTURE(to_text(made.work.construction));
    CAPTURE(to_text(made.work.lid));
    CAPTURE(made.rules.flange.mm());
    const std::vector<Body> bodies = bodies_of(made.work);
    CHECK(clash(bodies) == "");
    CHECK(clash_with_itself(bodies) == "");
    CHECK(clash_with_contents(bodies, made.box) == "");
    CHECK(beyond_outline(bodies, made.box) == "");
    ++checked;
  }
  CHECK(checked == 40);
}

TEST_CASE("the check for clashes sees one") {
  survey::Rules rules = plain_rules();
  SheetWork work = make_sheet_work(rectangle_box(400, 300, 200, rules), rules, "A");
  work.parts.back().folded[0].plates[0].at.origin[2] -= 10;
  CHECK(clash(bodies_of(work)) != "");
}

TEST_CASE("cut lines of random boxes are such as a shop takes") {
  for (std::uint32_t seed = 1; seed <= 120; ++seed) {
    const Made made = random_made(seed);
    for (const SheetPart& part : made.work.parts) {
      CAPTURE(seed);
      CAPTURE(part.mark);
      const auto faults = cut_faults(part);
      CHECK_MESSAGE(faults.empty(), (faults.empty() ? "" : faults.front()));
      const FlatExtent extent = extent_of(part.flat.outline);
      CHECK(std::abs(extent.low.a) < 1e-9);
      CHECK(std::abs(extent.low.b) < 1e-9);
      CHECK(part.folded.size() == static_cast<std::size_t>(part.quantity));
      CHECK(part.mass.value() > 0);
      for (const core::Check& check : made.work.checks) {
        if (check.name == "hole beside a bend") CHECK_MESSAGE(check.ok, check.where);
      }
    }
  }
}

TEST_CASE("cut lines: each fault is told") {
  SheetPart part;
  part.thickness = 3;
  const Path square{{0, 0, 0}, {100, 0, 0}, {100, 80, 0}, {0, 80, 0}};
  const auto first = [&] {
    const auto faults = cut_faults(part);
    return faults.empty() ? std::string() : faults.front();
  };
  CHECK(first().find("no closed shape") != std::string::npos);
  part.flat.outline = square;
  CHECK(first() == "");
  part.flat.outline = {{0, 0, 0}, {100, 80, 0}, {100, 0, 0}, {0, 80, 0}};
  CHECK(first().find("crosses") != std::string::npos);
  part.flat.outline = {{0, 80, 0}, {100, 80, 0}, {100, 0, 0}, {0, 0, 0}};
  CHECK(first().find("wrong way") != std::string::npos);
  part.flat.outline = {{0, 0, 0}, {100, 0, 0}, {100, 0, 0}, {100, 80, 0}, {0, 80, 0}};
  CHECK(first().find("without length") != std::string::npos);
  part.flat.outline = square;
  part.flat.holes = {round_hole({50, 40}, 2.9, "small")};
  CHECK(first().find("narrower") != std::string::npos);
  part.flat.holes = {round_hole({50, 40}, 3, "as thick as the sheet")};
  CHECK(first() == "");
  part.flat.holes = {round_hole({150, 40}, 5, "far")};
  CHECK(first().find("outside") != std::string::npos);
  part.flat.holes = {round_hole({5.9, 40}, 10, "at the edge")};
  CHECK(first().find("too near the part's edge") != std::string::npos);
  part.flat.holes = {round_hole({50, 40}, 10, "one"), round_hole({50, 40}, 10, "two")};
  CHECK(first().find("twice") != std::string::npos);
  part.flat.holes = {round_hole({50, 40}, 10, "one"), round_hole({61, 40}, 10, "two")};
  CHECK(first().find("too near \"one\"") != std::string::npos);
}
