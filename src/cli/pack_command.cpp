#include <cstdio>
#include <memory>
#include <nlohmann/json.hpp>

#include "cellstow/report/write.hpp"
#include "command.hpp"

namespace cellstow::cli {
namespace {

int run_pack(const Options& options) {
  const auto input = read(options);
  if (!input) return refuse(input.error());
  const plan::Plan plan = plan::make_packing_only(input->job, SlowProgress(options.quiet), &stop_asked);
  const std::string text = report::plan_to_json(input->job, plan).dump(2) + "\n";
  if (const auto wrong = own_check(text)) return fault(*wrong);
  std::fputs(text.c_str(), stdout);
  return status_of(plan);
}

}  // namespace

Command pack_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* pack = app.add_subcommand("pack", "Only the packing: how many cells, and where; plan file on standard output");
  add_job(pack, *options);
  return {pack, [options] { return run_pack(*options); }};
}

}  // namespace cellstow::cli
