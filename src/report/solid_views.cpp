#include "report/solid_views.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cellstow::report {
namespace {

using namespace fabrication;

struct Face {
  std::vector<Space> corners;
  std::vector<std::vector<Space>> holes;
  std::vector<std::pair<Space, Space>> lines;
  Space normal{};
};

Space sum(const Space& p, const Space& d, double by) { return {p[0] + d[0] * by, p[1] + d[1] * by, p[2] + d[2] * by}; }
Space cross(const Space& p, const Space& q) { return {p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]}; }
Space turned_about(const Space& start, const Space& along, double angle) {
  const Space side = cross(along, start);
  return {std::cos(angle) * start[0] + std::sin(angle) * side[0], std::cos(angle) * start[1] + std::sin(angle) * side[1], std::cos(angle) * start[2] + std::sin(angle) * side[2]};
}
Space against(const Space& d) { return {-d[0], -d[1], -d[2]}; }

/// With a line along every edge.
Face outlined(std::vector<Space> corners, Space normal) {
  Face face{std::move(corners), {}, {}, normal};
  for (std::size_t i = 0; i < face.corners.size(); ++i) face.lines.push_back({face.corners[i], face.corners[(i + 1) % face.corners.size()]});
  return face;
}

void add_plate(std::vector<Face>& out, const PlateSolid& plate) {
  const std::vector<FlatPoint> edge = straightened(plate.outline, 0.1);
  for (const bool drawn : {true, false}) {
    const double depth = drawn ? 0 : -plate.thickness;
    std::vector<Space> corners;
    for (const FlatPoint& p : edge) corners.push_back(in_space(plate.at, p, depth));
    Face face = outlined(std::move(corners), drawn ? plate.at.normal : against(plate.at.normal));
    for (const FlatHole& hole : plate.holes) {
      std::vector<Space> rim;
      for (const FlatPoint& p : straightened(hole_path(hole), 0.1)) rim.push_back(in_space(plate.at, p, depth));
      face.holes.push_back(std::move(rim));
    }
    out.push_back(std::move(face));
  }
  for (std::size_t i = 0; i < edge.size(); ++i) {
    const FlatPoint &p = edge[i], &q = edge[(i + 1) % edge.size()];
    const double length = std::hypot(q.a - p.a, q.b - p.b);
    if (length <= 0) continue;
    const double na = (q.b - p.b) / length, nb = (p.a - q.a) / length;
    Space normal{};
    for (std::size_t k = 0; k < 3; ++k) normal[k] = na * plate.at.a_axis[k] + nb * plate.at.b_axis[k];
    out.push_back(outlined({in_space(plate.at, p), in_space(plate.at, q), in_space(plate.at, q, -plate.thickness), in_space(plate.at, p, -plate.thickness)}, normal));
  }
}

void add_bend(std::vector<Face>& out, const BendSolid& bend) {
  const double whole = bend.angle_deg * std::numbers::pi / 180;
  const int steps = std::max(1, static_cast<int>(std::ceil(bend.angle_deg / 15)));
  const double inner = bend.inside_radius, outer = bend.inside_radius + bend.thickness;
  const auto at = [&](double angle, double radius, double s) { return sum(sum(bend.axis_point, bend.along, s), turned_about(bend.start, bend.along, angle), radius); };
  for (int i = 0; i < steps; ++i) {
    const double from = whole * i / steps, to = whole * (i + 1) / steps;
    const Space out_of = turned_about(bend.start, bend.along, (from + to) / 2);
    for (const double radius : {outer, inner}) {
      Face face{{at(from, radius, 0), at(to, radius, 0), at(to, radius, bend.length), at(from, radius, bend.length)}, {}, {}, radius == outer ? out_of : against(out_of)};
      if (i == 0) face.lines.push_back({face.corners[0], face.corners[3]});
      if (i + 1 == steps) face.lines.push_back({face.corners[1], face.corners[2]});
      out.push_back(std::move(face));
    }
  }
  for (const double s : {0.0, bend.length}) {
    std::vector<Space> corners;
    for (int i = 0; i <= steps; ++i) corners.push_back(at(whole * i / steps, outer, s));
    for (int i = steps; i >= 0; --i) corners.push_back(at(whole * i / steps, inner, s));
    out.push_back(outlined(std::move(corners), s > 0 ? bend.along : against(bend.along)));
  }
}

}  // namespace

std::string to_text(Aspect aspect) {
  switch (aspect) {
    case Aspect::from_left: return "SIDE, from the left";
    case Aspect::from_above: return "PLAN, from above";
    case Aspect::from_behind: return "END, from behind";
  }
  return {};
}

ViewPoint on_view(Aspect aspect, const Space& p) {
  if (aspect == Aspect::from_left) return {p[0], p[2]};
  if (aspect == Aspect::from_above) return {p[0], p[1]};
  return {p[1], p[2]};
}

double nearness(Aspect aspect, const Space& p) {
  if (aspect == Aspect::from_left) return -p[1];
  if (aspect == Aspect::from_above) return p[2];
  return p[0];
}

SolidView::SolidView(const std::vector<const FoldedSolid*>& solids, Aspect aspect) {
  extent_ = {{1e9, 1e9}, {-1e9, -1e9}};
  const auto flat = [&](const std::vector<Space>& points) {
    std::vector<ViewPoint> out;
    for (const Space& p : points) out.push_back(on_view(aspect, p));
    return out;
  };
  for (std::size_t i = 0; i < solids.size(); ++i) {
    std::vector<Face> faces;
    if (!solids[i]) continue;
    for (const PlateSolid& plate : solids[i]->plates) add_plate(faces, plate);
    for (const BendSolid& bend : solids[i]->bends) add_bend(faces, bend);
    for (const Face& face : faces) {
      if (nearness(aspect, face.normal) < 1e-6) continue;
      Facet facet{flat(face.corners), {}, {}, 0, i};
      for (const auto& hole : face.holes) facet.holes.push_back(flat(hole));
      for (const auto& [p, q] : face.lines) facet.lines.push_back({on_view(aspect, p), on_view(aspect, q)});
      for (const Space& p : face.corners) facet.nearness += nearness(aspect, p) / static_cast<double>(face.corners.size());
      for (const ViewPoint& p : facet.corners) {
        extent_.low = {std::min(extent_.low.a, p.a), std::min(extent_.low.b, p.b)};
        extent_.high = {std::max(extent_.high.a, p.a), std::max(extent_.high.b, p.b)};
      }
      facets_.push_back(std::move(facet));
    }
  }
  std::stable_sort(facets_.begin(), facets_.end(), [](const Facet& x, const Facet& y) { return x.nearness < y.nearness; });
}

void SolidView::draw(Paper& paper, Spot origin, double scale) const {
  const auto at = [&](ViewPoint p) { return Spot{origin.x + (p.a - extent_.low.a) / scale, origin.y - (p.b - extent_.low.b) / scale}; };
  for (const Facet& facet : facets_) {
    Trace area{{}, true, 0, LineKind::full, Area::white, {}};
    for (const ViewPoint& p : facet.corners) area.points.push_back({at(p), 0});
    if (facet.lines.size() == facet.corners.size()) area.width = narrow_line;
    for (const auto& hole : facet.holes) {
      area.openings.emplace_back();
      for (const ViewPoint& p : hole) area.openings.back().push_back(at(p));
    }
    const bool ruled = area.width <= 0;
    paper.marks.emplace_back(std::move(area));
    if (!ruled) continue;
    for (const auto& [p, q] : facet.lines) add_line(paper, at(p), at(q));
  }
}

bool SolidView::covers(const Facet& facet, ViewPoint p) {
  return fabrication::inside(p, facet.corners) &&
         std::none_of(facet.holes.begin(), facet.holes.end(), [&](const auto& hole) { return fabrication::inside(p, hole); });
}

std::optional<ViewPoint> SolidView::spot(std::size_t solid) const {
  struct Sized { double short_way, long_way; ViewPoint low, high; const Facet* facet; };
  std::vector<Sized> own;
  for (const Facet& facet : facets_) {
    if (facet.solid != solid) continue;
    ViewPoint low = facet.corners.front(), high = low;
    for (const ViewPoint& p : facet.corners) {
      low = {std::min(low.a, p.a), std::min(low.b, p.b)};
      high = {std::max(high.a, p.a), std::max(high.b, p.b)};
    }
    const auto [short_way, long_way] = std::minmax({high.a - low.a, high.b - low.b});
    // Tenths of a millimetre: faces of one sheet's thickness count as alike, and the longest of them comes first.
    own.push_back({std::round(short_way * 10), long_way, low, high, &facet});
  }
  std::stable_sort(own.begin(), own.end(), [](const Sized& x, const Sized& y) { return std::pair(x.short_way, x.long_way) > std::pair(y.short_way, y.long_way); });
  // Middles first; the last ones find frames that are open in the middle.
  constexpr double shares[] = {0.5, 0.3, 0.7, 0.15, 0.85, 0.01, 0.99};
  for (const Sized& face : own) {
    for (const double share_a : shares) {
      for (const double share_b : shares) {
        const ViewPoint p{face.low.a + share_a * (face.high.a - face.low.a), face.low.b + share_b * (face.high.b - face.low.b)};
        if (covers(*face.facet, p) && seen_at(p) == solid) return p;
      }
    }
  }
  return {};
}

std::optional<std::size_t> SolidView::seen_at(ViewPoint p) const {
  for (auto facet = facets_.rbegin(); facet != facets_.rend(); ++facet) {
    if (covers(*facet, p)) return facet->solid;
  }
  return {};
}

}  // namespace cellstow::report
