#include "report/mock_up.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/box/plan_outline.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using core::Length;
using core::Point2;

Flat low_of(const std::vector<Point2>& outline) {
  Flat low{outline.front().a.mm(), outline.front().b.mm()};
  for (const Point2& p : outline) low = {std::min(low.a, p.a.mm()), std::min(low.b, p.b.mm())};
  return low;
}

PlyPiece lying(const std::string& mark, const std::string& name, const std::vector<Point2>& outline) {
  PlyPiece piece{mark, name, {}, {}, 0, 0};
  const Flat low = low_of(outline);
  for (const Point2& p : outline) {
    piece.outline.push_back({p.a.mm() - low.a, p.b.mm() - low.b});
    piece.width = std::max(piece.width, piece.outline.back().a);
    piece.height = std::max(piece.height, piece.outline.back().b);
  }
  return piece;
}

PlyPiece standing(const std::string& mark, const std::string& name, double length, double height) {
  return {mark, name, {{0, 0}, {length, 0}, {length, height}, {0, height}}, {}, length, height};
}

/// A plane of the box with axes along which a piece is drawn.
struct PieceFrame { fabrication::Space origin, along, up, out; };

double dot(const fabrication::Space& p, const fabrication::Space& q) { return p[0] * q[0] + p[1] * q[1] + p[2] * q[2]; }

std::string wall_name(const box::WallRun& run) { return "wall, " + box::to_text(run.face) + " " + std::to_string(run.number); }

bool is_body(fabrication::PartKind kind) {
  using fabrication::PartKind;
  return kind == PartKind::pan || kind == PartKind::wrap || kind == PartKind::floor || kind == PartKind::wall || kind == PartKind::end;
}

/// Round holes of the metal plates that lie in the piece's plane, give or take their thickness; one that would not be
/// wholly on the plywood is left out.
void add_holes(PlyPiece& piece, const PieceFrame& frame, const fabrication::SheetWork& work, bool lid) {
  for (const fabrication::SheetPart& part : work.parts) {
    if (lid ? part.kind != fabrication::PartKind::lid : !is_body(part.kind)) continue;
    for (const fabrication::FoldedSolid& solid : part.folded) {
      for (const fabrication::PlateSolid& plate : solid.plates) {
        if (std::abs(dot(plate.at.normal, frame.out)) < 0.9999) continue;
        for (const fabrication::FlatHole& hole : plate.holes) {
          if (hole.kind != fabrication::HoleKind::round) continue;
          fabrication::Space from = fabrication::in_space(plate.at, hole.centre);
          for (std::size_t i = 0; i < 3; ++i) from[i] -= frame.origin[i];
          const double r = hole.diameter / 2, a = dot(from, frame.along), b = dot(from, frame.up);
          const bool in_plane = std::abs(dot(from, frame.out)) < part.thickness + 0.5;
          if (in_plane && a >= r && b >= r && a <= piece.width - r && b <= piece.height - r) piece.holes.push_back({{a, b}, 2 * r, hole.what});
        }
      }
    }
  }
}

}  // namespace

std::vector<PlyPiece> ply_pieces(const plan::BoxPlan& plan, const survey::Rules& rules, double ply_mm) {
  std::vector<PlyPiece> out;
  const box::Box& box = plan.box;
  const std::vector<Point2>& mouth = box.layout.outline;
  if (mouth.empty()) return out;
  const std::vector<Point2> body = rules.flange > Length() ? box::inset(mouth, rules.flange) : mouth;
  const double foot = box.layout.z_bottom.mm(), top = box.layout.lid_top.mm(), height = top - foot - 2 * ply_mm;
  const Flat low = low_of(body), mouth_low = low_of(mouth);
  out.push_back(lying(box.mark + "-FLOOR", "floor", body));
  add_holes(out.back(), {{low.a, low.b, foot}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, plan.sheet, false);
  for (const box::WallRun& run : box::wall_runs(body, Length::from_mm(ply_mm))) {
    if (height <= 0) break;
    std::string side = box::to_text(run.face);
    std::transform(side.begin(), side.end(), side.begin(), [](char c) { return static_cast<char>(c - 'a' + 'A'); });
    out.push_back(standing(box.mark + "-WALL-" + side + "-" + std::to_string(run.number), wall_name(run), run.length.mm(), height));
    const double u = run.footprint[0].a.mm(), v = run.footprint[0].b.mm();
    const double du = run.footprint[1].a.mm() - u, dv = run.footprint[1].b.mm() - v, length = std::hypot(du, dv);
    add_holes(out.back(), {{u, v, foot + ply_mm}, {du / length, dv / length, 0}, {0, 0, 1}, {dv / length, -du / length, 0}}, plan.sheet, false);
  }
  out.push_back(lying(box.mark + "-LID", "lid", mouth));
  add_holes(out.back(), {{mouth_low.a, mouth_low.b, top}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, plan.sheet, true);
  return out;
}

Table ply_list(const survey::Job& job, const plan::Plan& plan) {
  Table out{{"box", "mark", "piece", "length mm", "width mm", "ply mm", "quantity", "shape"}, {}};
  const double ply = job.drawings.ply.mm();
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const PlyPiece& p : ply_pieces(box, job.rules, ply)) {
        out.rows.push_back({box.box.mark, p.mark, p.name, number(std::max(p.width, p.height)), number(std::min(p.width, p.height)), number(ply), "1",
                            p.outline.size() == 4 ? "rectangle" : "to the pattern"});
      }
    }
  }
  return out;
}

std::vector<DrawingSet> mock_ups(const survey::Job& job, const plan::Plan& plan) {
  std::vector<DrawingSet> out;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const PlyPiece& piece : ply_pieces(box, job.rules, job.drawings.ply.mm())) out.push_back(mock_up_sheets(job, piece));
    }
  }
  return out;
}

}  // namespace cellstow::report
