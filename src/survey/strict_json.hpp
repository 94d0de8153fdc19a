#pragma once
/// JSON as the standard has it and no key twice: the text of a file turned into a tree.

#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>

#include "problem_log.hpp"

namespace cellstow::survey {

using Json = nlohmann::ordered_json;

/// Parses `text`, noting in the log the place of every value and every key given twice (the first
/// of them stands in the tree).
///
/// @return the tree; nothing when the text is not JSON at all
/// @error E101 not JSON, with line and column; E102 key given twice; E107 a number no computer
/// holds;
///        E117 nested deeper than any job is
std::optional<Json> parse_strict(std::string_view text, ProblemLog& log);

}  // namespace cellstow::survey
