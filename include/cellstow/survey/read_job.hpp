#pragma once
/// The one door through which job files come in.

#include <filesystem>
#include <vector>

#include "cellstow/core/problem.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::survey {

/// Reads and checks a whole job file with the files it names.
///
/// @param  job_file   path as the user gave it; quoted in every problem
/// @param  roots      folders that referenced files may lie in; the job file's own folder when empty.
///                    The shipped shapes folder is always allowed
/// @param  shapes     the shipped shapes folder
/// @param  catalogue  tables for material, fastener and load-case names
/// @return the job with every default filled in, or every fault found (never only the first)
/// @error  ids and texts in docs/errors.md
core::Result<Job> read_job(const std::filesystem::path& job_file,
                           const std::vector<std::filesystem::path>& roots,
                           const std::filesystem::path& shapes, const Catalogue& catalogue);

/// As read_job, for text already in memory; `name` stands for the file in problems.
core::Result<Job> read_job_text(std::string_view text, const std::string& name,
                                const std::filesystem::path& folder,
                                const std::vector<std::filesystem::path>& roots,
                                const std::filesystem::path& shapes, const Catalogue& catalogue);

}  // namespace cellstow::survey
