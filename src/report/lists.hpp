#pragma once
/// The lists as comma-separated text and as one workbook. Internal to report.

#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "report/tables.hpp"

namespace cellstow::report {

/// A list and its name: of its file, with low lines between the words, and of its sheet in the workbook.
struct NamedList {
  std::string name;   ///< "cut list"
  Table table;
};

/// Every list there is to write; those of links only where the string is known.
std::vector<NamedList> all_lists(const survey::Job& job, const plan::Plan& plan);

/// Comma-separated, RFC 4180.
std::string to_csv(const Table& table);

}  // namespace cellstow::report
