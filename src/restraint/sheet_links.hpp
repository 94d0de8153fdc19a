#pragma once
/// Floor and walls of a box under the cells' inertia.

#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/restraint/link.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::restraint {

struct SheetLinks {
  std::vector<Link> links;
  double floor_sag_mm = 0, wall_bulge_mm = 0;
  std::vector<std::string> cautions, assumptions;
};

SheetLinks sheet_links(const box::Box& box, const survey::Cell& cell, const survey::Rules& rules);

}  // namespace cellstow::restraint
