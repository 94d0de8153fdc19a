#include "cellstow/measuring/drawn_outline.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cellstow::measuring {
namespace {

struct Arc {
  DrawnPoint centre;
  double radius_mm, start_rad, sweep_rad;
};

/// centre = middle + (1 - bulge^2) / (4 bulge) * (chord turned left by a quarter)
Arc arc_of(const DrawnPiece& piece) {
  const double da = piece.to.a_mm - piece.from.a_mm, db = piece.to.b_mm - piece.from.b_mm;
  const double factor = (1 - piece.bulge * piece.bulge) / (4 * piece.bulge);
  const DrawnPoint centre{(piece.from.a_mm + piece.to.a_mm) / 2 - factor * db,
                          (piece.from.b_mm + piece.to.b_mm) / 2 + factor * da};
  const double from_a = piece.from.a_mm - centre.a_mm, from_b = piece.from.b_mm - centre.b_mm;
  return {centre, std::hypot(from_a, from_b), std::atan2(from_b, from_a), 4 * std::atan(piece.bulge)};
}

DrawnPoint on_ray(const Arc& arc, double angle_rad, double radius_mm) {
  return {arc.centre.a_mm + radius_mm * std::cos(angle_rad), arc.centre.b_mm + radius_mm * std::sin(angle_rad)};
}

/// A quarter at most, so that tangents meet and a small circle stays a polygon round it.
int steps_within(const Arc& arc, double cosine_of_half) {
  const double largest = cosine_of_half > 0 ? 2 * std::acos(std::min(1.0, cosine_of_half)) : std::numbers::pi;
  const double step = std::clamp(largest, 1e-4, std::numbers::pi / 2);
  return std::max(1, static_cast<int>(std::ceil(std::abs(arc.sweep_rad) / step - 1e-9)));
}

/// From the start of the piece on, its end left out.
void add_chords(const DrawnPiece& piece, double within_mm, std::vector<DrawnPoint>& corners) {
  const Arc arc = arc_of(piece);
  const int steps = steps_within(arc, 1 - within_mm / arc.radius_mm);
  corners.push_back(piece.from);
  for (int i = 1; i < steps; ++i)
    corners.push_back(on_ray(arc, arc.start_rad + arc.sweep_rad * i / steps, arc.radius_mm));
}

void add_tangents(const DrawnPiece& piece, double within_mm, std::vector<DrawnPoint>& corners) {
  const Arc arc = arc_of(piece);
  const int steps = steps_within(arc, arc.radius_mm / (arc.radius_mm + within_mm));
  const double out_mm = arc.radius_mm / std::cos(arc.sweep_rad / steps / 2);
  corners.push_back(piece.from);
  for (int i = 0; i < steps; ++i)
    corners.push_back(on_ray(arc, arc.start_rad + arc.sweep_rad * (i + 0.5) / steps, out_mm));
}

void reverse_loop(DrawnLoop& loop) {
  std::reverse(loop.begin(), loop.end());
  for (DrawnPiece& piece : loop) {
    std::swap(piece.from, piece.to);
    piece.bulge = -piece.bulge;
  }
}

}  // namespace

double loop_area_mm2(const DrawnLoop& loop) {
  if (loop.empty()) return 0;
  const DrawnPoint origin = loop.front().from;  // near the loop: less is lost in the differences
  double area = 0;
  for (const DrawnPiece& piece : loop) {
    area += ((piece.from.a_mm - origin.a_mm) * (piece.to.b_mm - origin.b_mm) -
             (piece.to.a_mm - origin.a_mm) * (piece.from.b_mm - origin.b_mm)) / 2;
    if (piece.bulge == 0) continue;
    const Arc arc = arc_of(piece);
    area += arc.radius_mm * arc.radius_mm * (arc.sweep_rad - std::sin(arc.sweep_rad)) / 2;
  }
  return area;
}

std::vector<DrawnPoint> tight_corners(DrawnLoop loop, FreeSide free, double within_mm) {
  const bool counter_clockwise = loop_area_mm2(loop) > 0;
  if (counter_clockwise != (free == FreeSide::inside)) reverse_loop(loop);
  std::vector<DrawnPoint> corners;
  for (const DrawnPiece& piece : loop) {
    // free space is on the left: an arc that turns left bulges out of it
    if (piece.bulge == 0)
      corners.push_back(piece.from);
    else if (piece.bulge > 0)
      add_chords(piece, within_mm, corners);
    else
      add_tangents(piece, within_mm, corners);
  }
  return corners;
}

}  // namespace cellstow::measuring
