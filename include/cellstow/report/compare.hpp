#pragma once
/// Two cars or two revisions set side by side, for people and for programs.

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "cellstow/differences/jobs.hpp"
#include "cellstow/differences/left_right.hpp"
#include "cellstow/differences/made.hpp"
#include "cellstow/differences/slots.hpp"
#include "cellstow/survey/catalogue.hpp"

namespace cellstow::report {

/// One of the two: a job, and what its plan makes when there is one.
struct Compared {
  std::string name;   ///< the file, as the user gave it
  survey::Job job;
  std::optional<differences::Made> made;
};

struct Comparison {
  std::string first, second;
  std::vector<differences::HoleDifference> holes;
  std::vector<differences::SectionDifference> sections;
  std::vector<differences::ValueDifference> values;   ///< everything of the job but holes and sections
  std::vector<differences::SharedHoles> shared;       ///< one a cavity that both have
  differences::LeftRight first_sides, second_sides;
  std::optional<differences::MadeDifferences> made;   ///< when both have a plan
  std::vector<std::string> pictures;                  ///< SVG for the page: walls of the two laid over each other
  core::Length longest_slot;
  std::vector<std::string> remarks;
  bool same() const;   ///< nothing differs; what serves both and left and right do not count
};

/// @param longest_slot  longest slot that may serve both cars
Comparison compare(const Compared& first, const Compared& second, const survey::Catalogue& catalogue, core::Length longest_slot);

/// What a plan file (`cellstow-plan/1`) makes: cells, boxes, parts by mark.
/// @pre the plan file has been read by audit without a problem
differences::Made made_of(const nlohmann::ordered_json& plan);

/// Every value of a job but holes and sections, under the names a reader knows them by.
std::vector<differences::Value> values_of(const survey::Job& job);
/// The group of a cavity's values.
inline std::string cavity_group(const std::string& name) { return "cavity " + name; }

/// For a terminal or a sheet of paper.
std::string to_text(const Comparison& comparison);
nlohmann::ordered_json to_json(const Comparison& comparison);
/// A page, and each table as comma-separated values, by path below the output folder.
std::map<std::string, std::string> comparison_files(const Comparison& comparison);

}  // namespace cellstow::report
