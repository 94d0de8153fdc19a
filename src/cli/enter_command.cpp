#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>

#include "cellstow/report/write.hpp"
#include "command.hpp"

namespace cellstow::cli {
namespace {

struct EnterOptions {
  Options common;
  std::string list;
};

core::Result<std::string> text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  if (file && std::filesystem::is_regular_file(path)) return std::string{std::istreambuf_iterator<char>(file), {}};
  return tl::unexpected(core::Problems{{"E401", path, "", "file cannot be read", "no readable file of that name", "the file as named", ""}});
}

void tell(const survey::Entered& entered, const std::string& out) {
  fmt::print("{} reading{} entered\n", entered.entered, entered.entered == 1 ? "" : "s");
  for (const std::string& change : entered.changed) fmt::print("changed: {}\n", change);
  for (const std::string& missing : entered.missing) fmt::print("still missing: {}\n", missing);
  fmt::print("Job: {}\n", out);
}

int run_enter(const EnterOptions& options) {
  const auto job = text_of(options.common.file);
  const auto list = text_of(options.list);
  core::Problems unread = job ? core::Problems{} : job.error();
  if (!list) unread.insert(unread.end(), list.error().begin(), list.error().end());
  if (!unread.empty()) return refuse(unread);
  const auto entered = survey::enter_readings(*job, options.common.file, *list, options.list);
  if (!entered) return refuse(entered.error());
  const auto written = report::write_file(options.common.out, entered->job_text);
  if (!written) return refuse(written.error());
  if (!options.common.quiet) tell(*entered, options.common.out);
  return all_hold;
}

}  // namespace

Command enter_command(CLI::App& app) {
  const auto options = std::make_shared<EnterOptions>();
  CLI::App* enter = app.add_subcommand("enter", "Puts the readings of a filled list into a job file; all else of the job stays as it is");
  enter->add_option("JOB", options->common.file, "Job file that the list was made from")->required();
  enter->add_option("LIST", options->list, "The filled list (CSV)")->required();
  enter->add_option("--out", options->common.out, "Job file to write")->required();
  enter->add_flag("--quiet", options->common.quiet, "No summary");
  return {enter, [options] { return run_enter(*options); }};
}

}  // namespace cellstow::cli
