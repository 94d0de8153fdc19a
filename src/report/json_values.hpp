#pragma once
/// Numbers and points as they stand in the plan file. Internal to report.

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cellstow/core/frame.hpp"
#include "cellstow/core/length.hpp"
#include "cellstow/core/quantity.hpp"
#include "cellstow/packing/layout.hpp"

namespace cellstow::report {

using Json = nlohmann::ordered_json;

/// A whole number where it is one, so that 412 never prints as 412.0.
inline Json tidy(double value) {
  if (!std::isfinite(value)) return nullptr;
  if (value == std::floor(value) && std::abs(value) < 1e15) return static_cast<std::int64_t>(value);
  return value;
}

/// Rounded to `decimals`; null when there is no finite value. A share of a limit of zero
/// (stored as the largest double) has no finite value either.
inline Json rounded(double value, int decimals) {
  if (!std::isfinite(value) || std::abs(value) > 1e300) return nullptr;
  const double step = std::pow(10.0, decimals);
  const double out = std::round(value * step) / step;
  return std::isfinite(out) ? tidy(out) : tidy(value);
}

/// mm, exact to the micrometre.
inline Json mm(core::Length length) { return tidy(length.mm()); }

/// Half the sum, mm: exact to half a micrometre.
inline Json middle(core::Length low, core::Length high) {
  return tidy(static_cast<double>(low.um() + high.um()) / 2000.0);
}

inline Json kg(core::Kg mass) { return rounded(mass.value(), 3); }
inline Json point(const core::Point2& p) { return Json::array({mm(p.a), mm(p.b)}); }
inline Json point(const core::Point3& p) { return Json::array({mm(p.x), mm(p.y), mm(p.z)}); }

inline Json outline(const std::vector<core::Point2>& corners) {
  Json out = Json::array();
  for (const core::Point2& corner : corners) out.push_back(point(corner));
  return out;
}

/// Middle of a body of a box, in the car. Turned: to 1e-6 mm, so that turning back loses nothing.
inline Json centre(const packing::Cuboid& body, core::Heading heading) {
  const Json z = middle(body.low.z, body.high.z);
  if (heading.is_square()) return Json::array({middle(body.low.x, body.high.x), middle(body.low.y, body.high.y), z});
  const core::InPlan in_box{static_cast<double>(body.low.x.um() + body.high.x.um()) / 2000.0,
                            static_cast<double>(body.low.y.um() + body.high.y.um()) / 2000.0};
  const core::InPlan at = core::to_car(heading, in_box);
  return Json::array({rounded(at.a, 6), rounded(at.b, 6), z});
}

inline Json size(const packing::Cuboid& body) {
  return Json::array({mm(body.high.x - body.low.x), mm(body.high.y - body.low.y),
                      mm(body.high.z - body.low.z)});
}

}  // namespace cellstow::report
