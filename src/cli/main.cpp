/// Arguments in, files and an exit status out. Everything between is in the libraries.

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "cellstow/audit/audit.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/report/write.hpp"
#include "cellstow/survey/read_job.hpp"

namespace {

using namespace cellstow;

/// Exit statuses, as promised in the README.
enum Status { all_hold = 0, some_fail = 1, bad_input = 2, program_fault = 3 };

struct Options {
  std::string file, out;
  std::vector<std::string> roots;
  std::string shapes = CELLSTOW_SHAPES;
  bool quiet = false, json = false;
};

/// Set by Ctrl-C: the searches end with the best found so far, and the plan is made of that.
std::atomic<bool> stop_asked{false};

extern "C" void on_interrupt(int) {
  if (stop_asked.exchange(true)) std::_Exit(130);  // asked twice: at once
}

int refuse(const core::Problems& problems) {
  std::fputs(core::to_text(problems).c_str(), stderr);
  fmt::print(stderr, "{} problem{}; nothing was written\n", problems.size(), problems.size() == 1 ? "" : "s");
  return bad_input;
}

/// Tells what is being done once it takes longer than a second.
class SlowProgress {
 public:
  explicit SlowProgress(bool quiet) : quiet_(quiet) {}
  void operator()(const std::string& what) const {
    const auto passed = std::chrono::steady_clock::now() - start_;
    if (!quiet_ && passed > std::chrono::seconds(1)) fmt::print(stderr, "{} ...\n", what);
  }

 private:
  bool quiet_;
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

struct Input {
  survey::Catalogue catalogue;
  survey::Job job;
};

core::Result<Input> read(const Options& options) {
  auto catalogue = survey::read_catalogue(options.shapes);
  if (!catalogue) return tl::unexpected(catalogue.error());
  const std::vector<std::filesystem::path> roots(options.roots.begin(), options.roots.end());
  auto job = survey::read_job(options.file, roots, options.shapes, *catalogue);
  if (!job) return tl::unexpected(job.error());
  return Input{std::move(*catalogue), std::move(*job)};
}

int status_of(const plan::Plan& plan) {
  for (const core::Check& check : plan.checks) {
    if (!check.ok) return some_fail;
  }
  return all_hold;
}

/// Every plan is read back and checked by the part that shares nothing with the packer.
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

int run_plan(const Options& options) {
  const auto input = read(options);
  if (!input) return refuse(input.error());
  const plan::Plan plan = plan::make_plan(input->job, input->catalogue, SlowProgress(options.quiet), &stop_asked);
  const auto files = report::all_files(input->job, plan, input->catalogue);
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

int run_pack(const Options& options) {
  const auto input = read(options);
  if (!input) return refuse(input.error());
  const plan::Plan plan = plan::make_packing_only(input->job, SlowProgress(options.quiet), &stop_asked);
  const std::string text = report::plan_to_json(input->job, plan).dump(2) + "\n";
  if (const auto wrong = own_check(text)) return fault(*wrong);
  std::fputs(text.c_str(), stdout);
  return status_of(plan);
}

int run_audit(const Options& options) {
  std::ifstream file(options.file, std::ios::binary);
  if (!file) {
    return refuse({{"E401", options.file, "", "file cannot be read", "no readable file of that name",
                    "a plan file written by \"cellstow plan\" or \"cellstow pack\"", ""}});
  }
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  const auto report = audit::audit_plan(text, options.file);
  if (!report) return refuse(report.error());
  if (options.json) {
    nlohmann::ordered_json json{{"violations", nlohmann::ordered_json::array()}, {"checked", report->checked}, {"not_checked", report->not_checked}};
    for (const audit::Violation& v : report->violations) {
      json["violations"].push_back({{"rule", v.rule}, {"where", v.where}, {"detail", v.detail}});
    }
    fmt::print("{}\n", json.dump(2));
  } else if (!options.quiet) {
    for (const audit::Violation& v : report->violations) fmt::print("does not hold: {}: {}: {}\n", v.rule, v.where, v.detail);
    fmt::print("{} boxes, {} blocks, {} cells looked at; {} rules checked, {} do not hold\n", report->boxes,
               report->blocks, report->cells, report->checked.size(), report->violations.size());
    for (const std::string& open : report->not_checked) fmt::print("not checked: {}\n", open);
  }
  return report->violations.empty() ? all_hold : some_fail;
}

void add_common(CLI::App* command, Options& options) {
  command->add_flag("--quiet", options.quiet, "No summary, no progress");
  command->add_flag("--json", options.json, "Results on standard output as JSON");
}

void add_job(CLI::App* command, Options& options) {
  command->add_option("JOB", options.file, "Job file (cellstow-job/1, see docs/job-file.md)")->required();
  command->add_option("--root", options.roots, "Folder that files named in the job may lie in [the job file's own]");
  command->add_option("--shapes", options.shapes, "Folder with the shipped tables and cells");
  add_common(command, options);
}

}  // namespace

int main(int argc, char** argv) try {
  Options options;
  CLI::App app{"Plans battery boxes for a car: most cells in the measured cavities, boxes that can be made,\n"
               "straps and fixings calculated, axle loads before and after.", "cellstow"};
  app.set_version_flag("--version", std::string("cellstow ") + CELLSTOW_VERSION);
  app.require_subcommand(1);
  app.footer("Exit status: 0 done and every check holds; 1 done, some check does not hold (all is written);\n"
             "2 bad input or usage (nothing written); 3 a fault of the program.");
  CLI::App* plan = app.add_subcommand("plan", "The whole job: plan file, report page, drawings, cut files and lists into a folder");
  add_job(plan, options);
  plan->add_option("--out", options.out, "Folder for the results; made when missing")->required();
  CLI::App* pack = app.add_subcommand("pack", "Only the packing: how many cells, and where; plan file on standard output");
  add_job(pack, options);
  CLI::App* audit = app.add_subcommand("audit", "Checks a plan file anew from its own content and lists what does not hold");
  audit->add_option("PLAN", options.file, "Plan file (cellstow-plan/1)")->required();
  add_common(audit, options);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? all_hold : bad_input;
  }
  std::signal(SIGINT, on_interrupt);
  if (plan->parsed()) return run_plan(options);
  if (pack->parsed()) return run_pack(options);
  return run_audit(options);
} catch (const std::exception& error) {
  fmt::print(stderr, "cellstow: fault of the program: {}\n", error.what());
  return 3;
}
