#pragma once
/// The lists as rows of text, the same on the page and in the comma-separated files. Internal to report.

#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

struct Table {
  std::vector<std::string> head;
  std::vector<std::vector<std::string>> rows;
};

/// Some columns of a table, in the order named.
Table columns(const Table& table, const std::vector<std::size_t>& which);

Table flat_parts(const plan::Plan& plan);  ///< finished sizes
Table bars(const plan::Plan& plan);        ///< the same columns
Table cut_list(const plan::Plan& plan);    ///< flat parts, then bars
Table hole_schedule(const survey::Job& job, const plan::Plan& plan);
Table fixing_bolts(const plan::Plan& plan);  ///< one a carrying fixing, with the hole of its bracket
Table weights(const survey::Job& job, const plan::Plan& plan);
Table checks(const plan::Plan& plan);
Table boxes(const plan::Plan& plan);
/// In the car; where a box of the cavity is turned, along its own sides from its front left corner.
Table blocks(const plan::CavityPlan& cavity);
bool has_turned_box(const plan::CavityPlan& cavity);
/// Where the corners of turned boxes stand in the car; of loose blocks, their front corners.
Table turned_corners(const plan::CavityPlan& cavity);
Table splits(const survey::Job& job, const plan::Plan& plan);

}  // namespace cellstow::report
