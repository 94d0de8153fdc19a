#pragma once
/// The independent check: reads a plan file and nothing else, in exact arithmetic, with its own
/// reading of docs/legal-layout.md. Shares no code with region or packing.

#include <string>
#include <string_view>
#include <vector>

#include "cellstow/core/problem.hpp"

namespace cellstow::audit {

/// One rule that does not hold.
struct Violation {
  std::string rule;      ///< "cell outside box", "clearance to keep-out", ...
  std::string where;     ///< cavity, box, block or cell by name and number
  std::string detail;    ///< where, and by how many mm
};

struct AuditReport {
  std::vector<Violation> violations;   ///< empty: everything checked holds
  std::vector<std::string> checked;    ///< what was checked, one line a rule
  std::vector<std::string> not_checked;///< what could not be, and why
  int boxes = 0, blocks = 0, cells = 0;
};

/// @param  plan_text  a cellstow-plan/1 file, `job` included
/// @param  name       stands for the file in problems
/// @error  E101 not JSON, E110.. a key missing or of the wrong kind
core::Result<AuditReport> audit_plan(std::string_view plan_text, const std::string& name);

}  // namespace cellstow::audit
