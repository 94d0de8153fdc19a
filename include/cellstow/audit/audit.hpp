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
  std::string rule;      ///< number and name of docs/legal-layout.md: "R5 clearance to keep-outs"
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
/// @return decided exactly on the micrometre grid: a gap met exactly is met, a micrometre less is not
/// @error  E1xx writing and keys, E2xx sections and keep-outs that cannot be, as listed in docs/errors.md; all of
///         them, not only the first
/// Cost: under 0.2 s for 60 cells; about 1 s for sections of 20,000 corners, 6 s when read straight
core::Result<AuditReport> audit_plan(std::string_view plan_text, const std::string& name);

}  // namespace cellstow::audit
