#include <algorithm>

#include "cellstow/region/free_plan.hpp"
#include "walls.hpp"

namespace cellstow::region {
namespace {

/// Heights at which the cavity's own sections can change what a column meets.
std::vector<Um> section_heights(const survey::Sections& sections) {
  std::vector<Um> heights;
  for (const survey::Section& section : sections.at) {
    if (sections.across == survey::Axis::z) {
      heights.push_back(section.station.um());
      continue;
    }
    for (const auto& point : section.outline) heights.push_back(point.b.um());
    for (const auto& hole : section.holes) {
      for (const auto& point : hole) heights.push_back(point.b.um());
    }
  }
  return heights;
}

}  // namespace

bool plan_varies_between(const survey::Cavity& cavity, Reading reading) {
  const auto leans = [](const std::vector<survey::Point2>& loop) {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const survey::Point2 &p = loop[k], &q = loop[(k + 1) % loop.size()];
      if (p.a != q.a && p.b != q.b) return true;
    }
    return false;
  };
  const survey::Sections& sections = cavity.sections;
  const survey::Section& first = sections.at.front();
  for (const survey::Section& section : sections.at) {
    if (reading == Reading::straight && section.outline != first.outline) return true;
    if (reading == Reading::straight && section.holes != first.holes) return true;
    if (sections.across == survey::Axis::z) continue;
    if (leans(section.outline)) return true;
    if (std::any_of(section.holes.begin(), section.holes.end(), leans)) return true;
  }
  return std::any_of(cavity.keep_outs.begin(), cavity.keep_outs.end(),
                     [](const survey::KeepOut& keep_out) {
                       const auto* c = std::get_if<survey::CylinderShape>(&keep_out.shape);
                       return c != nullptr && !(c->from.x == c->to.x && c->from.y == c->to.y);
                     });
}

bool can_read_straight(const survey::Sections& sections) {
  auto shape = [](const survey::Section& section) {
    std::vector<std::size_t> counts{section.outline.size()};
    for (const auto& hole : section.holes) counts.push_back(hole.size());
    return counts;
  };
  return std::all_of(sections.at.begin(), sections.at.end(), [&](const survey::Section& section) {
    return shape(section) == shape(sections.at.front());
  });
}

HeightSpan height_limits(const survey::Cavity& cavity, const Clearances& clearances) {
  const std::vector<Um> heights = section_heights(cavity.sections);
  const auto [low, high] = std::minmax_element(heights.begin(), heights.end());
  return {*low + clearances.body, *high - clearances.lid};
}

std::vector<Um> critical_floors(const survey::Cavity& cavity, const Clearances& clearances,
                                Um box_height) {
  const HeightSpan limits = height_limits(cavity, clearances);
  std::vector<Um> floors{limits.bottom, limits.top - box_height};
  for (const Um height : section_heights(cavity.sections)) {
    floors.push_back(height + clearances.body);
    floors.push_back(height - clearances.lid - box_height);
  }
  for (const survey::KeepOut& keep_out : cavity.keep_outs) {
    const Um own = keep_out.clearance ? keep_out.clearance->um() : clearances.body;
    const auto [low, high] = keep_out_heights(keep_out);
    floors.push_back(high + own);
    floors.push_back(low - own - box_height);
  }
  std::erase_if(floors, [&](Um floor) {
    return floor < limits.bottom || floor + box_height > limits.top;
  });
  std::sort(floors.begin(), floors.end());
  floors.erase(std::unique(floors.begin(), floors.end()), floors.end());
  return floors;
}

}  // namespace cellstow::region
