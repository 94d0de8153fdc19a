#pragma once
/// The measuring sheet: what to measure from where, on paper and as a list to fill.

#include <filesystem>
#include <map>
#include <string>
#include <variant>
#include <vector>

#include "cellstow/core/problem.hpp"
#include "cellstow/survey/tape.hpp"

namespace cellstow::report {

/// `sheet.html`, a page a section that prints on A4, and `sheet.csv` with survey::sheet_columns. Readings that are there
/// already stand in both.
std::map<std::string, std::string> measuring_sheet_files(const std::string& title, const std::vector<survey::TapeSection>& sections);

/// Puts the files into a folder and touches nothing else in it. A list that stands there with other bytes may hold an
/// evening's readings: it is never written over.
/// @error E402 such a list, or the folder cannot be written
core::Result<std::monostate> write_sheet(const std::filesystem::path& folder, const std::map<std::string, std::string>& files);

}  // namespace cellstow::report
