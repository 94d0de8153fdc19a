#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cellstow/way_in/passage.hpp"

namespace cellstow::way_in {
namespace {

using core::Axis;
using core::Length;
using survey::Section;

constexpr const char* axis_letters[] = {"x", "y", "z"};
/// Beyond the opening, so that nothing ends at the opening itself.
const Length past = Length::from_um(10'000);

/// Does the body come from the side of larger coordinates?
bool from_high_side(const survey::WayIn& way) {
  return way.move[static_cast<std::size_t>(way.across)] < 0;
}

/// The section nearest the opening goes on to it.
void prolong(const survey::WayIn& way, OpenCavity& out) {
  std::vector<Section>& at = out.cavity.sections.at;
  const bool high = from_high_side(way);
  Section copy = high ? at.back() : at.front();
  const Length missing = high ? way.station - copy.station : copy.station - way.station;
  if (missing <= Length{}) return;
  const char* axis = axis_letters[static_cast<int>(way.across)];
  out.notes.push_back(fmt::format(
      "between {} {:.1f}, the section nearest the {}, and the opening at {} {:.1f} nothing was measured: "
      "the walls there are taken as in that section",
      axis, copy.station.mm(), way.name, axis, way.station.mm()));
  copy.station = high ? way.station + past : way.station - past;
  at.insert(high ? at.end() : at.begin(), copy);
}

/// Corners of the shut lid: from the highest (or lowest) corner both ways over edges no steeper than 45 degrees.
struct LidCorners {
  std::size_t first = 0, count = 0;
  bool operator==(const LidCorners&) const = default;
};

LidCorners lid_corners(const std::vector<core::Point2>& outline, bool high) {
  const std::size_t n = outline.size();
  std::size_t top = 0;
  for (std::size_t k = 1; k < n; ++k) {
    if (high ? outline[k].b > outline[top].b : outline[k].b < outline[top].b) top = k;
  }
  // Counter-clockwise, a roof runs towards smaller a and a floor towards larger.
  const auto belongs = [&](std::size_t k) {
    const auto &p = outline[k % n], &q = outline[(k + 1) % n];
    const Length run = high ? p.a - q.a : q.a - p.a;
    return run > Length{} && std::abs((q.b - p.b).um()) <= run.um();
  };
  LidCorners lid{top, 1};
  while (lid.count < n && belongs(lid.first + lid.count - 1)) ++lid.count;
  while (lid.count < n && belongs(lid.first + n - 1)) {
    lid.first = (lid.first + n - 1) % n;
    ++lid.count;
  }
  return lid;
}

void lift_lid(std::vector<core::Point2>& outline, const LidCorners& lid, Length to, bool high) {
  std::vector<core::Point2> out;
  const std::size_t n = outline.size();
  for (std::size_t i = 0; i < n; ++i) {
    const core::Point2 p = outline[(lid.first + i) % n];
    const bool in_lid = i < lid.count, end = i == 0 || i + 1 == lid.count;
    const core::Point2 lifted{p.a, high ? std::max(p.b, to) : std::min(p.b, to)};
    if (i == 0 || !in_lid) out.push_back(p);
    if (in_lid) out.push_back(lifted);
    if (in_lid && end && i > 0) out.push_back(p);
  }
  outline = std::move(out);
}

/// Opens the roof (or floor) of sections across x or y towards an opening across z.
void open_roof(const survey::WayIn& way, OpenCavity& out) {
  const bool high = from_high_side(way);
  std::vector<Section>& at = out.cavity.sections.at;
  Length end = way.station;
  for (const Section& section : at) {
    for (const core::Point2& p : section.outline) end = high ? std::max(end, p.b) : std::min(end, p.b);
  }
  end = high ? end + past : end - past;
  const LidCorners first = lid_corners(at.front().outline, high);
  bool alike = true;
  for (Section& section : at) {
    const LidCorners lid = lid_corners(section.outline, high);
    alike = alike && lid == first;
    if (lid.count > 1) lift_lid(section.outline, lid, end, high);
  }
  out.notes.push_back(fmt::format(
      "the {} of each section, as far as it is flatter than 45 degrees, is taken as the shut lid under the {} and counts as open",
      high ? "roof" : "floor", way.name));
  if (!alike && out.reading == region::Reading::straight) {
    out.reading = region::Reading::common;
    out.notes.push_back("the lids of the sections do not match corner by corner: on the way in only what both neighbouring "
                        "sections leave free counts as free");
  }
}

}  // namespace

OpenCavity opened(const survey::Cavity& cavity, const survey::WayIn& way) {
  OpenCavity out{cavity, cavity.sections.between, true, {}};
  for (survey::KeepOut& keep_out : out.cavity.keep_outs) keep_out.clearance = Length{};
  if (cavity.sections.across == way.across) {
    prolong(way, out);
  } else if (way.across == Axis::z) {
    open_roof(way, out);
  } else {
    out.walls_known = false;
  }
  return out;
}

}  // namespace cellstow::way_in
