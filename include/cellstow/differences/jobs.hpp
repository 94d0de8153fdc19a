#pragma once
/// What differs between two jobs: two cars of one model, or two revisions of one car.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/differences/wall_difference.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::differences {

enum class Change { changed, only_first, only_second };

/// One value of a job or a plan under the names a reader knows it by: {"rules", "wall_mm"}, or
/// {"front trunk", "keep-out wiper motor", "box_mm"}.
struct Value {
  std::string group, what;
  std::string text;
};

struct ValueDifference {
  Change change = Change::changed;
  std::string group, what;
  std::string first, second;   ///< empty where it does not stand
};

/// Values that stand in one list only or differ, in the order of the first list, then what is new.
/// @pre no two values of a list have the same group and name
std::vector<ValueDifference> compare_values(const std::vector<Value>& first, const std::vector<Value>& second);

/// A fixing of the car in two cars, matched by its name.
struct HoleDifference {
  std::string cavity, fixing;
  Change change = Change::changed;
  double dx_mm = 0, dy_mm = 0, dz_mm = 0;   ///< second less first
  double distance_mm = 0;
  std::vector<std::string> remarks;         ///< "M8, in the second M10"
};

/// Only fixings that differ, in the order of the first job.
std::vector<HoleDifference> compare_holes(const survey::Cavity& first, const survey::Cavity& second);

/// A section in two cars, matched by its station.
struct SectionDifference {
  std::string cavity;
  Change change = Change::changed;
  core::Axis across = core::Axis::z;
  core::Length station;
  WallDifference wall;                      ///< when both have it
  double first_mm2 = 0, second_mm2 = 0;     ///< free area; 0 where it does not stand
};

/// Only sections that differ, station by station. Nothing when the two were not measured across the same axis.
std::vector<SectionDifference> compare_sections(const survey::Cavity& first, const survey::Cavity& second);

struct CavityPair {
  const survey::Cavity* first = nullptr;    ///< nothing where only the other job has it
  const survey::Cavity* second = nullptr;
};

/// Cavities matched by name, in the order of the first job, then those only in the second.
std::vector<CavityPair> matched(const survey::Job& first, const survey::Job& second);

/// What the two give up to each other below which they are the same: half a micrometre.
inline constexpr double same_mm = 0.0005;

}  // namespace cellstow::differences
