#pragma once
/// Trying every stock bar over one block.

#include <map>
#include <string>
#include <vector>

#include "cellstow/restraint/strap.hpp"
#include "strap_demand.hpp"

namespace cellstow::restraint {

/// One block to be strapped. Holds its own rules so that a cure can be tried on a copy.
struct StrapTask {
  StrappedBlock block;
  survey::Rules rules;
  std::map<std::string, survey::Thread> threads;
  std::string mark, where;

  double bolt_diameter_mm(const std::string& thread) const {
    return threads.at(thread).major_diameter.mm();
  }
};

struct StrapChoice {
  std::vector<Strap> candidates;  ///< lightest first: total mass, then number, width, thickness
  std::size_t chosen = 0;         ///< lightest that passes; else the one least overloaded
  bool passes = false;
};

/// Live metal keeps at least this from the lid while the block rises. Common practice, no source.
inline constexpr double live_floor_mm = 5;

/// Name of the check on the strap's sag: the only one that more headroom mends.
inline constexpr const char* rise_check = "rise of the strap's middle";

/// Every stock bar of the strap material that fits the strap space, one or two side by side, each
/// with the smallest bolt that holds, judged against every check.
StrapChoice choose_strap(const StrapTask& task, const survey::Catalogue& catalogue);

/// Smallest inside radius the material bends to; twice the thickness where the table has none.
double bend_radius_mm(const survey::Material& material, double thickness_mm);

/// Developed length of a U with two right-angle bends, legs and back measured outside:
///   L = legs + back + 2 v,  v = pi/2 (r + k t / 2) - 2 (r + t),  k = 0.65 + 0.5 log10(r / t), at
///   most 1
/// Source: DIN 6935, from memory.
double developed_length_mm(double outside_leg_mm, double outside_back_mm, double radius_mm,
                           double thickness_mm);

}  // namespace cellstow::restraint
