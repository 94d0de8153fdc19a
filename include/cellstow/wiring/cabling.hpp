#pragma once
/// Fuse and cable of the string.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"
#include "cellstow/survey/job.hpp"
#include "cellstow/wiring/string_window.hpp"

namespace cellstow::wiring {

struct FuseChoice {
  int rating_a = 0;
  int class_v = 0;                       ///< DC voltage class
  std::optional<double> short_circuit_a; ///< what the cells would drive through a dead short; the fuse must be able to break it
};

struct CableChoice {
  double area_mm2 = 0;
  double carries_a = 0;                  ///< single core, cross-linked insulation, in air at 52 degC
  double outside_mm = 0;                 ///< about, over the insulation
  double bend_radius_mm = 0;             ///< six times the outside, laid once
  std::string gland;                     ///< metric size for that outside
  double gland_hole_mm = 0, gland_nut_mm = 0;  ///< its clearance hole; its locknut across corners
  std::optional<double> length_m, drop_v, loss_w;  ///< out and back over cable_route, continuous current
};

struct Cabling {
  std::optional<FuseChoice> fuse;
  std::optional<CableChoice> cable;
  std::vector<core::Check> checks;
  std::vector<std::string> cautions, notes;
  std::string why_not;                   ///< when neither could be chosen
};

/// Fuse: the smallest usual rating of 1.25 x the continuous current or more; voltage class at or above the full string.
/// Cable: the smallest usual section that carries the fuse's rating, so that the fuse protects it.
/// Sources beside the tables in the source file.
Cabling choose_cabling(const survey::Cell& cell, const survey::StringSpec& string, const StringResult& volts);

}  // namespace cellstow::wiring
