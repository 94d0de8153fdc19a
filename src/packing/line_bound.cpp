#include "line_bound.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "parts.hpp"

namespace cellstow::packing {
namespace {

/// Lines this close together are judged by one strip, the best of them: at most this, and a small part of a block.
constexpr Um widest_window_um = 2'000;
constexpr Um windows_a_block = 36;

/// Weights of cells in blocks along x against blocks along y.
constexpr std::array<std::pair<double, double>, 17> weights{{
    {1, 0}, {1, 0.2}, {1, 0.4}, {1, 0.6}, {1, 0.75}, {1, 0.85}, {1, 0.92}, {1, 0.97}, {1, 1},
    {0.97, 1}, {0.92, 1}, {0.85, 1}, {0.75, 1}, {0.6, 1}, {0.4, 1}, {0.2, 1}, {0, 1}}};

/// Right-hand sides, one a pair of weights.
using Limits = std::array<double, weights.size()>;

/// What part of a line can carry: room taken, gap included, and cells per um that the line moves on.
struct Load {
  Um room = 0;
  double along = 0;    ///< by blocks along the line
  double across = 0;   ///< by blocks across it
};

/// Best value by room taken, rising in both.
using Stairs = std::vector<std::pair<Um, double>>;

struct Carried {
  Um least_across = 0;           ///< no block is narrower than this across the line
  std::vector<Load> loads;       ///< single blocks
};

/// Blocks as a line meets them, for every stance.
Carried single_blocks(const Setup& setup, Um gap, const Tier& tier, Um longest_along, Um longest_across) {
  Carried carried{geometry::far_um, {}};
  for (const Stance stance : tier.stances) {
    const BlockRule rule = block_rule(setup.cell, stance, setup.rules);
    const Um pitch = rule.cell_along + rule.between_cells;
    const Um fit = (longest_across - rule.ends + rule.between_cells) / pitch;
    const int most = static_cast<int>(std::min<Um>(rule.max_cells, fit));
    const auto per_um = [&](int cells, Um across) { return cells / static_cast<double>(across + gap); };
    if (most >= rule.min_cells) {
      // Cells per um rise or fall with the count all the way: one of the two ends is best.
      const double densest = std::max(per_um(most, rule.length(most)),
                                      per_um(rule.min_cells, rule.length(rule.min_cells)));
      carried.loads.push_back({rule.breadth + gap, 0, densest});
      carried.least_across = std::min(carried.least_across, rule.length(rule.min_cells));
    }
    if (rule.breadth > longest_across) continue;
    for (int n = rule.min_cells; n <= rule.max_cells && rule.length(n) <= longest_along; ++n) {
      carried.loads.push_back({rule.length(n) + gap, per_um(n, rule.breadth), 0});
      carried.least_across = std::min(carried.least_across, rule.breadth);
      // Two shorter blocks may do where one costs nothing extra; longer ones only repeat that.
      if (rule.min_cells == 1 && rule.ends + gap <= rule.between_cells) break;
    }
  }
  return carried;
}

/// Best value for every room: blocks may be repeated.
Stairs stairs(const Carried& carried, double along_weight, double across_weight, Um longest) {
  std::map<Um, double> best{{0, 0.0}};
  double top = 0;
  for (auto at = best.begin(); at != best.end(); ++at) {
    if (at->second < top) continue;
    top = at->second;
    for (const Load& load : carried.loads) {
      const Um room = at->first + load.room;
      const double value = at->second + along_weight * load.along + across_weight * load.across;
      if (room > longest) continue;
      double& known = best.emplace(room, value).first->second;
      known = std::max(known, value);
    }
  }
  Stairs stairs;
  for (const auto& [room, value] : best) {
    if (stairs.empty() || value > stairs.back().second) stairs.emplace_back(room, value);
  }
  return stairs;
}

double value_at(const Stairs& stairs, Um room) {
  const auto after = std::upper_bound(stairs.begin(), stairs.end(), room,
                                      [](Um r, const auto& step) { return r < step.first; });
  return std::prev(after)->second;
}

void unite(std::vector<SpanUm>& spans) {
  std::sort(spans.begin(), spans.end(), [](const SpanUm& a, const SpanUm& b) { return a.low < b.low; });
  std::vector<SpanUm> united;
  for (const SpanUm& span : spans) {
    if (!united.empty() && span.low <= united.back().high) {
      united.back().high = std::max(united.back().high, span.high);
    } else {
      united.push_back(span);
    }
  }
  spans = std::move(united);
}

/// Lines of one direction: the right-hand sides of their inequalities, one a weight.
class Lines {
 public:
  Lines(const Setup& setup, const std::vector<const region::FreePlan*>& plans, Um gap, const Tier& tier,
        Strips strips, const RunFilter* filter)
      : plans_(plans), filter_(filter), strips_(strips), shell_(setup.content_shell()), gap_(gap),
        extent_(extent_of(plans, strips)),
        along_(extent_of(plans, other(strips)).length() +
               2 * std::max<Um>(0, -setup.content_shell())) {
    carried_ = single_blocks(setup, gap, tier, along_, extent_.length() - 2 * shell_);
    window_ = std::clamp<Um>(carried_.least_across / windows_a_block, 1, widest_window_um);
  }

  Limits limits(bool blocks_along_x_are_along, long long& steps) {
    Limits limits{};
    if (carried_.loads.empty()) return limits;
    std::vector<Stairs> tables;
    for (const auto& [of_x, of_y] : weights) {
      tables.push_back(blocks_along_x_are_along ? stairs(carried_, of_x, of_y, along_ + gap_)
                                                : stairs(carried_, of_y, of_x, along_ + gap_));
    }
    const std::vector<std::vector<SpanUm>> windows = open_windows(steps);
    // A line sees every window that a block met by it, or by the gap behind it, can lie in.
    const auto reach = static_cast<std::size_t>((carried_.least_across + gap_) / window_ + 2);
    std::vector<SpanUm> seen;
    for (std::size_t line = 0; line < windows.size() + reach; ++line) {
      seen.clear();
      for (std::size_t w = line < reach ? 0 : line - reach; w <= line && w < windows.size(); ++w) {
        seen.insert(seen.end(), windows[w].begin(), windows[w].end());
      }
      unite(seen);
      for (const SpanUm& run : seen) {
        for (std::size_t k = 0; k < weights.size(); ++k) {
          limits[k] += window_ * value_at(tables[k], run.length() + gap_);
        }
      }
    }
    return limits;
  }

 private:
  /// Window w: where a block of least breadth with its low edge between w and w + 1 windows up may lie.
  std::vector<std::vector<SpanUm>> open_windows(long long& steps) const {
    std::vector<std::vector<SpanUm>> windows;
    for (Um t = extent_.low + shell_; t + carried_.least_across + shell_ <= extent_.high; t += window_) {
      std::vector<SpanUm> runs, more;
      const Um low = t + window_ - shell_, high = t + carried_.least_across + shell_;
      for (const region::FreePlan* plan : plans_) {
        steps += plan->weight();
        if (low < high) {
          plan->free_spans(strips_, low, high, more);
          if (filter_ != nullptr) {
            std::erase_if(more, [&](const SpanUm& run) { return !filter_->keeps(run, low, high); });
          }
        } else {
          more = {plan->extent(other(strips_))};
        }
        runs.insert(runs.end(), more.begin(), more.end());
      }
      for (SpanUm& run : runs) run = {run.low + shell_, run.high - shell_};
      std::erase_if(runs, [](const SpanUm& run) { return run.high <= run.low; });
      windows.push_back(std::move(runs));
    }
    return windows;
  }

  static SpanUm extent_of(const std::vector<const region::FreePlan*>& plans, Strips strips) {
    SpanUm extent = plans.front()->extent(strips);
    for (const region::FreePlan* plan : plans) {
      extent = {std::min(extent.low, plan->extent(strips).low), std::max(extent.high, plan->extent(strips).high)};
    }
    return extent;
  }

  const std::vector<const region::FreePlan*>& plans_;
  const RunFilter* filter_;
  Strips strips_;
  Um shell_, gap_;
  SpanUm extent_;
  Um along_, window_ = 1;
  Carried carried_;
};

Limits limits_of(const Setup& setup, const std::vector<const region::FreePlan*>& plans, Um gap, const Tier& tier,
                 Strips strips, const RunFilter* filter, long long& steps) {
  return Lines(setup, plans, gap, tier, strips, filter).limits(strips == Strips::along_x, steps);
}

/// Most cells that keep every inequality of both directions of lines.
int most_within(const Limits& x_lines, const Limits& y_lines) {
  // Sums of doubles: a millionth of a cell more than they say, on the safe side.
  constexpr double slack = 1e-6;
  const auto keeps_all = [&](int of_x, int of_y) {
    for (std::size_t k = 0; k < weights.size(); ++k) {
      const double value = weights[k].first * of_x + weights[k].second * of_y;
      if (value > std::min(x_lines[k], y_lines[k]) + slack) return false;
    }
    return true;
  };
  const std::size_t equal = weights.size() / 2;
  const double most = std::min({x_lines[equal], y_lines[equal], 1e6}) + slack;
  for (int cells = static_cast<int>(std::floor(most)); cells > 0; --cells) {
    for (int of_x = 0; of_x <= cells; ++of_x) {
      if (keeps_all(of_x, cells - of_x)) return cells;
    }
  }
  return 0;
}

}  // namespace

int line_bound(const Setup& setup, const region::FreePlan& plan, const Tier& tier, long long& steps) {
  const std::vector<const region::FreePlan*> plans{&plan};
  const Limits x_lines = limits_of(setup, plans, setup.gap, tier, Strips::along_x, nullptr, steps);
  const Limits y_lines = limits_of(setup, plans, setup.gap, tier, Strips::along_y, nullptr, steps);
  int bound = most_within(x_lines, y_lines);
  if (setup.loose || !setup.keeps_shell()) return bound;
  for (const Strips strips : {Strips::along_x, Strips::along_y}) {
    const Parts parts(plan, strips, setup.neck());
    if (parts.count() < 2) break;
    int best_part = 0;
    for (int part = 0; part < parts.count(); ++part) {
      const Parts::Only only(parts, part);
      const Limits here = limits_of(setup, plans, setup.gap, tier, strips, &only, steps);
      best_part = std::max(best_part, strips == Strips::along_x ? most_within(here, y_lines) : most_within(x_lines, here));
    }
    bound = std::min(bound, best_part);
  }
  return bound;
}

int line_bound(const Setup& setup, const std::vector<region::FreePlan>& plans, Um gap, const Tier& tier,
               long long& steps) {
  std::vector<const region::FreePlan*> all;
  for (const region::FreePlan& plan : plans) all.push_back(&plan);
  if (all.empty()) return 0;
  return most_within(limits_of(setup, all, gap, tier, Strips::along_x, nullptr, steps),
                     limits_of(setup, all, gap, tier, Strips::along_y, nullptr, steps));
}

}  // namespace cellstow::packing
