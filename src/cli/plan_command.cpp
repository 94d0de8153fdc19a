#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <memory>

#include "cellstow/choosing/splits.hpp"
#include "cellstow/report/write.hpp"
#include "cellstow/survey/change_limits.hpp"
#include "command.hpp"

namespace cellstow::cli {
namespace {

int run_plan(const Options& options) {
  const auto input = read(options);
  if (!input) return refuse(input.error());
  const auto change_limits = survey::read_change_limits(options.shapes);
  if (!change_limits) return refuse(change_limits.error());
  const plan::Plan plan = plan::make_plan(input->job, input->catalogue, SlowProgress(options.quiet), &stop_asked);
  // a job without a tape has none to draw; its faults were told when the job was read
  const auto tapes = survey::read_tape_sections(options.file, roots_of(options), options.shapes);
  const auto splits = choosing::study_splits(input->job, plan, *change_limits);
  const report::Supplements more{tapes.value_or(std::vector<survey::TapeSection>{}), splits ? &*splits : nullptr};
  const auto files = report::all_files(input->job, plan, input->catalogue, more);
  if (const auto wrong = own_check(files.at("plan.json"))) return fault(*wrong);
  const auto written = report::write_files(options.out, files);
  if (!written) return refuse(written.error());
  if (options.json) {
    std::fputs(files.at("plan.json").c_str(), stdout);
  } else if (!options.quiet) {
    std::fputs(report::summary(input->job, plan).c_str(), stdout);
    fmt::print("Report: {}\n", (std::filesystem::path(options.out) / "report.html").string());
  }
  return status_of(plan);
}

}  // namespace

Command plan_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* plan = app.add_subcommand("plan", "The whole job: plan file, report page, drawings, cut files and lists into a folder");
  add_job(plan, *options);
  plan->add_option("--out", options->out, "Folder for the results; made when missing")->required();
  return {plan, [options] { return run_plan(*options); }};
}

}  // namespace cellstow::cli
