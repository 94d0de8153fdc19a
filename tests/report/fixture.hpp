#pragma once
/// A job and a plan built by hand for the report's tests: an invented car, two cavities, an
/// L-shaped box and a rectangular one, straps, fixings, balance, and a check that does not hold.

#include <string>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"

namespace fixture {

struct Case {
  cellstow::survey::Job job;
  cellstow::plan::Plan plan;
};

Case two_cavities();

/// The same with every name replaced by one that no file format takes as it stands.
Case nasty_names();

/// One cavity, no car, no string, cells laid straight into the cavity.
Case loose_cells();

/// Characters that markup, CSV, file names and cut files must each treat in their own way.
extern const std::string nasty;

}  // namespace fixture
