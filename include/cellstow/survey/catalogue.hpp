#pragma once
/// The shipped tables under shapes/: materials, stock bars, fasteners, load cases.

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "cellstow/core/problem.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::survey {

/// A flat bar as sold.
struct FlatBar {
  std::string material;                        ///< key into Catalogue::materials
  Length width, thickness, stock_length;
  std::string source, status;
};

/// A screw thread with the areas that strength and clearance need.
struct Thread {
  std::string name;                            ///< "M8", "M8x1", "5/16-18"
  Length major_diameter;
  double pitch_mm = 0;
  double stress_area_mm2 = 0;
  double head_width_mm = 0;                    ///< across flats
  Length clearance_hole;
  std::string source, status;
};

struct Catalogue {
  std::map<std::string, Material> materials;
  std::map<std::string, FastenerClass> fastener_classes;
  std::map<std::string, Thread> threads;
  std::map<std::string, LoadCaseSet> load_case_sets;
  std::vector<FlatBar> flat_bars;              ///< sorted by material, width, thickness
  std::string default_load_case_set;
};

/// Reads every table of the shipped shapes/ folder.
/// @error E301 table missing or unreadable, E302 bad row, E303 duplicate name
core::Result<Catalogue> read_catalogue(const std::filesystem::path& shapes_folder);

}  // namespace cellstow::survey
