#pragma once
/// From plan text to what the rules need. The audit's own reader: it trusts nothing the plan says
/// about itself beyond what is written there.

#include <string>
#include <string_view>

#include "cellstow/core/problem.hpp"
#include "json_reader.hpp"
#include "plan_file.hpp"

namespace cellstow::audit {

/// @error E101, E102 text; E104 key missing; E105 wrong kind; E106 unknown word; E107 out of range; E108 not
///        whole; E114 not a plan file; E115 list of the wrong length; E119 a cavity that the job does not know;
///        E201, E207, E208, E209, E212 sections and keep-outs that cannot be
core::Result<Plan> read_plan(std::string_view text, const std::string& file);

/// The job inside the plan: cell, rules, cavities, string, wheelbase.
void read_job(const At& job, Plan& plan);

/// Order and links of the string; nothing when the plan gives none.
std::optional<WiringFile> read_wiring(const At& root);

/// Corners `[[a, b], ...]`, at least `least` of them. @error E105, E115, E201
Ring read_ring(const At& list, std::size_t least);

}  // namespace cellstow::audit
