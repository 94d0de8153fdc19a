#include <algorithm>
#include <map>

#include "report/html.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr std::size_t most_checks = 60;

/// Checks with their sources as numbers, and the numbered sources below.
std::string checks_part(const plan::Plan& plan) {
  if (plan.checks.empty()) return {};
  std::vector<std::string> sources;
  Table out{{"holds", "check", "where", "value", "limit", "unit", "used", "source"}, {}};
  const Table all = checks(plan);
  const auto failing = static_cast<std::size_t>(std::count_if(plan.checks.begin(), plan.checks.end(), [](const core::Check& c) { return !c.ok; }));
  const std::size_t shown = std::min(all.rows.size(), std::max(most_checks, failing));
  for (std::size_t i = 0; i < shown; ++i) {
    const auto& row = all.rows[i];
    auto found = std::find(sources.begin(), sources.end(), row[7]);
    if (found == sources.end()) found = sources.insert(sources.end(), row[7]);
    const std::string note = row[7].empty() ? "" : "[" + std::to_string(found - sources.begin() + 1) + "]";
    out.rows.push_back({row[0], row[1], row[2], row[3], row[4], row[5], row[6], note});
  }
  std::string text = html_table(out, {3, 4, 6}, "Checks, worst first");
  if (shown < all.rows.size()) {
    text += element("p", "And " + std::to_string(all.rows.size() - shown) + " more, none above " + all.rows[shown][6] +
                             " of its limit; all of them stand in lists/checks.csv.");
  }
  text += element("h3", "Sources") + "<ol>\n";
  for (const std::string& source : sources) text += element("li", source.empty() ? "none given" : source);
  return text + "</ol>\n";
}

Table without_empty_columns(Table table) {
  for (std::size_t c = table.head.size(); c-- > 0;) {
    const bool empty = std::all_of(table.rows.begin(), table.rows.end(), [c](const auto& row) { return row[c].empty(); });
    if (!empty || table.rows.empty()) continue;
    const auto drop = [c](std::vector<std::string>& row) { row.erase(row.begin() + static_cast<std::ptrdiff_t>(c)); };
    drop(table.head);
    std::for_each(table.rows.begin(), table.rows.end(), drop);
  }
  return table;
}

std::vector<std::string> runners_up(const plan::Plan& plan) {
  std::vector<std::string> out;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const restraint::Strap& strap : box.straps.straps) {
        if (!strap.runner_up.empty()) out.push_back(strap.mark + ", why not the next thinner: " + strap.runner_up);
      }
    }
  }
  return out;
}

Table strap_table(const plan::Plan& plan) {
  Table out{{"mark", "off", "bar", "material", "cut length mm", "leg pull N", "worst case", "rises mm"}, {}};
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const restraint::Strap& s : box.straps.straps) {
        out.rows.push_back({s.mark, std::to_string(s.quantity), mm_text(s.width) + " × " + mm_text(s.thickness), s.material,
                            mm_text(s.cut_length), fixed(s.leg_tension.value(), 0), s.worst_case, mm_text(s.sag)});
      }
    }
  }
  return out;
}

std::string heading(const survey::Job& job, const char* text) {
  return std::string("<section class=\"part\">\n<h2>") + text + "<small>" + escape_markup(title_of(job)) + "</small></h2>\n";
}

}  // namespace

std::string page_lists(const survey::Job& job, const plan::Plan& plan) {
  std::string out = heading(job, "Boxes and cut list");
  out += "<div class=\"wide\">" + html_table(boxes(plan), {2, 5, 6, 7}, "Boxes, length × width × height") + "</div>\n";
  out += "<div class=\"wide\">" + html_table(cut_list(plan), {2, 4, 5, 6, 7}, "Flat parts and bars, finished sizes; cut files in the folder cut") + "</div>\n";
  out += html_table(strap_table(plan), {1, 4, 5, 7}, "Straps") + html_list(runners_up(plan)) + "</section>\n";
  const Table holes = hole_schedule(job, plan);
  if (!holes.rows.empty()) {
    out += heading(job, "The car's own fixings");
    out += "<div class=\"wide\">" + html_table(without_empty_columns(holes), {2, 3, 4, 8, 11, 12, 13}) + "</div>\n</section>\n";
  }
  if (!plan.checks.empty()) out += heading(job, "Checks") + checks_part(plan) + "</section>\n";
  return out;
}

}  // namespace cellstow::report
