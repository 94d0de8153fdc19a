#pragma once
/// Small invented cavities.

#include <initializer_list>
#include <string>
#include <utility>

#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace sample {

namespace survey = cellstow::survey;
using cellstow::core::Length;
using cellstow::core::Point2;

inline Length mm(double value) { return Length::from_mm(value); }

inline survey::Section section(double station, std::initializer_list<std::pair<double, double>> corners) {
  survey::Section out;
  out.station = mm(station);
  for (const auto& [a, b] : corners) out.outline.push_back({mm(a), mm(b)});
  return out;
}

inline survey::Fixing fixing(const std::string& name, double x, double y, double z, const std::string& thread = "M8") {
  survey::Fixing out;
  out.name = name;
  out.at = {mm(x), mm(y), mm(z)};
  out.thread = thread;
  return out;
}

/// 600 x 800 mm in plan, three sections, four fixings.
inline survey::Cavity well() {
  survey::Cavity out;
  out.name = "well";
  for (const double z : {300.0, 450.0, 600.0})
    out.sections.at.push_back(section(z, {{2000, -400}, {2600, -400}, {2600, 400}, {2000, 400}}));
  out.fixings = {fixing("T1", 2030, -380, 300), fixing("T2", 2030, 380, 300), fixing("T3", 2570, -380, 300), fixing("T4", 2570, 380, 300)};
  return out;
}

inline survey::Thread thread(const std::string& name, double diameter, double hole) {
  survey::Thread out;
  out.name = name;
  out.major_diameter = mm(diameter);
  out.clearance_hole = mm(hole);
  return out;
}

/// Clearance holes of ISO 273, medium series (from memory).
inline std::map<std::string, survey::Thread> threads() {
  return {{"M8", thread("M8", 8, 9)}, {"M10", thread("M10", 10, 11)}};
}

}  // namespace sample
