#pragma once
/// What the comparison of cell formats and the rough answer look like on paper and as data.

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "cellstow/choosing/choose.hpp"
#include "cellstow/choosing/rough.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

/// Every file of a comparison by its path below the output folder: choice.html, choice.csv, splits.csv, pictures.
std::map<std::string, std::string> choice_files(const survey::Job& job, const std::vector<choosing::Format>& formats, const choosing::Choice& choice);

/// A screen of text: the best ones.
std::string choice_summary(const std::vector<choosing::Format>& formats, const choosing::Choice& choice);
nlohmann::ordered_json choice_to_json(const survey::Job& job, const std::vector<choosing::Format>& formats, const choosing::Choice& choice);

/// The rough answer as text for a terminal, and as data.
std::string rough_text(const choosing::RoughInput& input, const choosing::RoughRules& rules, const choosing::RoughAnswer& answer);
nlohmann::ordered_json rough_to_json(const choosing::RoughInput& input, const choosing::RoughRules& rules, const choosing::RoughAnswer& answer);

}  // namespace cellstow::report
