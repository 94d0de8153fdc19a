#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "checks.hpp"

namespace cellstow::audit {
namespace {

// Masses in a plan are rounded to a gram; 10 g covers three of them and the rounding of a centre of gravity.
constexpr double kg_rounding = 0.01;
constexpr double share_rounding = 1e-4;
constexpr double use_rounding = 0.006;     // a use printed with two decimals
constexpr double value_rounding = 1e-6;    // values and limits are printed with six decimals

void compare_counts(const std::string& where, const char* what, int found, int wanted, Findings& findings) {
  findings.looked_at(Rule::counts);
  if (found != wanted) findings.violated(Rule::counts, where, fmt::format("{}: {} given, {} counted", what, found, wanted));
}

int cells_in(const CavityPlan& cavity) {
  int cells = 0;
  for (const Box& box : cavity.boxes) cells += static_cast<int>(box.cells.size());
  return cells;
}

void check_bound(const CavityPlan& cavity, Findings& findings) {
  if (!cavity.bound) {
    findings.not_checked(cavity.name + ": no bound is given");
    return;
  }
  findings.looked_at(Rule::bound);
  const int most = cavity.most_cells.value_or(cavity.cells);
  if (cavity.cells > most) {
    findings.violated(Rule::bound, cavity.name, fmt::format("{} cells, though it is said to hold {} at most", cavity.cells, most));
  }
  if (std::max(cavity.cells, most) > *cavity.bound) {
    findings.violated(Rule::bound, cavity.name, fmt::format("{} cells, more than the bound of {}", std::max(cavity.cells, most), *cavity.bound));
  }
  if (cavity.proven.value_or(false) && most != *cavity.bound) {
    findings.violated(Rule::bound, cavity.name, fmt::format("called proven with {} cells and a bound of {}", most, *cavity.bound));
  }
}

void check_wanted(const Plan& plan, const CavityPlan& cavity, Findings& findings) {
  const std::optional<CellsWanted>& wanted = plan.job_cavities[static_cast<std::size_t>(cavity.job_index)].wanted;
  if (!wanted) return;
  findings.looked_at(Rule::wanted);
  if (cavity.cells >= wanted->min && cavity.cells <= wanted->max) return;
  if (failing_check_mentions(plan, cavity.name)) return;
  findings.violated(Rule::wanted, cavity.name,
                    fmt::format("{} cells, {} to {} wanted, and no failing check says so", cavity.cells, wanted->min, wanted->max));
}

// ---- balance -----------------------------------------------------------------

struct Sum { const char* what; std::optional<double> whole, left, right; };

void check_sum(const LoadState& state, const Sum& sum, Findings& findings) {
  if (!sum.whole || !sum.left || !sum.right) return;
  findings.looked_at(Rule::balance_sums);
  const double off = *sum.left + *sum.right - *sum.whole;
  if (std::abs(off) <= kg_rounding) return;
  findings.violated(Rule::balance_sums, state.name,
                    fmt::format("{}: {:.3f} kg and {:.3f} kg against {:.3f} kg, {:.3f} kg off", sum.what, *sum.left,
                                *sum.right, *sum.whole, std::abs(off)));
}

struct Share { const char* what; std::optional<double> share, part; };

void check_share(const LoadState& state, const Share& share, Findings& findings) {
  if (!share.share || !share.part || !state.total || *state.total <= 0) return;
  findings.looked_at(Rule::balance_sums);
  const double wanted = *share.part / *state.total;
  if (std::abs(*share.share - wanted) <= share_rounding) return;
  findings.violated(Rule::balance_sums, state.name,
                    fmt::format("{}: {:.4f} given, the masses give {:.4f}", share.what, *share.share, wanted));
}

std::optional<double> sum_of(std::optional<double> left, std::optional<double> right) {
  return left && right ? std::optional<double>(*left + *right) : std::nullopt;
}

/// Moments about the rear axle of a car standing level: front = total (wheelbase - x) / wheelbase.
void check_moments(const Plan& plan, const LoadState& state, Findings& findings) {
  if (!plan.wheelbase_mm || *plan.wheelbase_mm <= 0 || !state.total || !state.front || !state.cg_x_mm) return;
  findings.looked_at(Rule::balance_moments);
  const double wanted = *state.total - *state.total * *state.cg_x_mm / *plan.wheelbase_mm;
  if (std::abs(*state.front - wanted) <= kg_rounding) return;
  findings.violated(Rule::balance_moments, state.name,
                    fmt::format("front axle {:.3f} kg, the centre of gravity gives {:.3f} kg: {:.3f} kg off", *state.front,
                                wanted, std::abs(*state.front - wanted)));
}

// ---- checks --------------------------------------------------------------------

double share_of(double part, double whole) {
  if (whole > 0) return part / whole;
  return part > 0 ? std::numeric_limits<double>::max() : 0.0;
}

bool close(double use, double wanted) { return std::abs(use - wanted) <= use_rounding * std::max(1.0, std::abs(wanted)); }

/// The plan file does not say whether a limit is a greatest or a least value; the use tells. Where it
/// fits both ways, either verdict that one of them gives is accepted; where value and limit are the same as
/// printed, both are.
std::string told_wrong(const CheckLine& line) {
  const bool at_most_fits = !line.use || close(*line.use, share_of(line.value, line.limit));
  const bool at_least_fits = !line.use || close(*line.use, share_of(line.limit, line.value));
  // Of a number of things that falls short a ratio would be endless at none: 1 and the share that is missing stands for it.
  if (!line.ok && line.limit > 0 && line.value < line.limit && line.use && close(*line.use, 1 + (line.limit - line.value) / line.limit)) return {};
  if (!at_most_fits && !at_least_fits) {
    return fmt::format("use {:.3f} fits neither {:.3f} over {:.3f} nor the other way round", *line.use, line.value, line.limit);
  }
  if (std::abs(line.value - line.limit) <= value_rounding) return {};
  if (at_most_fits && line.ok == (line.value <= line.limit)) return {};
  if (at_least_fits && line.ok == (line.value >= line.limit)) return {};
  return fmt::format("{} with value {:.3f} and limit {:.3f}", line.ok ? "called met" : "called not met", line.value, line.limit);
}

}  // namespace

bool failing_check_mentions(const Plan& plan, const std::string& words) {
  if (!plan.checks) return false;
  return std::any_of(plan.checks->begin(), plan.checks->end(), [&](const CheckLine& line) {
    return !line.ok && (line.name + " " + line.where + " " + line.cure).find(words) != std::string::npos;
  });
}

void check_counts(const Plan& plan, Findings& findings) {
  int cells = 0, boxes = 0;
  for (const CavityPlan& cavity : plan.cavities) {
    compare_counts(cavity.name, "cells", cavity.cells, cells_in(cavity), findings);
    check_bound(cavity, findings);
    check_wanted(plan, cavity, findings);
    cells += cavity.cells;
    boxes += static_cast<int>(cavity.boxes.size());
  }
  if (plan.totals.cells) compare_counts("totals", "cells", *plan.totals.cells, cells, findings);
  if (plan.totals.boxes) compare_counts("totals", "boxes", *plan.totals.boxes, boxes, findings);
}

void check_string(const Plan& plan, Findings& findings) {
  const Totals& totals = plan.totals;
  if (!plan.has_string || !totals.cells || !totals.series || !totals.parallel || *totals.series == 0) {
    findings.not_checked("string: none in the job or none in the totals");
    return;
  }
  findings.looked_at(Rule::string);
  const long long used = 1LL * *totals.series * *totals.parallel;
  long long places = 0;
  for (const CavityPlan& cavity : plan.cavities) places += cavity.most_cells.value_or(cavity.cells);
  const int spare = totals.spare_places.value_or(0);
  if (used > *totals.cells || used + spare != places) {
    findings.violated(Rule::string, "totals",
                      fmt::format("{} in series x {} in parallel and {} spare places; {} cells are placed, there are {} places",
                                  *totals.series, *totals.parallel, spare, *totals.cells, places));
  }
  if (*totals.parallel != plan.wanted_parallel) {
    findings.violated(Rule::string, "totals", fmt::format("{} in parallel, the job asks for {}", *totals.parallel, plan.wanted_parallel));
  }
  if (plan.wanted_series && *plan.wanted_series != *totals.series && !failing_check_mentions(plan, "string")) {
    findings.violated(Rule::string, "totals",
                      fmt::format("{} in series, the job asks for {}, and no failing check says so", *totals.series, *plan.wanted_series));
  }
}

void check_balance(const Plan& plan, Findings& findings) {
  if (plan.balance.empty()) findings.not_checked("balance: not in the plan");
  for (const LoadState& state : plan.balance) {
    const Sum sums[] = {{"axles against total", state.total, state.front, state.rear},
                        {"front wheels against axle", state.front, state.front_left, state.front_right},
                        {"rear wheels against axle", state.rear, state.rear_left, state.rear_right}};
    for (const Sum& sum : sums) check_sum(state, sum, findings);
    const Share shares[] = {{"front share", state.front_share, state.front},
                            {"left share", state.left_share, sum_of(state.front_left, state.rear_left)},
                            {"cross share", state.cross_share, sum_of(state.front_left, state.rear_right)}};
    for (const Share& share : shares) check_share(state, share, findings);
    check_moments(plan, state, findings);
  }
}

void check_checks(const Plan& plan, Findings& findings) {
  if (!plan.checks) {
    findings.not_checked("design checks: not in the plan");
    return;
  }
  for (const CheckLine& line : *plan.checks) {
    findings.looked_at(Rule::checks_true);
    const std::string wrong = told_wrong(line);
    if (!wrong.empty()) findings.violated(Rule::checks_true, line.where.empty() ? line.name : line.name + ", " + line.where, wrong);
  }
}

}  // namespace cellstow::audit
