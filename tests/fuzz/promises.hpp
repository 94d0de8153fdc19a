#pragma once
/// What every reader promises, whatever it is given.

#include <stdexcept>

#include "given_outline.hpp"

namespace cellstow::fuzz {

inline void promise(bool kept, const char* what) {
  if (!kept) throw std::logic_error(what);
}

/// What survey/job.hpp promises of every section.
inline void check_outline(const survey::GivenOutline& given) {
  promise(given.outline.size() >= 3, "outline of 3 corners or more");
  promise(survey::twice_area_um2(given.outline) != 0, "outline with area");
  promise(survey::self_meetings(given.outline).empty(), "outline that does not cross itself");
  promise(given.measured.corners.empty() || given.measured.corners.size() == given.outline.size(), "one entry a corner");
  for (const survey::Ring& hole : given.holes) {
    promise(hole.size() >= 3 && survey::self_meetings(hole).empty(), "simple hole");
    promise(!survey::meeting_of(hole, given.outline) && survey::encloses(given.outline, hole[0]), "hole inside its outline");
  }
}

inline void check_told(const core::Problems& problems) {
  promise(!problems.empty(), "a refusal says why");
  promise(!core::to_text(problems).empty(), "problems can be printed");
}

inline void check(const core::Result<survey::GivenOutline>& given) {
  if (given)
    check_outline(*given);
  else
    check_told(given.error());
}

}  // namespace cellstow::fuzz
