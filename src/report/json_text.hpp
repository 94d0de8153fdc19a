#pragma once
/// JSON as text that a person can read too. Internal to report.

#include <nlohmann/json.hpp>
#include <string>

namespace cellstow::report {

/// Two blanks a level; a list or object that fits on one line of 100 stays on it.
std::string json_text(const nlohmann::ordered_json& value);

}  // namespace cellstow::report
