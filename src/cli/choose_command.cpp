#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>

#include "cellstow/choosing/choose.hpp"
#include "cellstow/core/side_by_side.hpp"
#include "cellstow/report/choice.hpp"
#include "cellstow/report/write.hpp"
#include "cellstow/survey/change_limits.hpp"
#include "cellstow/survey/read_cells.hpp"
#include "command.hpp"
#include "folder_store.hpp"

namespace cellstow::cli {
namespace {

struct ChooseArguments : Options {
  std::vector<std::string> cells;
  std::string costs, keep;
  int cores = 0, most_parallel = 4;
  bool each_stance = false;
};

struct ChooseInput {
  Input read;
  std::vector<choosing::Format> formats;
  std::vector<survey::ChangeLimit> change_limits;
};

/// A cost for a cell that is not compared is a slip of the pen more often than not.
void match_costs(const std::string& file, const std::map<std::string, double>& costs, std::vector<choosing::Format>& formats, core::Problems& problems) {
  for (const auto& [name, cost] : costs) {
    const auto found = std::find_if(formats.begin(), formats.end(), [&](const choosing::Format& format) { return format.cell.name == name; });
    if (found != formats.end()) {
      found->cost_each = cost;
    } else {
      problems.push_back({"E407", file, "", "line of costs does not read", "\"" + name + "\", which is not one of the cells compared", "the name of a cell as its file has it", ""});
    }
  }
}

void append(core::Problems& all, const core::Problems& more) { all.insert(all.end(), more.begin(), more.end()); }

/// Everything the command reads, or every problem of all of it.
core::Result<ChooseInput> read_all(const ChooseArguments& arguments) {
  auto input = read(arguments);
  if (!input) return tl::unexpected(input.error());
  core::Problems problems;
  std::vector<std::filesystem::path> named(arguments.cells.begin(), arguments.cells.end());
  if (named.empty()) named.push_back(std::filesystem::path(arguments.shapes) / "cells");
  std::vector<choosing::Format> formats;
  if (const auto cells = survey::read_cells(named, input->catalogue)) {
    for (const survey::CellFile& one : *cells) formats.push_back({one.cell, {}});
  } else {
    append(problems, cells.error());
  }
  if (!arguments.costs.empty()) {
    const auto costs = survey::read_costs(arguments.costs);
    if (!costs) append(problems, costs.error());
    if (costs && problems.empty()) match_costs(arguments.costs, *costs, formats, problems);
  }
  auto limits = survey::read_change_limits(arguments.shapes);
  if (!limits) append(problems, limits.error());
  if (problems.empty() && !arguments.keep.empty()) {
    if (const auto ready = FolderStore::prepare(arguments.keep); !ready) append(problems, ready.error());
  }
  if (!problems.empty()) return tl::unexpected(std::move(problems));
  return ChooseInput{std::move(*input), std::move(formats), std::move(*limits)};
}

int run_choose(const ChooseArguments& arguments) {
  const auto input = read_all(arguments);
  if (!input) return refuse(input.error());
  const survey::Job& job = input->read.job;
  std::optional<FolderStore> store;
  if (!arguments.keep.empty()) store.emplace(arguments.keep, job, input->formats);
  choosing::ChooseOptions options;
  options.most_parallel = arguments.most_parallel;
  options.each_stance = arguments.each_stance;
  choosing::Running running;
  running.cores = arguments.cores > 0 ? arguments.cores : static_cast<int>(core::all_cores());
  running.store = store ? &*store : nullptr;
  running.tell = SlowProgress(arguments.quiet);
  running.stop = &stop_asked;
  const choosing::Choice choice = choosing::choose(job, input->formats, input->change_limits, options, running);
  const auto written = report::write_files(arguments.out, report::choice_files(job, input->formats, choice));
  if (!written) return refuse(written.error());
  if (!arguments.quiet) fmt::print(stderr, "{} packings worked out, {} found kept\n", choice.packed, choice.from_store);
  if (arguments.json) {
    fmt::print("{}\n", report::choice_to_json(job, input->formats, choice).dump(2));
  } else if (!arguments.quiet) {
    fmt::print("{}Page: {}\n", report::choice_summary(input->formats, choice), (std::filesystem::path(arguments.out) / "choice.html").string());
  }
  return all_hold;
}

}  // namespace

Command choose_command(CLI::App& app) {
  const auto arguments = std::make_shared<ChooseArguments>();
  CLI::App* choose = app.add_subcommand("choose", "Compares cell formats over all cavities, stances and counts in series: table, pictures, best ones");
  add_job(choose, *arguments);
  choose->add_option("--out", arguments->out, "Folder for the results; made when missing")->required();
  choose->add_option("--cells", arguments->cells, "Cell files, or folders of them [the shipped cells]");
  choose->add_option("--costs", arguments->costs, "What one cell of each name costs: a file of lines cell,cost_each under that heading");
  choose->add_option("--keep", arguments->keep, "Folder in which finished packings are kept, for the next run");
  choose->add_option("--side-by-side", arguments->most_parallel, "Most cells side by side that are tried")->check(CLI::Range(1, 20))->capture_default_str();
  choose->add_flag("--each-stance", arguments->each_stance, "Every stance of every cell alone too, not only of the best ones");
  choose->add_option("--cores", arguments->cores, "Cores to use [all]; the answer is the same")->check(CLI::Range(1, 256));
  return {choose, [arguments] { return run_choose(*arguments); }};
}

}  // namespace cellstow::cli
