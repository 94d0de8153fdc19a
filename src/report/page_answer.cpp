#include <algorithm>

#include "report/answer.hpp"
#include "report/html.hpp"
#include "report/page_drawings.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

std::string figure_box(const std::string& value, const std::string& what) {
  return "<div>" + element("b", value) + element("span", what) + "</div>\n";
}

std::string figures(const plan::Plan& plan) {
  const plan::Totals& t = plan.totals;
  std::string out = "<div class=\"answer\">\n" + figure_box(std::to_string(t.cells), t.cells == 1 ? "cell" : "cells");
  if (plan.string) {
    const std::string by = t.parallel > 1 ? " × " + std::to_string(t.parallel) : "";
    out += figure_box(std::to_string(t.series) + by, t.parallel > 1 ? "in series × side by side" : "in series");
    out += figure_box(number(t.nominal_v) + " V", "nominal; " + number(plan.string->min_v) + " to " + number(plan.string->max_v) + " V");
    out += figure_box(number(t.energy_kwh) + " kWh", "in the cells");
  }
  if (t.range_km) out += figure_box(number(*t.range_km, 0) + " km", "about, see the assumptions");
  out += figure_box(std::to_string(t.boxes), t.boxes == 1 ? "box" : "boxes");
  if (t.mass_added_kg > 0) out += figure_box(fixed(t.mass_added_kg) + " kg", "added");
  return out + "</div>\n";
}

/// The others of the same kind, with their values.
std::string others(const Failure& failure) {
  std::string out;
  for (std::size_t i = 1; i < failure.checks.size(); ++i) {
    const core::Check& check = failure.checks[i];
    const ValueAndLimit text = value_and_limit(check);
    out += (out.empty() ? "Also: " : "; ") + check.where + ", " + text.value + (falls_short(check) ? ", needed " : " of ") + amount(text.limit, check.unit);
  }
  return out.empty() ? out : element("p", out + ".");
}

std::string failure_part(const Failure& failure) {
  const core::Check& check = failure.checks.front();
  const ValueAndLimit text = value_and_limit(check);
  std::string out = element("h3", "✗ " + check.name + (check.where.empty() ? "" : ": " + check.where));
  out += element("p", "Comes to " + amount(text.value, check.unit) +
                          (falls_short(check) ? "; needed is at least " + amount(text.limit, check.unit) + "."
                                              : "; the limit is " + amount(text.limit, check.unit) + " (" + text.use + " of it used).")) + others(failure);
  if (!check.cure.empty()) out += element("p", "Cure: " + check.cure, "cure");
  if (!check.source.empty()) out += element("p", "Limit and sum from: " + check.source, "source");
  return out;
}

std::string failures_part(const plan::Plan& plan) {
  const std::vector<Failure> failing = failures(plan);
  if (failing.empty()) {
    // Neither a count that is met nor a size made just so is a measure of how hard a part works.
    const auto worked = std::find_if(plan.checks.begin(), plan.checks.end(),
                                     [](const core::Check& check) { return check.unit != "pieces" && check.unit != "cells" && check.use < 1 - 1e-9; });
    if (worked == plan.checks.end()) return {};
    return "<div class=\"holds\">" +
           element("p", "Of the " + count(static_cast<int>(plan.checks.size()), "check") +
                            " made here, none goes past its limit; the hardest worked is " + worked->name +
                            (worked->where.empty() ? "" : " (" + worked->where + ")") + ", " + value_and_limit(*worked).use +
                            " used. What was not checked stands under Left out and Cautions.") +
           "</div>\n";
  }
  std::string out = "<div class=\"fails\">" + element("h2", "What does not hold: " + count(failing_count(plan), "check"));
  const std::size_t shown = std::min<std::size_t>(failing.size(), 6);
  for (std::size_t i = 0; i < shown; ++i) out += failure_part(failing[i]);
  if (shown < failing.size()) out += element("p", "And " + std::to_string(failing.size() - shown) + " more kinds, in the table of checks.");
  return out + "</div>\n";
}

/// Boxes in short; the full table stands with the lists.
std::string short_boxes(const plan::Plan& plan) {
  return html_table(columns(boxes(plan), {0, 1, 2, 3, 6, 7}), {2, 4, 5}, "Boxes, outside length × width × height");
}

std::string short_axles(const survey::Job& job, const plan::Plan& plan) {
  return html_table(columns(weights(job, plan), {0, 2, 3, 1, 8}), {1, 2, 3, 4}, "Axle loads");
}

}  // namespace

std::string page_answer(const survey::Job& job, const plan::Plan& plan) {
  std::string out = "<section>\n" + element("h1", title_of(job));
  out += element("p", "First check for discussion with the certifier. Made by cellstow " CELLSTOW_VERSION " from the measurements in the job file.", "first-check");
  out += figures(plan) + failures_part(plan);
  for (const plan::CavityPlan& cavity : plan.cavities) out += element("p", cavity_sentence(cavity) + ".");
  out += short_boxes(plan) + short_axles(job, plan);
  out += html_list(carrying_sentences(plan));
  if (const std::optional<Drawing> car = car_drawing(job, plan)) out += figure(*car, false);
  return out + "</section>\n";
}

}  // namespace cellstow::report
