#include <fmt/format.h>

#include <cstdio>
#include <memory>
#include <nlohmann/json.hpp>

#include "cellstow/choosing/rough.hpp"
#include "cellstow/report/choice.hpp"
#include "cellstow/survey/read_cells.hpp"
#include "command.hpp"

namespace cellstow::cli {
namespace {

using choosing::Band;
using choosing::RoughRule;

struct RoughArguments : Options {
  std::string range, consumption, car, out_mass, gross;
  std::vector<double> controller_v;
  double litres = 0;
  std::vector<std::string> cells;
  choosing::RoughRules rules;
  std::vector<std::pair<RoughRule*, std::shared_ptr<std::vector<double>>>> given;
};

/// One option a rule: one figure, or a band of two.
void add_rule(CLI::App* command, RoughArguments& arguments, RoughRule& rule, double most) {
  auto values = std::make_shared<std::vector<double>>();
  const std::string standard = rule.value.low == rule.value.high ? fmt::format("{}", rule.value.low) : fmt::format("{} {}", rule.value.low, rule.value.high);
  command->add_option("--" + rule.key, *values, fmt::format("{}, {}: one figure or a band [{}]", rule.what, rule.unit, standard))->expected(1, 2)->check(CLI::Range(0.0, most));
  arguments.given.emplace_back(&rule, values);
}

core::Problem unfit(const std::string& option, const std::string& found, const std::string& expected) {
  return {"E405", "command line", option, "amount does not read", found, expected, ""};
}

void take_rules(RoughArguments& arguments, core::Problems& problems) {
  for (auto& [rule, values] : arguments.given) {
    if (values->empty()) continue;
    const Band band{values->front(), values->back()};
    if (band.low > band.high) problems.push_back(unfit("--" + rule->key, fmt::format("{} {}", band.low, band.high), "the lower figure first"));
    if (rule == &arguments.rules.usable && band.low <= 0) problems.push_back(unfit("--" + rule->key, fmt::format("{}", band.low), "more than 0"));
    rule->value = band;
    rule->given = true;
  }
}

double take(const core::Result<double>& amount, core::Problems& problems) {
  if (amount) return *amount;
  problems.insert(problems.end(), amount.error().begin(), amount.error().end());
  return 0;
}

core::Result<choosing::RoughInput> input_of(RoughArguments& arguments) {
  using survey::Amount;
  using survey::read_amount;
  core::Problems problems;
  choosing::RoughInput input;
  input.range_km = take(read_amount(arguments.range, Amount::distance_km, "--range", 2'000), problems);
  input.consumption_wh_per_km = take(read_amount(arguments.consumption, Amount::consumption_wh_per_km, "--consumption", 2'000), problems);
  input.car_kg = take(read_amount(arguments.car, Amount::mass_kg, "--car", 20'000), problems);
  input.out_kg = take(read_amount(arguments.out_mass, Amount::mass_kg, "--out-mass", 20'000), problems);
  input.gross_limit_kg = take(read_amount(arguments.gross, Amount::mass_kg, "--gross", 20'000), problems);
  if (problems.empty() && input.out_kg >= input.car_kg) problems.push_back(unfit("--out-mass", fmt::format("{} kg of a car of {} kg", input.out_kg, input.car_kg), "less than the car's mass"));
  if (!arguments.controller_v.empty()) {
    input.controller = survey::VoltRange{core::Volt::of(arguments.controller_v[0]), core::Volt::of(arguments.controller_v[1])};
    if (arguments.controller_v[0] > arguments.controller_v[1]) problems.push_back(unfit("--controller", fmt::format("{} {}", arguments.controller_v[0], arguments.controller_v[1]), "the lower voltage first"));
  }
  if (arguments.litres > 0) input.cavity_litres = arguments.litres;
  take_rules(arguments, problems);
  if (!problems.empty()) return tl::unexpected(std::move(problems));
  return input;
}

int run_roughly(RoughArguments& arguments) {
  const auto input = input_of(arguments);
  if (!input) return refuse(input.error());
  const auto catalogue = survey::read_catalogue(arguments.shapes);
  if (!catalogue) return refuse(catalogue.error());
  std::vector<std::filesystem::path> named(arguments.cells.begin(), arguments.cells.end());
  if (named.empty()) named.push_back(std::filesystem::path(arguments.shapes) / "cells");
  const auto read = survey::read_cells(named, *catalogue);
  if (!read) return refuse(read.error());
  std::vector<survey::Cell> cells;
  for (const survey::CellFile& one : *read) cells.push_back(one.cell);
  const choosing::RoughAnswer answer = choosing::rough_answer(*input, arguments.rules, cells);
  if (arguments.json) {
    fmt::print("{}\n", report::rough_to_json(*input, arguments.rules, answer).dump(2));
  } else {
    std::fputs(report::rough_text(*input, arguments.rules, answer).c_str(), stdout);
  }
  return all_hold;
}

}  // namespace

Command roughly_command(CLI::App& app) {
  const auto arguments = std::make_shared<RoughArguments>();
  CLI::App* roughly = app.add_subcommand("roughly", "About how many cells a car needs, and whether its plate allows them, before any measuring");
  roughly->add_option("--range", arguments->range, "Wanted range, km, or with its unit: \"62 mi\"")->required();
  roughly->add_option("--consumption", arguments->consumption, "Energy use, Wh/km, or with its unit; 155 to 190 for a small older car")->required();
  roughly->add_option("--car", arguments->car, "Mass of the car as it came, full tank, nobody in it, kg")->required();
  roughly->add_option("--out-mass", arguments->out_mass, "Mass that comes out: engine, tank with fuel, exhaust, radiator, kg")->required();
  roughly->add_option("--gross", arguments->gross, "Gross limit on the plate, kg")->required();
  roughly->add_option("--controller", arguments->controller_v, "Lowest and highest voltage of the motor controller")->expected(2)->check(CLI::Range(1.0, 2000.0));
  roughly->add_option("--litres", arguments->litres, "Litres of the cavities together")->check(CLI::Range(1.0, 10000.0));
  roughly->add_option("--cells", arguments->cells, "Cell files, or folders of them [the shipped cells]");
  roughly->add_option("--shapes", arguments->shapes, "Folder with the shipped tables and cells");
  choosing::RoughRules& rules = arguments->rules;
  for (RoughRule* rule : {&rules.usable, &rules.consumption_scatter, &rules.filling}) add_rule(roughly, *arguments, *rule, 1);
  add_rule(roughly, *arguments, rules.box_share, 2);
  for (RoughRule* rule : {&rules.cables_kg, &rules.drive_kg, &rules.person_kg}) add_rule(roughly, *arguments, *rule, 2'000);
  roughly->add_flag("--json", arguments->json, "Results on standard output as JSON");
  return {roughly, [arguments] { return run_roughly(*arguments); }};
}

}  // namespace cellstow::cli
