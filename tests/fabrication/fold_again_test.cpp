/// Flat patterns cut apart at their bends and folded again, by arithmetic that shares nothing with the stage.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

#include "fabrication/boxes.hpp"

namespace {

using namespace cellstow;
using namespace cellstow::fabrication;
using namespace cellstow::fabrication::testing;

constexpr double near_mm = 0.05;
constexpr double same_mm = 1e-5;

using Corners = std::vector<FlatPoint>;

double dist(FlatPoint p, FlatPoint q) { return std::hypot(p.a - q.a, p.b - q.b); }
double dist(const Space& p, const Space& q) { return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]); }

/// One bend on the flat: its middle line and where its two edges end.
struct Hinge {
  BendLine bend;
  FlatPoint d, out;   ///< along the line; square to it
  std::array<FlatPoint, 2> near_edge, far_edge;
};

Hinge hinge_of(const BendLine& bend) {
  Hinge hinge{bend, {}, {}, {}, {}};
  const double length = dist(bend.from, bend.to), half = bend.allowance / 2;
  hinge.d = {(bend.to.a - bend.from.a) / length, (bend.to.b - bend.from.b) / length};
  hinge.out = {-hinge.d.b, hinge.d.a};
  const auto by = [&](FlatPoint p, double k) { return FlatPoint{p.a + k * hinge.out.a, p.b + k * hinge.out.b}; };
  hinge.near_edge = {by(bend.from, -half), by(bend.to, -half)};
  hinge.far_edge = {by(bend.from, half), by(bend.to, half)};
  return hinge;
}

/// Index of a corner of the polygon at p, put in where p lies on an edge.
std::optional<std::size_t> corner_at(Corners& polygon, FlatPoint p) {
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    if (dist(polygon[i], p) < same_mm) return i;
  }
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const FlatPoint q = polygon[i], r = polygon[(i + 1) % polygon.size()];
    if (dist(q, p) + dist(p, r) - dist(q, r) < same_mm) {
      polygon.insert(polygon.begin() + static_cast<std::ptrdiff_t>(i) + 1, p);
      return i + 1;
    }
  }
  return std::nullopt;
}

/// Cuts the one polygon that has both points on its edge in two. False when there is none.
bool cut(std::vector<Corners>& pieces, const std::array<FlatPoint, 2>& ends) {
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    Corners copy = pieces[k];
    if (!corner_at(copy, ends[0]) || !corner_at(copy, ends[1])) continue;
    std::size_t i = *corner_at(copy, ends[0]), j = *corner_at(copy, ends[1]);
    if (i > j) std::swap(i, j);
    Corners one(copy.begin() + static_cast<std::ptrdiff_t>(i), copy.begin() + static_cast<std::ptrdiff_t>(j) + 1);
    Corners other(copy.begin() + static_cast<std::ptrdiff_t>(j), copy.end());
    other.insert(other.end(), copy.begin(), copy.begin() + static_cast<std::ptrdiff_t>(i) + 1);
    if (one.size() < 3 || other.size() < 3) continue;
    pieces[k] = one;
    pieces.push_back(other);
    return true;
  }
  return false;
}

bool has_both(const Corners& piece, const std::array<FlatPoint, 2>& ends) {
  const auto has = [&](FlatPoint p) { return std::any_of(piece.begin(), piece.end(), [&](FlatPoint q) { return dist(p, q) < same_mm; }); };
  return has(ends[0]) && has(ends[1]);
}

/// A point of the sheet: flat place and height over the drawn face.
struct Lifted {
  FlatPoint p;
  double z = 0;
};

/// From beyond the bend to the frame of the side it hangs on. `sign` +1: it hangs on the near side.
Lifted fold_back(const Hinge& hinge, double sign, double thickness, Lifted q) {
  const double angle = hinge.bend.angle_deg * std::numbers::pi / 180, r = hinge.bend.inside_radius, half = hinge.bend.allowance / 2;
  const double da = q.p.a - hinge.bend.from.a, db = q.p.b - hinge.bend.from.b;
  const double s = da * hinge.d.a + db * hinge.d.b, y = sign * (da * hinge.out.a + db * hinge.out.b) - half;
  double across = 0, z = 0;
  if (hinge.bend.up) {
    across = (r - q.z) * std::sin(angle) + y * std::cos(angle);
    z = r - (r - q.z) * std::cos(angle) + y * std::sin(angle);
  } else {
    const double outer = r + thickness;
    across = (outer + q.z) * std::sin(angle) + y * std::cos(angle);
    z = (outer + q.z) * std::cos(angle) - outer - y * std::sin(angle);
  }
  const double t = sign * (across - half);
  return {{hinge.bend.from.a + s * hinge.d.a + t * hinge.out.a, hinge.bend.from.b + s * hinge.d.b + t * hinge.out.b}, z};
}

struct Hung {
  std::size_t piece = 0, on = 0;
  std::optional<std::size_t> hinge;
  double sign = 1;
};

class FoldedAgain {
 public:
  explicit FoldedAgain(const SheetPart& part) : part_(part) {
    for (const BendLine& bend : part.flat.bends) hinges_.push_back(hinge_of(bend));
    pieces_ = {straightened(part.flat.outline)};
    for (const Hinge& hinge : hinges_) {
      REQUIRE(cut(pieces_, hinge.near_edge));
      REQUIRE(cut(pieces_, hinge.far_edge));
    }
    hang(root());
  }

  /// Corners of every flat piece where they come to lie in the box.
  std::vector<std::vector<Space>> in_box() const {
    std::vector<std::vector<Space>> all;
    for (const Hung& hung : hung_) {
      std::vector<Space> corners;
      for (const FlatPoint& p : pieces_[hung.piece]) corners.push_back(lift(hung, {p, 0}));
      all.push_back(corners);
    }
    return all;
  }

 private:
  /// The piece that looks like the solid's first plate, and the shift from one to the other.
  std::size_t root() {
    const Corners plate = straightened(part_.folded[0].plates[0].outline);
    for (std::size_t k = 0; k < pieces_.size(); ++k) {
      for (const FlatPoint& start : pieces_[k]) {
        shift_ = {start.a - plate[0].a, start.b - plate[0].b};
        const bool all = std::all_of(plate.begin(), plate.end(), [&](FlatPoint q) {
          return std::any_of(pieces_[k].begin(), pieces_[k].end(), [&](FlatPoint p) {
            return std::hypot(p.a - shift_.a - q.a, p.b - shift_.b - q.b) < same_mm;
          });
        });
        if (all) return k;
      }
    }
    FAIL("no piece of the flat looks like the first plate");
    return 0;
  }

  void hang(std::size_t root) {
    hung_.push_back({root, 0, std::nullopt, 1});
    std::vector<bool> done(hinges_.size(), false);
    for (std::size_t i = 0; i < hung_.size(); ++i) {
      for (std::size_t h = 0; h < hinges_.size(); ++h) {
        if (done[h]) continue;
        const bool near = has_both(pieces_[hung_[i].piece], hinges_[h].near_edge), far = has_both(pieces_[hung_[i].piece], hinges_[h].far_edge);
        if (near == far) continue;
        done[h] = true;
        const auto& other = near ? hinges_[h].far_edge : hinges_[h].near_edge;
        for (std::size_t k = 0; k < pieces_.size(); ++k) {
          const bool strip = has_both(pieces_[k], hinges_[h].near_edge) && has_both(pieces_[k], hinges_[h].far_edge);
          if (!strip && has_both(pieces_[k], other)) hung_.push_back({k, i, h, near ? 1.0 : -1.0});
        }
      }
    }
    for (std::size_t h = 0; h < hinges_.size(); ++h) CHECK(done[h]);
  }

  Space lift(const Hung& hung, Lifted q) const {
    if (!hung.hinge) {
      const Placement& at = part_.folded[0].plates[0].at;
      return in_space(at, {q.p.a - shift_.a, q.p.b - shift_.b}, q.z);
    }
    return lift(hung_[hung.on], fold_back(hinges_[*hung.hinge], hung.sign, part_.thickness, q));
  }

  const SheetPart& part_;
  std::vector<Hinge> hinges_;
  std::vector<Corners> pieces_;
  std::vector<Hung> hung_;
  FlatPoint shift_;
};

std::vector<Space> corners_of(const PlateSolid& plate) {
  std::vector<Space> corners;
  for (const FlatPoint& p : straightened(plate.outline)) corners.push_back(in_space(plate.at, p));
  return corners;
}

/// Farthest corner of the plate from any corner of the piece.
double apart(const std::vector<Space>& plate, const std::vector<Space>& piece) {
  double worst = 0;
  for (const Space& p : plate) {
    double least = 1e9;
    for (const Space& q : piece) least = std::min(least, dist(p, q));
    worst = std::max(worst, least);
  }
  return worst;
}

int compare(const SheetPart& part) {
  const auto pieces = FoldedAgain(part).in_box();
  const auto& plates = part.folded[0].plates;
  CHECK(pieces.size() == plates.size());
  for (const PlateSolid& plate : plates) {
    double best = 1e9;
    for (const auto& piece : pieces) best = std::min(best, apart(corners_of(plate), piece));
    CHECK(best < near_mm);
  }
  return static_cast<int>(plates.size());
}

/// Metal neither made nor lost: flat area, less the bends' flat, plus what the bends hold.
void compare_metal(const SheetPart& part) {
  double expected = sheet_area(part.flat) * part.thickness;
  for (const BendLine& bend : part.flat.bends) {
    const double length = dist(bend.from, bend.to), angle = bend.angle_deg * std::numbers::pi / 180;
    expected += length * (angle * (bend.inside_radius + part.thickness / 2) * part.thickness - bend.allowance * part.thickness);
  }
  CHECK(volume_mm3(part.folded[0]) == doctest::Approx(expected).epsilon(1e-6));
}

}  // namespace

TEST_CASE("flat patterns fold again into the solids they come from, random boxes") {
  int plates = 0, pans = 0, wraps = 0, caps = 0, flanges = 0, tabs = 0;
  for (std::uint32_t seed = 1; seed <= 80; ++seed) {
    CAPTURE(seed);
    const Made made = random_made(seed);
    for (const SheetPart& part : made.work.parts) {
      CAPTURE(part.mark);
      if (part.flat.bends.empty()) continue;
      plates += compare(part);
      compare_metal(part);
      pans += part.kind == PartKind::pan;
      wraps += part.kind == PartKind::wrap;
      caps += part.kind == PartKind::lid;
      tabs += part.kind == PartKind::lid_tab;
      flanges += part.kind == PartKind::end;
    }
  }
  MESSAGE("pans " << pans << ", wraps " << wraps << ", caps " << caps << ", tabs " << tabs << ", ends with flange " << flanges);
  CHECK(pans > 3);
  CHECK(wraps > 3);
  CHECK(caps > 2);
  CHECK(tabs > 2);
  CHECK(flanges > 1);
}

TEST_CASE("a wrong allowance does not fold again") {
  survey::Rules rules = plain_rules();
  rules.pan_depth_max = mm(400);
  SheetPart part = make_sheet_work(rectangle_box(400, 300, 200, rules), rules, "A").parts.at(0);
  REQUIRE(part.kind == PartKind::pan);
  const PlateSolid moved = part.folded[0].plates[1];
  part.folded[0].plates[1].at.origin[2] += 0.1;
  double best = 1e9;
  for (const auto& piece : FoldedAgain(part).in_box()) best = std::min(best, apart(corners_of(part.folded[0].plates[1]), piece));
  CHECK(best > near_mm);
}
