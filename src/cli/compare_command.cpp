#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <nlohmann/json.hpp>

#include "cellstow/audit/audit.hpp"
#include "cellstow/differences/common_cavity.hpp"
#include "cellstow/report/compare.hpp"
#include "cellstow/report/write.hpp"
#include "cellstow/survey/read_job.hpp"
#include "command.hpp"

namespace cellstow::cli {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

struct CompareOptions : Options {
  std::string other;
  double longest_slot_mm = 30;  ///< a bracket's foot has little more to give. Common practice, no source
  bool plan = false;
  std::string common;           ///< file for the common job
};

std::string text_of(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

/// Nothing when the file is not JSON, or no plan: the job reader says so.
std::optional<Json> as_plan(const std::string& text) {
  Json json = Json::parse(text, nullptr, false);
  if (!json.is_object() || json.value("format", Json()) != "cellstow-plan/1") return {};
  return json;
}

core::Result<report::Compared> read_plan(const std::string& name, const std::string& text, const Json& plan, const CompareOptions& options, const survey::Catalogue& catalogue) {
  const auto read = audit::audit_plan(text, name);
  if (!read) return tl::unexpected(read.error());
  auto job = survey::read_job_text(plan["job"].dump(), name, fs::path(name).parent_path(), {}, options.shapes, catalogue);
  if (job) return report::Compared{name, std::move(*job), report::made_of(plan)};
  for (core::Problem& problem : job.error())
    if (problem.file == name) problem.pointer = "/job" + problem.pointer;
  return tl::unexpected(job.error());
}

core::Result<report::Compared> read_side(const std::string& name, const CompareOptions& options, const survey::Catalogue& catalogue) {
  if (const std::string text = text_of(name); const auto plan = as_plan(text)) return read_plan(name, text, *plan, options, catalogue);
  auto job = survey::read_job(name, roots_of(options), options.shapes, catalogue);
  if (!job) return tl::unexpected(job.error());
  return report::Compared{name, std::move(*job), {}};
}

/// @return what does not hold in our own plan; nothing when all does
std::optional<std::string> plan_side(report::Compared& side, const CompareOptions& options, const survey::Catalogue& catalogue) {
  if (side.made) return {};
  const plan::Plan plan = plan::make_plan(side.job, catalogue, SlowProgress(options.quiet), &stop_asked);
  const Json json = report::plan_to_json(side.job, plan);
  if (const auto wrong = own_check(json.dump(2) + "\n")) return wrong;
  side.made = report::made_of(json);
  return {};
}

/// Writes a job whose boxes go into both cars.
core::Result<std::monostate> write_common(const report::Compared& first, const report::Compared& second, const CompareOptions& options) {
  const differences::CommonJob common = differences::common_job(first.job, second.job);
  core::Problems problems;
  for (const std::string& why : common.why_not)
    problems.push_back({"E255", options.other, "", "no common cavity", why, "cavities of one name that share space, measured across one axis, with \"between\": \"common\"",
                        "two short jobs based on these can say so; what lies only between sections is then left out"});
  if (!problems.empty()) return tl::unexpected(problems);
  auto written = report::write_file(options.common, report::job_to_json(common.job).dump(2) + "\n");
  if (written && !options.quiet)
    for (const std::string& remark : common.remarks) fmt::print(stderr, "{}\n", remark);
  return written;
}

int tell(const report::Comparison& comparison, const CompareOptions& options) {
  if (!options.out.empty()) {
    const auto written = report::write_files(options.out, report::comparison_files(comparison));
    if (!written) return refuse(written.error());
  }
  if (options.json)
    std::fputs((report::to_json(comparison).dump(2) + "\n").c_str(), stdout);
  else if (!options.quiet)
    std::fputs(report::to_text(comparison).c_str(), stdout);
  return comparison.same() ? all_hold : some_fail;
}

int run_compare(const CompareOptions& options) {
  const auto catalogue = survey::read_catalogue(options.shapes);
  if (!catalogue) return refuse(catalogue.error());
  auto first = read_side(options.file, options, *catalogue), second = read_side(options.other, options, *catalogue);
  core::Problems problems;
  for (const auto* side : {&first, &second})
    if (!*side) problems.insert(problems.end(), side->error().begin(), side->error().end());
  if (!problems.empty()) return refuse(problems);
  if (options.plan)
    for (auto* side : {&*first, &*second})
      if (const auto wrong = plan_side(*side, options, *catalogue)) return fault(*wrong);
  if (!options.common.empty())
    if (const auto written = write_common(*first, *second, options); !written) return refuse(written.error());
  return tell(report::compare(*first, *second, *catalogue, core::Length::from_mm(options.longest_slot_mm)), options);
}

}  // namespace

Command compare_command(CLI::App& app) {
  const auto options = std::make_shared<CompareOptions>();
  CLI::App* compare = app.add_subcommand("compare", "What differs between two cars or two revisions: holes, walls, rules, boxes and parts");
  compare->add_option("A", options->file, "Job or plan file: the first")->required();
  compare->add_option("B", options->other, "Job or plan file: the second")->required();
  compare->add_option("--out", options->out, "Folder for a page and the tables; made when missing");
  compare->add_flag("--plan", options->plan, "Plan each job first, so that boxes and parts can be compared");
  compare->add_option("--longest-slot", options->longest_slot_mm, "Longest slot, mm, that may serve both cars [30]")->check(CLI::Range(5.0, 100.0));
  compare->add_option("--common-job", options->common, "Job file to write, whose boxes go into both cars");
  add_roots(compare, *options);
  compare->add_option("--shapes", options->shapes, "Folder with the shipped tables and cells");
  add_common(compare, *options);
  compare->footer("Exit status: 0 nothing differs; 1 something differs; 2 bad input or usage; 3 a fault of the program.");
  return {compare, [options] { return run_compare(*options); }};
}

}  // namespace cellstow::cli
