#pragma once
/// The space that two cars both have: a box that goes into it goes into either.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/survey/job.hpp"

namespace cellstow::differences {

struct CommonCavity {
  std::optional<survey::Cavity> cavity;
  std::string why_not;                  ///< when there is none, in words
  std::vector<std::string> remarks;     ///< what a reader of the common job has to know
  core::Length fixings_off;             ///< the most that a fixing of either car lies from the common one
};

/// What is free in both cavities, as a cavity of its own with "between": "common".
///
/// At every station of either, the section holds what both leave free there; a cavity measured at no such station gives what
/// its two neighbouring sections have in common, as its own reading between them does. So between any two stations the
/// common cavity leaves free exactly what both leave free, less at most a few micrometres at corners that lie between
/// whole micrometres, and less smaller pieces where the space falls apart (a remark says so). Never more.
///
/// Keep-outs of both stay. Openings that lie in one plane become what both leave open; others have all to be passed. Fixings
/// stand half way between the two cars', as far as both have them; a fitting is as large as the larger.
///
/// Not worked out (why_not) for sections across different axes, and for "straight": a wall that runs straight between
/// sections of both cars runs straight in neither once they are laid into each other.
CommonCavity common_cavity(const survey::Cavity& first, const survey::Cavity& second);

struct CommonJob {
  survey::Job job;                     ///< the first job with the common cavities
  std::vector<std::string> why_not;    ///< one a cavity without a common one; then the job is of no use
  std::vector<std::string> remarks;
};

/// The cavities of one name, each made common; cell, rules, string and car of the first. rules.car_scatter grows by what
/// fixings lie off the common ones, so that slots serve both cars.
CommonJob common_job(const survey::Job& first, const survey::Job& second);

}  // namespace cellstow::differences
