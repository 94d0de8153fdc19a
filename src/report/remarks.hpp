#pragma once
/// Cautions and notes, each said once and in one place. Internal to report.

#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"

namespace cellstow::report {

/// Lines that differ only in the mark or the block they begin with become one:
/// "TW-S-B1: pad it", "TW-S-B2: pad it" -> "TW-S-B1, TW-S-B2: pad it". Order of first appearance.
std::vector<std::string> merged(const std::vector<std::string>& lines);

/// What concerns this box alone: lines that stand with another box too are left to the page's end.
std::vector<std::string> own_cautions(const plan::Plan& plan, const plan::BoxPlan& box);
std::vector<std::string> own_notes(const plan::Plan& plan, const plan::BoxPlan& box);

/// Everything that no box, string or balance part says by itself.
std::vector<std::string> general_cautions(const plan::Plan& plan);
std::vector<std::string> general_notes(const plan::Plan& plan);

}  // namespace cellstow::report
