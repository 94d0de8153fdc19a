#include "findings.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cellstow::audit {
namespace {

constexpr const char* names[] = {
    "",
    "box outline is a proper shape",
    "clearance sideways",
    "clearance below",
    "clearance above",
    "clearance to keep-outs",
    "kind of box outline",
    "number of boxes",
    "boxes clear of each other",
    "contents inside the walls",
    "contents above floor and liner",
    "headroom under the lid",
    "corner relief",
    "every fitting has a place",
    "fittings clear of blocks and of each other",
    "main fuse within reach",
    "stance of cells",
    "size of a block",
    "cells in line in their block",
    "cells in a block",
    "gap between blocks",
    "tiers",
    "rows",
    "cells clear of each other",
    "counts add up",
    "bound",
    "cells wanted",
    "string",
    "balance adds up",
    "balance of moments",
    "checks say what their numbers say",
    "order of the string",
    "posts of the string's cells",
    "links of the string",
    "pieces with the removable links out",
};
static_assert(std::size(names) == rule_count + 1, "a rule without a name");
static_assert(static_cast<int>(Rule::piece_volts) == rule_count, "a rule without a number");

}  // namespace

std::string rule_name(Rule rule) {
  const int number = static_cast<int>(rule);
  return fmt::format("R{} {}", number, names[number]);
}

void Findings::violated(Rule rule, std::string where, std::string detail) {
  violations_.push_back({rule, {rule_name(rule), std::move(where), std::move(detail)}});
}

void Findings::not_checked(std::string what) {
  if (std::find(not_checked_.begin(), not_checked_.end(), what) == not_checked_.end()) {
    not_checked_.push_back(std::move(what));
  }
}

bool Findings::has(Rule rule) const {
  return std::any_of(violations_.begin(), violations_.end(), [rule](const auto& entry) { return entry.first == rule; });
}

AuditReport Findings::report() const {
  AuditReport out;
  auto sorted = violations_;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const auto& left, const auto& right) { return left.first < right.first; });
  for (auto& [rule, violation] : sorted) out.violations.push_back(std::move(violation));
  for (int number = 1; number <= rule_count; ++number) {
    const int times = looked_[static_cast<std::size_t>(number)];
    if (times == 0) continue;
    out.checked.push_back(fmt::format("{}: looked at {} {}", rule_name(static_cast<Rule>(number)), times,
                                      times == 1 ? "place" : "places"));
  }
  out.not_checked = not_checked_;
  return out;
}

std::string told_mm(double mm) {
  std::string text = fmt::format("{:.3f}", mm);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  if (text == "-0") text = "0";
  if (text == "0" && mm > 0) return "less than 0.001 mm";
  return text + " mm";
}

}  // namespace cellstow::audit
