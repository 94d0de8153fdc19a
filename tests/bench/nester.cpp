#include "nester.hpp"

#include <chrono>

#define LIBNEST2D_GEOMETRIES_clipper
#define LIBNEST2D_OPTIMIZER_nlopt
#define LIBNEST2D_THREADING_std
#include <libnest2d/libnest2d.hpp>

namespace bench {
namespace {

using Corners = std::vector<std::pair<std::int64_t, std::int64_t>>;

/// Clockwise and closed, as the nester's geometry expects.
libnest2d::PolygonImpl polygon(const Corners& corners) {
  libnest2d::PolygonImpl shape;
  for (auto p = corners.rbegin(); p != corners.rend(); ++p) shape.Contour.emplace_back(p->first, p->second);
  shape.Contour.push_back(shape.Contour.front());
  return shape;
}

}  // namespace

NesterAnswer nest(const Corners& outline, std::int64_t a, std::int64_t b, int copies) {
  using Placer = libnest2d::_NfpPlacer<libnest2d::PolygonImpl>;
  std::vector<libnest2d::Item> items;
  for (int k = 0; k < copies; ++k) items.emplace_back(polygon({{0, 0}, {a, 0}, {a, b}, {0, b}}));
  libnest2d::NestConfig<Placer> config;
  config.placer_config.rotations = {0.0, libnest2d::Pi / 2};
  config.placer_config.starting_point = libnest2d::NestConfig<Placer>::Placement::Alignment::CENTER;
  const auto start = std::chrono::steady_clock::now();
  libnest2d::nest<Placer>(items, polygon(outline), libnest2d::Coord(0), config);
  NesterAnswer answer;
  answer.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  for (const libnest2d::Item& item : items) answer.count += item.binId() == 0;
  return answer;
}

SheetsAnswer nest_on_sheets(const std::vector<NestedPart>& parts, std::int64_t length, std::int64_t width, std::int64_t gap) {
  using Placer = libnest2d::NfpPlacer;
  using Config = libnest2d::NestConfig<Placer>;
  SheetsAnswer best;
  const auto start = std::chrono::steady_clock::now();
  for (const auto from : {Config::Placement::Alignment::CENTER, Config::Placement::Alignment::BOTTOM_LEFT}) {
    std::vector<libnest2d::Item> items;
    for (const NestedPart& part : parts)
      for (int k = 0; k < part.copies; ++k) items.emplace_back(polygon(part.outline));
    Config config;
    config.placer_config.rotations = {0.0, libnest2d::Pi / 2, libnest2d::Pi, 3 * libnest2d::Pi / 2};
    config.placer_config.starting_point = from;
    config.placer_config.alignment = Config::Placement::Alignment::DONT_ALIGN;
    const int sheets = static_cast<int>(libnest2d::nest<Placer>(items, libnest2d::Box(length, width), libnest2d::Coord(gap), config));
    int left_out = 0;
    for (const libnest2d::Item& item : items) left_out += item.binId() == libnest2d::BIN_ID_UNSET;
    if (best.sheets == 0 || std::pair(left_out, sheets) < std::pair(best.left_out, best.sheets)) best = {sheets, left_out, 0};
  }
  best.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return best;
}

}  // namespace bench
