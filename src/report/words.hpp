#pragma once
/// The words the files and the page use for the choices of the job. Internal to report.

#include <string>

#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

/// As written in the plan file.
inline const char* word(survey::Stance stance) {
  switch (stance) {
    case survey::Stance::upright: return "upright";
    case survey::Stance::on_edge: return "on_edge";
    case survey::Stance::flat: return "flat";
  }
  return "";
}

inline const char* word(survey::FittingPlace place) {
  switch (place) {
    case survey::FittingPlace::beside: return "beside";
    case survey::FittingPlace::above: return "above";
    case survey::FittingPlace::wall: return "wall";
  }
  return "";
}

inline const char* word(survey::FixingKind kind) {
  switch (kind) {
    case survey::FixingKind::weld_nut: return "weld nut";
    case survey::FixingKind::through_hole: return "through hole";
    case survey::FixingKind::stud: return "stud";
  }
  return "";
}

inline const char* word(survey::FixingUse use) {
  switch (use) {
    case survey::FixingUse::carry: return "carry";
    case survey::FixingUse::locate: return "locate";
    case survey::FixingUse::never: return "never";
  }
  return "";
}

inline const char* word(survey::KeepOutKind kind) {
  switch (kind) {
    case survey::KeepOutKind::fixed: return "fixed";
    case survey::KeepOutKind::removable: return "removable";
    case survey::KeepOutKind::soft: return "soft";
    case survey::KeepOutKind::moving: return "moving";
  }
  return "";
}

/// As read on the page.
inline std::string spoken(survey::Stance stance) {
  return stance == survey::Stance::on_edge ? "on edge" : word(stance);
}

/// "turned 12.35°, rear to the right"; nothing when the box is square with the car.
std::string turned_words(core::Heading heading);

inline std::string state_name(const std::string& state) {
  if (state == "before") return "as it came";
  if (state == "stripped") return "stripped";
  if (state == "empty") return "converted, no one in it";
  if (state == "as_driven") return "with the driver";
  if (state == "full") return "all seats taken";
  return state;
}

}  // namespace cellstow::report
