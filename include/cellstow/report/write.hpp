#pragma once
/// What leaves the program: the plan file, the page, drawings, cut files and lists.

#include <filesystem>
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "cellstow/core/problem.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"
#include "cellstow/survey/tape.hpp"

namespace cellstow::choosing {
struct SplitStudy;
}

namespace cellstow::report {

/// The job, resolved to plain numbers: no unit strings, no file references, every default filled in.
/// Reading it again gives the same job.
nlohmann::ordered_json job_to_json(const survey::Job& job);

/// The plan file (`cellstow-plan/1`), docs/plan-file.md. `seconds` entries are 0 where not measured:
/// same input, same bytes.
nlohmann::ordered_json plan_to_json(const survey::Job& job, const plan::Plan& plan);

/// Summary of at most a screen: cells, boxes, bolts, axle loads, what fails.
std::string summary(const survey::Job& job, const plan::Plan& plan);

/// What the page shows beyond job and plan. What is empty is left out.
struct Supplements {
  std::vector<survey::TapeSection> tapes{};      ///< of the job's sections, for pictures with ellipses, datums and doubted readings
  const choosing::SplitStudy* splits = nullptr;  ///< other ways of splitting the cells
};

/// The self-contained page.
std::string page(const survey::Job& job, const plan::Plan& plan, const Supplements& more = {});

/// Every output file by its path below the output folder, with its bytes.
std::map<std::string, std::string> all_files(const survey::Job& job, const plan::Plan& plan,
                                             const survey::Catalogue& catalogue, const Supplements& more = {});

/// Writes all files whole or not at all: written aside in the same folder tree, then renamed.
/// @error E402 folder cannot be made or written
core::Result<std::monostate> write_files(const std::filesystem::path& folder,
                                         const std::map<std::string, std::string>& files);

/// One file, whole or not at all, and nothing else in its folder touched: written aside, then renamed.
/// @error E402 cannot be written
core::Result<std::monostate> write_file(const std::filesystem::path& path, const std::string& bytes);

}  // namespace cellstow::report
