#include "cellstow/report/compare.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/html.hpp"
#include "report/walls_view.hpp"

namespace cellstow::report {
namespace {

using differences::Change;
using differences::ValueDifference;

/// "keep outs: wiper motor: box, mm" as "keep outs: wiper motor".
std::string item_of(const std::string& what) {
  const std::size_t list = what.find(": ");
  if (list == std::string::npos) return {};
  const std::size_t item = what.find(": ", list + 2);
  return item == std::string::npos ? std::string() : what.substr(0, item);
}

/// A named thing that only one job has is told once, not key by key.
std::vector<ValueDifference> whole_items_once(const std::vector<ValueDifference>& all) {
  std::vector<ValueDifference> out;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const ValueDifference& one = all[i];
    if (one.what.ends_with(": name") && one.change != Change::changed) {
      const std::string item = item_of(one.what);
      if (!item.empty()) {
        const bool first = one.change == Change::only_first;
        out.push_back({one.change, one.group, item, first ? "there" : "", first ? "" : "there"});
        continue;
      }
    }
    const bool told = std::any_of(all.begin(), all.end(), [&](const ValueDifference& other) {
      return other.change == one.change && one.change != Change::changed && other.group == one.group && !item_of(one.what).empty() &&
             other.what == item_of(one.what) + ": name";
    });
    if (!told) out.push_back(one);
  }
  return out;
}

/// Cavities of one job only stand as a whole, below.
std::vector<differences::Value> without_lone_cavities(std::vector<differences::Value> values, const std::vector<differences::CavityPair>& pairs) {
  for (const differences::CavityPair& pair : pairs) {
    if (pair.first && pair.second) continue;
    const std::string group = cavity_group((pair.first ? pair.first : pair.second)->name);
    std::erase_if(values, [&](const differences::Value& value) { return value.group == group; });
  }
  return values;
}

void compare_cavities(const std::vector<differences::CavityPair>& pairs, const survey::Rules& rules, const survey::Catalogue& catalogue, Comparison& out) {
  for (const auto& [first, second] : pairs) {
    if (!first || !second) {
      out.values.push_back({first ? Change::only_first : Change::only_second, cavity_group((first ? first : second)->name), "as a whole", first ? "there" : "", first ? "" : "there"});
      continue;
    }
    for (auto& hole : differences::compare_holes(*first, *second)) out.holes.push_back(std::move(hole));
    for (auto& section : differences::compare_sections(*first, *second)) out.sections.push_back(section);
    if (first->sections.across != second->sections.across)
      out.remarks.push_back(first->name + ": the sections of the two were measured across different axes; their walls cannot be set against each other.");
    out.shared.push_back(differences::shared_holes(*first, *second, rules, catalogue.threads, out.longest_slot));
  }
}

}  // namespace

bool Comparison::same() const { return holes.empty() && sections.empty() && values.empty() && (!made || made->empty()); }

Comparison compare(const Compared& first, const Compared& second, const survey::Catalogue& catalogue, core::Length longest_slot) {
  Comparison out;
  out.first = first.name;
  out.second = second.name;
  out.longest_slot = longest_slot;
  const auto pairs = differences::matched(first.job, second.job);
  out.values = whole_items_once(differences::compare_values(without_lone_cavities(values_of(first.job), pairs), without_lone_cavities(values_of(second.job), pairs)));
  survey::Rules rules = first.job.rules;
  rules.car_scatter = std::max(rules.car_scatter, second.job.rules.car_scatter);
  compare_cavities(pairs, rules, catalogue, out);
  out.first_sides = differences::left_right(first.job.cavities);
  out.second_sides = differences::left_right(second.job.cavities);
  for (const Drawing& drawing : wall_drawings(first.job, second.job, out.sections)) out.pictures.push_back(figure(drawing, false));
  if (first.made && second.made) out.made = differences::compare_made(*first.made, *second.made);
  if (first.made.has_value() != second.made.has_value())
    out.remarks.push_back("Only one of the two is a plan: boxes and parts are not compared. Plan the other job first, or compare with --plan.");
  return out;
}

}  // namespace cellstow::report
