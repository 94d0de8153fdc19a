#pragma once
/// The page, part by part in the order of reading. Internal to report.

#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "cellstow/survey/tape.hpp"

namespace cellstow::report {

/// Title of the job as printed on every sheet: its title, else the car's name.
std::string title_of(const survey::Job& job);

std::string page_style(const std::string& title);
std::string page_answer(const survey::Job& job, const plan::Plan& plan);    ///< what fits and what fails
std::string page_balance(const survey::Job& job, const plan::Plan& plan);   ///< string, axles, ride height
std::string page_cavity(const survey::Job& job, const plan::Plan& plan, const plan::CavityPlan& cavity);
std::string page_trust(const plan::Plan& plan);  ///< whether the measuring is good enough to cut; nothing when only packing was asked for
std::string page_links(const survey::Job& job, const plan::Plan& plan);     ///< order, links, fuse, cables; nothing without links
std::vector<std::string> link_cautions();  ///< what must be said before anyone reaches in
std::string page_measuring(const survey::Job& job, const std::vector<survey::TapeSection>& tapes);  ///< how sections were measured; nothing for plain corners
std::string page_lists(const survey::Job& job, const plan::Plan& plan);     ///< cut list, holes, checks
std::string page_sides(const survey::Job& job);                             ///< left against right; nothing where nothing faces
std::string page_grounds(const survey::Job& job, const plan::Plan& plan);   ///< cautions, assumptions, remarks

}  // namespace cellstow::report
