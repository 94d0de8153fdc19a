#include "cellstow/choosing/best.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace cellstow::choosing {
namespace {

/// Everything compared, on the steps in which it is compared; smaller is better.
using Figures = std::array<long long, 7>;

/// The whole car's height differs by less than this for reasons of rounding rather than of cells.
constexpr double height_step_mm = 20;

long long in_steps(double value, double step) { return std::llround(value / step); }

Figures figures_of(const Candidate& c, bool with_cost) {
  return {static_cast<long long>(c.breaks.size()),
          -in_steps(c.kwh, 0.1),
          in_steps(c.boxes_kg, 1),
          c.boxes,
          in_steps(c.share_miss_points, 0.1),
          c.cg_height_mm ? in_steps(*c.cg_height_mm, height_step_mm) : 0,
          with_cost && c.cost ? in_steps(*c.cost, 1) : 0};
}

bool beats(const Figures& a, const Figures& b) {
  bool better = false;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i] > b[i]) return false;
    better |= a[i] < b[i];
  }
  return better;
}

/// Of two that beat the same one: the one to name.
bool rather(const Figures& a, const Figures& b) { return a[1] != b[1] ? a[1] < b[1] : a[2] < b[2]; }

std::string counted(long long n, const char* one, const char* many) { return fmt::format("{} {}", n, n == 1 ? one : many); }

void say(std::string& text, const std::string& part) { text += (text.empty() ? "" : ", ") + part; }

}  // namespace

std::string what_it_has_over(const Candidate& better, const Candidate& worse, bool with_cost) {
  const Figures a = figures_of(better, with_cost), b = figures_of(worse, with_cost);
  std::string text;
  if (a[0] < b[0]) say(text, counted(b[0] - a[0], "limit fewer gone past", "limits fewer gone past"));
  say(text, a[1] == b[1] ? "as many kWh" : fmt::format("{:.1f} kWh more", static_cast<double>(b[1] - a[1]) / 10));
  if (a[2] < b[2]) say(text, fmt::format("{} kg lighter", b[2] - a[2]));
  if (a[3] < b[3]) say(text, counted(b[3] - a[3], "box fewer", "boxes fewer"));
  if (a[4] < b[4]) say(text, fmt::format("front share {:.1f} points nearer the target", static_cast<double>(b[4] - a[4]) / 10));
  if (a[5] < b[5]) say(text, fmt::format("centre of gravity {} mm lower", std::llround(*worse.cg_height_mm - *better.cg_height_mm)));
  if (a[6] < b[6]) say(text, fmt::format("{} cheaper", b[6] - a[6]));
  return text;
}

void mark_best(std::vector<Candidate>& candidates) {
  const bool with_cost = std::all_of(candidates.begin(), candidates.end(), [](const Candidate& c) { return c.cost.has_value(); });
  std::vector<Figures> figures;
  for (const Candidate& candidate : candidates) figures.push_back(figures_of(candidate, with_cost));
  const auto beaten = [&](std::size_t i) {
    for (std::size_t j = 0; j < candidates.size(); ++j) {
      if (candidates[j].fullest && beats(figures[j], figures[i])) return true;
    }
    return false;
  };
  for (std::size_t i = 0; i < candidates.size(); ++i) candidates[i].standing = candidates[i].fullest && !beaten(i) ? Standing::best : Standing::fewer;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    if (candidates[i].standing == Standing::best) continue;
    std::optional<std::size_t> named;
    for (std::size_t j = 0; j < candidates.size(); ++j) {
      if (candidates[j].standing == Standing::best && beats(figures[j], figures[i]) && (!named || rather(figures[j], figures[*named]))) named = j;
    }
    if (!named) continue;  // only for what is not the fullest: following what beats a fullest one always ends at a best one
    candidates[i].standing = Standing::beaten;
    candidates[i].beaten_by = *named;
    candidates[i].beaten_how = what_it_has_over(candidates[*named], candidates[i], with_cost);
  }
}

}  // namespace cellstow::choosing
