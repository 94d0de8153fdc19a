#pragma once
/// What several sections leave free together, decided exactly. Internal to differences.

#include <optional>
#include <vector>

#include "cellstow/survey/job.hpp"

namespace cellstow::differences {

struct CommonSpace {
  std::optional<survey::Section> section;  ///< nothing when no space is left, or none that a section can tell
  double lost_mm2 = 0;                     ///< of smaller pieces, where the space falls apart
  bool untold = false;                     ///< there is space, but its outline touches itself or is sharper than a micrometre
};

/// The largest piece of what all sections leave free, its corners on whole micrometres and never outside it.
/// @pre sections as survey gives them: simple, outlines counter-clockwise, holes clockwise and inside
CommonSpace common_space(const std::vector<const survey::Section*>& sections);

}  // namespace cellstow::differences
