#include "cellstow/fabrication/cut_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace cellstow::fabrication {
namespace {

using Corners = std::vector<FlatPoint>;

double cross(FlatPoint o, FlatPoint p, FlatPoint q) { return (p.a - o.a) * (q.b - o.b) - (p.b - o.b) * (q.a - o.a); }

double to_segment(FlatPoint p, FlatPoint q, FlatPoint r) {
  const double a = r.a - q.a, b = r.b - q.b, length2 = a * a + b * b;
  const double t = length2 == 0 ? 0 : std::clamp(((p.a - q.a) * a + (p.b - q.b) * b) / length2, 0.0, 1.0);
  return std::hypot(p.a - q.a - t * a, p.b - q.b - t * b);
}

bool cross_each_other(FlatPoint p, FlatPoint q, FlatPoint r, FlatPoint s) {
  const double a = cross(p, q, r), b = cross(p, q, s), c = cross(r, s, p), d = cross(r, s, q);
  return ((a > 0) != (b > 0)) && ((c > 0) != (d > 0)) && a != 0 && b != 0 && c != 0 && d != 0;
}

double between(FlatPoint p, FlatPoint q, FlatPoint r, FlatPoint s) {
  if (cross_each_other(p, q, r, s)) return 0;
  return std::min({to_segment(p, r, s), to_segment(q, r, s), to_segment(r, p, q), to_segment(s, p, q)});
}

bool has_empty_stretch(const Path& path) {
  for (std::size_t i = 0; i < path.size(); ++i) {
    const PathPoint& q = path[(i + 1) % path.size()];
    if (std::hypot(q.a - path[i].a, q.b - path[i].b) < 1e-4) return true;
  }
  return false;
}

/// Two stretches that are not neighbours come together.
bool meets_itself(const Corners& c) {
  const std::size_t n = c.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j + 1 == n) continue;
      if (between(c[i], c[i + 1], c[j], c[(j + 1) % n]) < 1e-4) return true;
    }
  }
  return false;
}

double gap_between(const Corners& p, const Corners& q) {
  double least = 1e9;
  for (std::size_t i = 0; i < p.size(); ++i) {
    for (std::size_t j = 0; j < q.size(); ++j) {
      least = std::min(least, between(p[i], p[(i + 1) % p.size()], q[j], q[(j + 1) % q.size()]));
    }
  }
  return least;
}

double narrowest(const FlatHole& hole) {
  if (hole.kind != HoleKind::contour) return hole.diameter;
  const FlatExtent extent = extent_of(hole.contour);
  return std::min(extent.width(), extent.height());
}

bool same(const FlatHole& p, const FlatHole& q) {
  return p.kind == q.kind && p.kind != HoleKind::contour && std::hypot(p.centre.a - q.centre.a, p.centre.b - q.centre.b) < 1e-4 &&
         std::abs(p.diameter - q.diameter) < 1e-4;
}

void look_at_holes(const SheetPart& part, const Corners& outline, std::vector<std::string>& faults) {
  constexpr double sag = 0.01;
  const double least_gap = part.thickness / 2;
  std::vector<Corners> seen;
  for (std::size_t i = 0; i < part.flat.holes.size(); ++i) {
    const FlatHole& hole = part.flat.holes[i];
    const std::string where = fmt::format("hole \"{}\" at {:.1f}, {:.1f}", hole.what, hole.centre.a, hole.centre.b);
    if (narrowest(hole) < part.thickness) faults.push_back(where + " is narrower than the sheet is thick");
    const Corners path = straightened(hole_path(hole), sag);
    if (has_empty_stretch(hole_path(hole)) || meets_itself(path)) faults.push_back(where + " has a faulty edge");
    if (!inside(path.front(), outline)) faults.push_back(where + " lies outside the part");
    else if (gap_between(path, outline) < least_gap - 2 * sag) faults.push_back(where + " is too near the part's edge");
    for (std::size_t j = 0; j < i; ++j) {
      if (same(hole, part.flat.holes[j])) faults.push_back(where + " is there twice");
      else if (gap_between(path, seen[j]) < least_gap - 2 * sag || inside(path.front(), seen[j])) {
        faults.push_back(where + " is too near \"" + part.flat.holes[j].what + "\"");
      }
    }
    seen.push_back(path);
  }
}

}  // namespace

std::vector<std::string> cut_faults(const SheetPart& part) {
  std::vector<std::string> faults;
  const Path& outline = part.flat.outline;
  if (outline.size() < 3) return {"the outline is no closed shape"};
  if (has_empty_stretch(outline)) faults.push_back("the outline has a stretch without length");
  const Corners corners = straightened(outline, 0.01);
  if (meets_itself(corners)) faults.push_back("the outline crosses or touches itself");
  if (signed_area(outline) <= 0) faults.push_back("the outline runs the wrong way round");
  look_at_holes(part, corners, faults);
  return faults;
}

}  // namespace cellstow::fabrication
