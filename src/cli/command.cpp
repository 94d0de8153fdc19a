#include "command.hpp"

#include <fmt/format.h>

#include <cstdio>

#include "cellstow/audit/audit.hpp"
#include "cellstow/survey/read_job.hpp"

namespace cellstow::cli {

std::atomic<bool> stop_asked{false};

void add_common(CLI::App* command, Options& options) {
  command->add_flag("--quiet", options.quiet, "No summary, no progress");
  command->add_flag("--json", options.json, "Results on standard output as JSON");
}

void add_roots(CLI::App* command, Options& options) {
  command->add_option("--root", options.roots, "Folder that files named in the job may lie in [the job file's own]")->allow_extra_args(false);
}

void add_job(CLI::App* command, Options& options) {
  command->add_option("JOB", options.file, "Job file (cellstow-job/1, see docs/job-file.md)")->required();
  add_roots(command, options);
  command->add_option("--shapes", options.shapes, "Folder with the shipped tables and cells");
  add_common(command, options);
}

int refuse(const core::Problems& problems) {
  std::fputs(core::to_text(problems).c_str(), stderr);
  fmt::print(stderr, "{} problem{}; nothing was written\n", problems.size(), problems.size() == 1 ? "" : "s");
  return bad_input;
}

void SlowProgress::operator()(const std::string& what) const {
  const auto passed = std::chrono::steady_clock::now() - start_;
  if (!quiet_ && passed > std::chrono::seconds(1)) fmt::print(stderr, "{} ...\n", what);
}

std::vector<std::filesystem::path> roots_of(const Options& options) { return {options.roots.begin(), options.roots.end()}; }

core::Result<Input> read(const Options& options) {
  auto catalogue = survey::read_catalogue(options.shapes);
  if (!catalogue) return tl::unexpected(catalogue.error());
  auto job = survey::read_job(options.file, roots_of(options), options.shapes, *catalogue);
  if (!job) return tl::unexpected(job.error());
  return Input{std::move(*catalogue), std::move(*job)};
}

int status_of(const plan::Plan& plan) {
  for (const core::Check& check : plan.checks) {
    if (!check.ok) return some_fail;
  }
  return all_hold;
}

std::optional<std::string> own_check(const std::string& plan_text) {
  const auto report = audit::audit_plan(plan_text, "plan.json");
  if (!report) return core::to_text(report.error());
  if (report->violations.empty()) return std::nullopt;
  std::string text;
  for (const audit::Violation& v : report->violations) {
    text += fmt::format("{}: {}: {}\n", v.rule, v.where, v.detail);
  }
  return text;
}

int fault(const std::string& text) {
  fmt::print(stderr, "the plan does not pass its own check; nothing was written. Please report this with the job file.\n{}", text);
  return program_fault;
}

}  // namespace cellstow::cli
