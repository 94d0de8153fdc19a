#include "cellstow/differences/left_right.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

namespace cellstow::differences {
namespace {

using survey::Fixing;

std::optional<std::string> with_right_for_left(const std::string& name) {
  const std::pair<const char*, const char*> words[] = {{"left", "right"}, {"Left", "Right"}, {"LEFT", "RIGHT"}};
  for (const auto& [left, right] : words)
    if (const std::size_t at = name.find(left); at != std::string::npos)
      return name.substr(0, at) + right + name.substr(at + std::string(left).size());
  return {};
}

/// "L1" and "R1", "tank 2L" and "tank 2R": alike but for one capital L that is an R.
bool l_and_r(const std::string& left, const std::string& right) {
  if (left.size() != right.size()) return false;
  int changes = 0;
  for (std::size_t i = 0; i < left.size(); ++i)
    if (left[i] != right[i]) changes += left[i] == 'L' && right[i] == 'R' ? 1 : 2;
  return changes == 1;
}

bool named_for_each_other(const Fixing& left, const Fixing& right) {
  const auto expected = with_right_for_left(left.name);
  return (expected && *expected == right.name) || l_and_r(left.name, right.name);
}

FacingHoles facing(const std::string& cavity, const Fixing& left, const Fixing& right, bool by_name) {
  FacingHoles out{cavity, left.name, right.name, 0, 0, 0, 0, by_name};
  out.dx_mm = (right.at.x - left.at.x).mm();
  out.dy_mm = (right.at.y + left.at.y).mm();
  out.dz_mm = (right.at.z - left.at.z).mm();
  out.distance_mm = std::hypot(out.dx_mm, out.dy_mm, out.dz_mm);
  return out;
}

/// Every pair that could be, the surest first.
std::vector<FacingHoles> candidates(const survey::Cavity& cavity) {
  std::vector<FacingHoles> out;
  for (const Fixing& left : cavity.fixings)
    for (const Fixing& right : cavity.fixings) {
      if (left.at.y >= core::Length{} || right.at.y <= core::Length{}) continue;
      const bool by_name = named_for_each_other(left, right);
      FacingHoles pair = facing(cavity.name, left, right, by_name);
      if (by_name || pair.distance_mm <= facing_within_mm) out.push_back(std::move(pair));
    }
  std::stable_sort(out.begin(), out.end(), [](const FacingHoles& a, const FacingHoles& b) {
    return std::tuple(!a.by_name, a.distance_mm) < std::tuple(!b.by_name, b.distance_mm);
  });
  return out;
}

/// In the order in which the left ones stand in the file.
void add_holes(const survey::Cavity& cavity, std::vector<FacingHoles>& out) {
  std::vector<FacingHoles> chosen;
  for (const FacingHoles& pair : candidates(cavity)) {
    const bool taken = std::any_of(chosen.begin(), chosen.end(), [&](const FacingHoles& other) { return other.left == pair.left || other.right == pair.right; });
    if (!taken) chosen.push_back(pair);
  }
  for (const Fixing& fixing : cavity.fixings)
    for (const FacingHoles& pair : chosen)
      if (pair.left == fixing.name) out.push_back(pair);
}

core::Length& y_of(Point2& p, core::Axis across) { return across == core::Axis::z ? p.b : p.a; }

/// The section against its mirror image: first is the section, so a place on the image stands for one on the other side.
void add_own_image(const survey::Cavity& cavity, const survey::Section& section, std::vector<FacingWalls>& out) {
  const core::Axis across = cavity.sections.across;
  bool left = false, right = false;
  for (Point2 p : section.outline) {
    left = left || y_of(p, across) < core::Length{};
    right = right || y_of(p, across) > core::Length{};
  }
  if (!left || !right) return;
  WallDifference wall = greatest_difference(section, mirrored(section, across));
  FacingWalls facing{cavity.name, across, section.station, section.station, wall.mm, wall.at, wall.first_wider};
  // told on the right: seen from the left everything is the other way round
  if (y_of(facing.at, across) < core::Length{}) {
    y_of(facing.at, across) = -y_of(facing.at, across);
    facing.right_wider = !facing.right_wider;
  }
  out.push_back(facing);
}

/// Side sections: left ones against the right one whose station is nearest to the mirrored one.
void add_side_sections(const survey::Cavity& cavity, std::vector<FacingWalls>& out) {
  for (const survey::Section& left : cavity.sections.at) {
    if (left.station >= core::Length{}) continue;
    const survey::Section* best = nullptr;
    double least = facing_within_mm;
    for (const survey::Section& right : cavity.sections.at) {
      const double apart = std::abs((right.station + left.station).mm());
      if (right.station > core::Length{} && apart <= least && (!best || apart < least)) best = &right, least = apart;
    }
    if (!best) continue;
    const WallDifference wall = greatest_difference(*best, left);
    out.push_back({cavity.name, core::Axis::y, left.station, best->station, wall.mm, wall.at, wall.first_wider});
  }
}

}  // namespace

LeftRight left_right(const std::vector<survey::Cavity>& cavities) {
  LeftRight out;
  for (const survey::Cavity& cavity : cavities) {
    add_holes(cavity, out.holes);
    if (cavity.sections.across == core::Axis::y)
      add_side_sections(cavity, out.walls);
    else
      for (const survey::Section& section : cavity.sections.at) add_own_image(cavity, section, out.walls);
  }
  return out;
}

}  // namespace cellstow::differences
