#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cellstow/geometry/segment.hpp"
#include "cellstow/limits/change.hpp"
#include "cellstow/region/free_plan.hpp"
#include "outline_walls.hpp"

namespace cellstow::limits {
namespace {

using survey::Axis;

/// One wall: its run of edges in every section that has it.
struct WallRuns {
  std::vector<std::size_t> sections;
  std::vector<EdgeRun> runs;
  double length_um = 0;              ///< where it is longest
  std::size_t longest = 0;           ///< index into sections and runs
};

constexpr double match_cosine = 0.94;   ///< walls within 20 degrees of each other may be one wall
/// Walls of neighbouring sections farther apart than this are not one wall.
constexpr double match_um = 150'000;

std::vector<std::vector<Loop>> all_loops(const survey::Cavity& cavity) {
  std::vector<std::vector<Loop>> loops;
  for (const survey::Section& section : cavity.sections.at) loops.push_back(loops_of(section));
  return loops;
}

void add_run(WallRuns& wall, std::size_t section, const EdgeRun& run, double length_um) {
  if (wall.runs.empty() || length_um > wall.length_um) {
    wall.length_um = length_um;
    wall.longest = wall.runs.size();
  }
  wall.sections.push_back(section);
  wall.runs.push_back(run);
}

/// Sections with as many corners each: the same run in all of them.
std::vector<WallRuns> matched_by_number(const std::vector<std::vector<Loop>>& sections) {
  std::vector<WallRuns> walls;
  for (const EdgeRun& run : edge_runs(sections[sections.size() / 2])) {
    WallRuns wall;
    for (std::size_t s = 0; s < sections.size(); ++s) add_run(wall, s, run, length_um(sections[s], run));
    walls.push_back(std::move(wall));
  }
  return walls;
}

/// How far apart two runs lie, square to the first; negative when they do not belong together.
double apart_um(const std::vector<Loop>& a, const EdgeRun& run_a, const std::vector<Loop>& b, const EdgeRun& run_b) {
  if (run_a.loop == 0 ? run_b.loop != 0 : run_b.loop == 0) return -1;
  const auto out = outward(a, run_a), other = outward(b, run_b);
  if (out[0] * other[0] + out[1] * other[1] < match_cosine) return -1;
  const auto [a0, a1] = ends(a, run_a);
  const auto [b0, b1] = ends(b, run_b);
  const auto along = [&](PointUm p) { return -out[1] * static_cast<double>(p.s) + out[0] * static_cast<double>(p.t); };
  const auto off = [&](PointUm p) { return out[0] * static_cast<double>(p.s) + out[1] * static_cast<double>(p.t); };
  if (std::max(along(b0), along(b1)) <= std::min(along(a0), along(a1))) return -1;
  if (std::max(along(a0), along(a1)) <= std::min(along(b0), along(b1))) return -1;
  const double apart = std::fabs((off(a0) + off(a1) - off(b0) - off(b1)) / 2);
  return apart <= match_um ? apart : -1;
}

/// Sections with different corners: a run goes on with the nearest like it in the next section.
std::vector<WallRuns> matched_by_place(const std::vector<std::vector<Loop>>& sections) {
  std::vector<WallRuns> walls;
  for (std::size_t s = 0; s < sections.size(); ++s) {
    for (const EdgeRun& run : edge_runs(sections[s])) {
      WallRuns* nearest = nullptr;
      double least = 0;
      for (WallRuns& wall : walls) {
        if (wall.sections.back() + 1 != s) continue;
        const double apart = apart_um(sections[s - 1], wall.runs.back(), sections[s], run);
        if (apart < 0 || (nearest != nullptr && apart >= least)) continue;
        nearest = &wall;
        least = apart;
      }
      if (nearest == nullptr) nearest = &walls.emplace_back();
      add_run(*nearest, s, run, length_um(sections[s], run));
    }
  }
  return walls;
}

/// The corner rule must be the same in all sections where these are read straight: their corners stay matched.
Meeting common_meeting(const std::vector<Meeting>& meetings, bool& possible) {
  const bool same = std::all_of(meetings.begin(), meetings.end(), [&](Meeting m) { return m == meetings[0]; });
  if (same) return meetings[0];
  possible = std::none_of(meetings.begin(), meetings.end(), [](Meeting m) { return m == Meeting::taken_down; });
  return Meeting::pocket;
}

void put_loops(const std::vector<Loop>& loops, survey::Section& section) {
  const auto points = [](const Loop& loop) {
    std::vector<survey::Point2> result;
    for (const PointUm& p : loop) result.push_back({Length::from_um(p.s), Length::from_um(p.t)});
    return result;
  };
  section.outline = points(loops[0]);
  for (std::size_t h = 0; h + 1 < loops.size(); ++h) section.holes[h] = points(loops[h + 1]);
}

/// The wall pushed out in all its sections at once.
struct Push {
  WallRuns wall;
  bool matched = false;              ///< the corners of all sections must stay matched

  std::optional<survey::Cavity> operator()(const survey::Cavity& cavity, Um by) const {
    std::vector<std::vector<Loop>> loops;
    std::vector<Meeting> before, after;
    std::vector<std::array<double, 2>> outs;
    for (std::size_t i = 0; i < wall.runs.size(); ++i) {
      loops.push_back(loops_of(cavity.sections.at[wall.sections[i]]));
      outs.push_back(outward(loops[i], wall.runs[i]));
      before.push_back(meeting_before(loops[i], wall.runs[i], outs[i]));
      after.push_back(meeting_after(loops[i], wall.runs[i], outs[i]));
    }
    bool possible = true;
    if (matched) {
      before.assign(before.size(), common_meeting(before, possible));
      after.assign(after.size(), common_meeting(after, possible));
    }
    if (!possible) return std::nullopt;
    survey::Cavity changed = cavity;
    for (std::size_t i = 0; i < wall.runs.size(); ++i) {
      const auto pushed = pushed_out(loops[i], wall.runs[i], outs[i], before[i], after[i], by);
      if (!pushed) return std::nullopt;
      put_loops(*pushed, changed.sections.at[wall.sections[i]]);
    }
    return changed;
  }
};

/// Farthest a wall can be pushed, at most farthest_um, to 0.1 mm; nothing when it cannot be.
Um reach_of(const Push& push, const survey::Cavity& cavity) {
  if (push(cavity, farthest_um)) return farthest_um;
  Um low = 0, high = farthest_um / 100;
  while (high - low > 1) {
    const Um middle = (low + high) / 2;
    (push(cavity, middle * 100) ? low : high) = middle;
  }
  return low * 100;
}

// ---- words -------------------------------------------------------------------

/// Which way the free space ends there: "rear", "left", "roof"; two of them where a wall looks askew.
std::string side_word(Axis across, std::array<double, 2> out) {
  static const char* const sides[3][2] = {{"front", "rear"}, {"left", "right"}, {"floor", "roof"}};
  const int a = across == Axis::x ? 1 : 0, b = across == Axis::z ? 1 : 2;
  const std::string along_a = sides[a][out[0] > 0], along_b = sides[b][out[1] > 0];
  if (std::fabs(out[1]) < 0.38 * std::fabs(out[0])) return along_a;
  if (std::fabs(out[0]) < 0.38 * std::fabs(out[1])) return along_b;
  return b == 2 ? along_b + ", sloping to the " + along_a : along_a + " " + along_b;
}

std::string wall_name(Axis across, std::array<double, 2> out, bool hole) {
  const std::string side = side_word(across, out);
  const bool level = side.starts_with("floor") || side.starts_with("roof");
  if (hole) return "island in the section, its side towards you at the " + side;
  return level ? "cavity " + side : side + " wall";
}

std::string point_text(Axis across, PointUm p) {
  const char* const names[3][2] = {{"y", "z"}, {"x", "z"}, {"x", "y"}};
  const auto& name = names[static_cast<int>(across)];
  return fmt::format("{} {:.0f} {} {:.0f}", name[0], static_cast<double>(p.s) / 1000, name[1],
                     static_cast<double>(p.t) / 1000);
}

const char* axis_word(Axis axis) {
  return axis == Axis::x ? "x" : axis == Axis::y ? "y" : "z";
}

Change wall_change(const survey::Cavity& cavity, const Push& push, Um reach) {
  const std::size_t section = push.wall.sections[push.wall.longest];
  const EdgeRun& run = push.wall.runs[push.wall.longest];
  const std::vector<Loop> loops = loops_of(cavity.sections.at[section]);
  const Axis across = cavity.sections.across;
  Change change;
  change.kind = ChangeKind::wall;
  change.what = wall_name(across, outward(loops, run), run.loop > 0);
  const auto [from, to] = ends(loops, run);
  change.where = fmt::format("from {} to {}, at station {} {:.0f}", point_text(across, from), point_text(across, to),
                             axis_word(across), cavity.sections.at[section].station.mm());
  change.lowers_floor = change.what.starts_with("cavity floor");
  change.how = run.loop > 0 ? "cut back" : change.lowers_floor ? "lower" : change.what.starts_with("cavity roof") ? "higher" : "further out";
  change.largest = Length::from_um(reach);
  change.apply = [push](const Situation& as_is, Length by) {
    return Situation{push(as_is.cavity, by.um()).value_or(as_is.cavity), as_is.rules};
  };
  return change;
}

Change station_change(const survey::Cavity& cavity, bool last) {
  static const char* const names[3][2] = {{"front end of the cavity", "rear end of the cavity"},
                                          {"left end of the cavity", "right end of the cavity"},
                                          {"cavity floor", "cavity roof"}};
  const Axis across = cavity.sections.across;
  Change change;
  change.kind = ChangeKind::wall;
  change.what = names[static_cast<int>(across)][last];
  const survey::Section& section = last ? cavity.sections.at.back() : cavity.sections.at.front();
  change.where = fmt::format("at station {} {:.0f}", axis_word(across), section.station.mm());
  change.lowers_floor = across == Axis::z && !last;
  change.how = across == Axis::z ? (last ? "higher" : "lower") : "further out";
  change.largest = Length::from_um(farthest_um);
  change.apply = [last](const Situation& as_is, Length by) {
    Situation changed = as_is;
    auto& at = changed.cavity.sections.at;
    (last ? at.back() : at.front()).station = last ? at.back().station + by : at.front().station - by;
    return changed;
  };
  return change;
}

}  // namespace

std::vector<Change> wall_changes(const survey::Cavity& cavity) {
  const std::vector<std::vector<Loop>> sections = all_loops(cavity);
  const bool matched = region::can_read_straight(cavity.sections);
  std::vector<WallRuns> walls = matched ? matched_by_number(sections) : matched_by_place(sections);
  std::stable_sort(walls.begin(), walls.end(),
                   [](const WallRuns& a, const WallRuns& b) { return a.length_um > b.length_um; });
  std::vector<Change> changes{station_change(cavity, false), station_change(cavity, true)};
  for (const WallRuns& wall : walls) {
    const Push push{wall, matched && cavity.sections.between == survey::Between::straight};
    const Um reach = reach_of(push, cavity);
    if (reach > 0) changes.push_back(wall_change(cavity, push, reach));
  }
  return changes;
}

}  // namespace cellstow::limits
