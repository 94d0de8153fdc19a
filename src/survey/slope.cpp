#include "slope.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace cellstow::survey {
namespace {

/// A car that stands more askew than this is not measured but moved. Our choice.
constexpr Range slope_range{-15, 15};

/// Corners farther than this before or behind their section's station are no longer one section: as much as the clearance
/// that the shop's rules usually ask for. Our choice.
constexpr core::Length most_lean = core::Length::from_um(10'000);

using Numbers = std::array<double, 3>;

Numbers in_space(Axis across, core::Length station, const core::Point2& p) {
  const double s = station.mm(), a = p.a.mm(), b = p.b.mm();
  if (across == Axis::x) return {s, a, b};
  return across == Axis::y ? Numbers{a, s, b} : Numbers{a, b, s};
}

core::Point2 in_plane(Axis across, const Numbers& p) {
  const double a = across == Axis::x ? p[1] : p[0], b = across == Axis::z ? p[1] : p[2];
  return {core::Length::from_mm(a), core::Length::from_mm(b)};
}

std::string stood(const measuring::Slope& slope) {
  return fmt::format("nose up {:.3g} degrees, right side down {:.3g} degrees", slope.nose_up_deg, slope.right_down_deg);
}

}  // namespace

std::optional<measuring::Slope> read_slope(const Node& node) {
  const auto fields = Fields::of(node, "slope");
  if (!fields) return {};
  measuring::Slope slope;
  const auto read = [](const Node& n) { return read_number(n, slope_range, "degrees"); };
  set(*fields, "nose_up", slope.nose_up_deg, read);
  set(*fields, "right_down", slope.right_down_deg, read);
  return slope;
}

void turn_back(Section& section, Axis across, const measuring::Slope& slope, const Node& node) {
  core::Length low = core::Length::from_mm(1e5), high = core::Length::from_mm(-1e5);
  const auto turn = [&](core::Point2& point) {
    const Numbers p = measuring::to_car(slope, in_space(across, section.station, point));
    const core::Length along = core::Length::from_mm(p[static_cast<std::size_t>(across)]);
    low = std::min(low, along);
    high = std::max(high, along);
    point = in_plane(across, p);
  };
  for (core::Point2& point : section.outline) turn(point);
  const core::Length middle = core::Length::from_um((low.um() + high.um()) / 2), lean = high - middle;
  for (auto& hole : section.holes) std::for_each(hole.begin(), hole.end(), turn);
  section.station = middle;
  if (!section.measured) section.measured.emplace();
  std::string remark = fmt::format("The car stood {}: corners are turned back into the car's own axes.", stood(slope));
  if (lean >= core::Length::from_um(500))
    remark += fmt::format(" The section leans: its corners lie up to {:.1f} mm before and behind its station.", lean.mm());
  section.measured->remarks.push_back(std::move(remark));
  if (lean <= most_lean) return;
  node.log->add("E227", node.pointer, "section leans too far out of its station",
                fmt::format("{}: corners {:.1f} mm before and behind", stood(slope), lean.mm()),
                fmt::format("at most {} mm", in_mm(most_lean)), "level the car, or measure the section square to the car");
}

}  // namespace cellstow::survey
