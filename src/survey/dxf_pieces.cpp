/// The one place that knows the DXF library. It is handed nothing but groups that have been looked at: what it does not know
/// it passes over in silence, and a wrong count of corners leads it astray.

#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <sstream>

#include "dxf_drawing.hpp"

namespace cellstow::survey {
namespace {

using measuring::DrawnPiece;
using measuring::DrawnPoint;

constexpr double degree = std::numbers::pi / 180;

bool is_mirrored(const DxfEntity& entity) {
  // the own axes of an entity whose extrusion points down run the other way in x; a LINE is in the drawing's own axes
  return entity.type != "LINE" && std::any_of(entity.groups.begin(), entity.groups.end(), [](const DxfGroup& group) {
           return group.code == 230 && group.value.starts_with('-');
         });
}

class PieceReader : public DL_CreationAdapter {
 public:
  explicit PieceReader(const std::vector<const DxfEntity*>& entities) : entities_(entities) {}

  void addLine(const DL_LineData& line) override {
    next();
    add({{line.x1, line.y1}, {line.x2, line.y2}, 0, 0});
  }

  void addCircle(const DL_CircleData& circle) override {
    next();
    add_arc({circle.cx, circle.cy}, circle.radius, 0, 360);
  }

  void addArc(const DL_ArcData& arc) override {
    next();
    const double sweep = std::fmod(std::fmod(arc.angle2 - arc.angle1, 360) + 360, 360);
    add_arc({arc.cx, arc.cy}, arc.radius, arc.angle1, sweep == 0 ? 360 : sweep);
  }

  void addPolyline(const DL_PolylineData& polyline) override {
    next();
    closed_ = (polyline.flags & 1) != 0;
  }

  void addVertex(const DL_VertexData& vertex) override { corners_.push_back(vertex); }

  std::vector<DrawnPiece> finished() {
    end_polyline();
    return std::move(pieces_);
  }

 private:
  void next() {
    end_polyline();
    ++at_;
  }

  void add(DrawnPiece piece) {
    const DxfEntity& entity = *entities_[std::min(at_, entities_.size()) - 1];
    piece.line = entity.line;
    if (is_mirrored(entity)) {
      piece.from.a_mm = -piece.from.a_mm;
      piece.to.a_mm = -piece.to.a_mm;
      piece.bulge = -piece.bulge;
    }
    pieces_.push_back(piece);
  }

  /// In halves when it is more than half a turn, so that no bulge grows without end.
  void add_arc(DrawnPoint centre, double radius, double start_deg, double sweep_deg) {
    const int parts = sweep_deg > 180 ? 2 : 1;
    const auto on_arc = [&](double share) {
      const double angle = (start_deg + share * sweep_deg) * degree;
      return DrawnPoint{centre.a_mm + radius * std::cos(angle), centre.b_mm + radius * std::sin(angle)};
    };
    const bool full = sweep_deg == 360;
    for (int i = 0; i < parts; ++i)
      add({on_arc(static_cast<double>(i) / parts), on_arc(full && i == 1 ? 0 : static_cast<double>(i + 1) / parts),
           std::tan(sweep_deg / parts * degree / 4), 0});
  }

  void end_polyline() {
    for (std::size_t i = 0; i + (closed_ ? 0 : 1) < corners_.size(); ++i) {
      const DL_VertexData &from = corners_[i], &to = corners_[(i + 1) % corners_.size()];
      // a closed polyline whose last corner is its first again has no closing piece
      const bool closing = i + 1 == corners_.size();
      if (closing && from.x == to.x && from.y == to.y) continue;
      add({{from.x, from.y}, {to.x, to.y}, from.bulge, 0});
    }
    corners_.clear();
    closed_ = false;
  }

  const std::vector<const DxfEntity*>& entities_;
  std::size_t at_ = 0;
  std::vector<DrawnPiece> pieces_;
  std::vector<DL_VertexData> corners_;
  bool closed_ = false;
};

bool is_passed_on(const DxfEntity& entity, int code) {
  constexpr int places[] = {0, 10, 20, 30};
  constexpr int of_lines[] = {11, 21, 31};
  constexpr int of_rounds[] = {40, 50, 51};
  constexpr int of_polylines[] = {42, 70, 90};
  const auto in = [code](const auto& codes) { return std::find(std::begin(codes), std::end(codes), code) != std::end(codes); };
  if (in(places)) return true;
  if (entity.type == "LINE") return in(of_lines);
  return entity.type == "ARC" || entity.type == "CIRCLE" ? in(of_rounds) : in(of_polylines);
}

std::string as_text(const std::vector<const DxfEntity*>& entities) {
  std::string text = "0\nSECTION\n2\nENTITIES\n";
  for (const DxfEntity* entity : entities)
    for (const DxfGroup& group : entity->groups)
      if (is_passed_on(*entity, group.code)) text += std::to_string(group.code) + "\n" + group.value + "\n";
  return text + "0\nENDSEC\n0\nEOF\n";
}

}  // namespace

std::vector<DrawnPiece> drawn_pieces(const std::vector<const DxfEntity*>& entities) {
  std::istringstream stream(as_text(entities));
  PieceReader reader(entities);
  DL_Dxf().in(static_cast<std::istream&>(stream), &reader);
  return reader.finished();
}

}  // namespace cellstow::survey
