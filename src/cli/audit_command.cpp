#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <memory>
#include <nlohmann/json.hpp>

#include "cellstow/audit/audit.hpp"
#include "command.hpp"

namespace cellstow::cli {
namespace {

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

}  // namespace

Command audit_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* audit = app.add_subcommand("audit", "Checks a plan file anew from its own content and lists what does not hold");
  audit->add_option("PLAN", options->file, "Plan file (cellstow-plan/1)")->required();
  add_common(audit, *options);
  return {audit, [options] { return run_audit(*options); }};
}

}  // namespace cellstow::cli
