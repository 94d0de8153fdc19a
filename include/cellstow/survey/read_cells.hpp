#pragma once
/// Cells to compare, read from files and folders of files; amounts on the command line.

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/problem.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::survey {

/// A cell with the file it was read from.
struct CellFile {
  std::string file;  ///< as named, or as found in a named folder
  Cell cell;
};

/// Every cell of the files and folders named, in the order named; a folder's files (*.json) by name.
///
/// @error E401 no such file, E406 a folder without a cell file, E111 two cells of one name, and those of a cell file
core::Result<std::vector<CellFile>> read_cells(const std::vector<std::filesystem::path>& files_or_folders,
                                               const Catalogue& catalogue);

/// What one cell of each name costs: lines "cell,cost_each" under that heading, comma-separated (RFC 4180 without
/// line breaks in fields). Money of one kind, whatever it is.
///
/// @error E401 no such file, E407 a line that does not read, or a name twice
core::Result<std::map<std::string, double>> read_costs(const std::filesystem::path& file);

enum class Amount { distance_km, consumption_wh_per_km, mass_kg };

/// An amount from the command line: a bare number is in the unit of the kind, else it carries its own ("62 mi").
///
/// @param option  "--range", told with the problem
/// @error E405 not an amount of this kind, or not above 0 and at most `most`
core::Result<double> read_amount(const std::string& text, Amount kind, const std::string& option, double most);

}  // namespace cellstow::survey
