#pragma once
/// A job that extends another: reads the chain of jobs it is based on and lays them together.

#include <optional>

#include "named_file.hpp"

namespace cellstow::survey {

/// @param tree  of the job file; `log` is its log and knows its folder
/// @return the whole job: `tree` itself when it is based on nothing. Pointers into it are then told by `log` as places in
///         the files they came from. Nothing when a job below cannot be read
/// @error E250 jobs based on each other, E251 too many of them, those of read_named_text for the files below, and those
///        of lay_together
std::optional<Json> with_its_base(const Json& tree, ProblemLog& log, const AllowedFolders& allowed);

}  // namespace cellstow::survey
