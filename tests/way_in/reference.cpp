#include "reference.hpp"

#define BOOST_GEOMETRY_NO_ROBUSTNESS
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>
#include <numbers>

namespace reference {
namespace {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Polygon = bg::model::polygon<Point>;
using MultiPolygon = bg::model::multi_polygon<Polygon>;

}  // namespace

using namespace cellstow;

double uniform(std::mt19937_64& random, double low, double high) {
  return low + (high - low) * static_cast<double>(random() >> 11) * 0x1p-53;
}

double area_outside_um2(const way_in::Shadow& shadow, way_in::Spot shift,
                        const std::vector<core::Point2>& outline) {
  Polygon opening;
  for (const core::Point2& p : outline) {
    bg::append(opening, Point(static_cast<double>(p.a.um()), static_cast<double>(p.b.um())));
  }
  bg::correct(opening);
  double outside = 0;
  for (const way_in::Figure& part : shadow.parts) {
    Polygon figure;
    for (const way_in::Spot& p : part) bg::append(figure, Point(p.a + shift.a, p.b + shift.b));
    bg::correct(figure);
    MultiPolygon rest;
    bg::difference(figure, opening, rest);
    outside += bg::area(rest);
  }
  return outside;
}

core::Point2 p2(double a_mm, double b_mm) {
  return {core::Length::from_mm(a_mm), core::Length::from_mm(b_mm)};
}

std::vector<core::Point2> rectangle(double a0, double b0, double a1, double b1) {
  return {p2(a0, b0), p2(a1, b0), p2(a1, b1), p2(a0, b1)};
}

std::vector<core::Point2> star(std::mt19937_64& random, int corners, double low_mm, double high_mm) {
  std::vector<core::Point2> out;
  for (int k = 0; k < corners; ++k) {
    const double angle = 2 * std::numbers::pi * (k + uniform(random, 0, 0.8)) / corners;
    const double radius = uniform(random, low_mm, high_mm);
    out.push_back(p2(radius * std::cos(angle), radius * std::sin(angle)));
  }
  return out;
}

survey::WayIn opening_z(std::vector<core::Point2> outline, double station_mm) {
  survey::WayIn way;
  way.name = "opening";
  way.station = core::Length::from_mm(station_mm);
  way.outline = std::move(outline);
  return way;
}

}  // namespace reference
