#include "outline.hpp"

#include <algorithm>
#include <map>
#include <queue>
#include <set>

#include "cellstow/geometry/exact.hpp"
#include "cellstow/geometry/segment.hpp"

namespace cellstow::packing {
namespace {

using geometry::doubled_area;
using geometry::turn_sign;

/// The plan cut along every edge of the widened contents: cells are free or not, part of the box or not.
class Grid {
 public:
  Grid(const region::FreePlan& plan, const std::vector<RectUm>& shells, Um extra_step) {
    std::set<Um> xs, ys;
    for (const RectUm& shell : shells) {
      xs.insert({shell.x_low, shell.x_high});
      ys.insert({shell.y_low, shell.y_high});
    }
    add_between(xs, extra_step);
    add_between(ys, extra_step);
    xs_.assign(xs.begin(), xs.end());
    ys_.assign(ys.begin(), ys.end());
    free_.assign(columns() * rows(), false);
    filled_.assign(columns() * rows(), false);
    std::vector<geometry::SpanUm> spans;
    for (std::size_t j = 0; j < rows(); ++j) {
      plan.free_spans(region::Strips::along_x, ys_[j], ys_[j + 1], spans);
      for (std::size_t i = 0; i < columns(); ++i) {
        free_[at(i, j)] = std::any_of(spans.begin(), spans.end(), [&](const auto& span) {
          return span.low <= xs_[i] && xs_[i + 1] <= span.high;
        });
      }
    }
    for (const RectUm& shell : shells) fill(shell, true);
  }

  std::size_t columns() const { return xs_.size() - 1; }
  std::size_t rows() const { return ys_.size() - 1; }
  std::size_t at(std::size_t i, std::size_t j) const { return j * columns() + i; }

  bool filled(std::ptrdiff_t i, std::ptrdiff_t j) const {
    if (i < 0 || j < 0) return false;
    const auto column = static_cast<std::size_t>(i), row = static_cast<std::size_t>(j);
    return column < columns() && row < rows() && filled_[at(column, row)];
  }

  /// Are all cells of the box free? The widened contents need not be when walls may slant.
  bool filled_is_free() const {
    for (std::size_t cell = 0; cell < filled_.size(); ++cell) {
      if (filled_[cell] && !free_[cell]) return false;
    }
    return true;
  }

  bool all_free(const RectUm& rect) const { return each(rect, [&](std::size_t c) { return free_[c]; }); }

  void fill(const RectUm& rect, bool value) {
    each(rect, [&](std::size_t cell) {
      filled_[cell] = value;
      return true;
    });
  }

  RectUm bounds() const { return {xs_.front(), xs_.back(), ys_.front(), ys_.back()}; }

  std::vector<bool> snapshot() const { return filled_; }
  void restore(std::vector<bool> filled) { filled_ = std::move(filled); }

  /// Joins all filled parts through free cells, nearest first. False when that is impossible.
  bool join();
  /// Fills enclosed cells where they are free; otherwise tells one that is not.
  std::optional<PointUm> fill_holes();
  /// The outline when the filled cells are one piece without holes or pinched corners.
  std::optional<std::vector<PointUm>> trace() const;

 private:
  template <class Visit>
  bool each(const RectUm& rect, Visit visit) const {
    const auto i0 = index(xs_, rect.x_low), i1 = index(xs_, rect.x_high);
    const auto j0 = index(ys_, rect.y_low), j1 = index(ys_, rect.y_high);
    for (std::size_t j = j0; j < j1; ++j) {
      for (std::size_t i = i0; i < i1; ++i) {
        if (!visit(at(i, j))) return false;
      }
    }
    return true;
  }

  static std::size_t index(const std::vector<Um>& lines, Um line) {
    return static_cast<std::size_t>(std::lower_bound(lines.begin(), lines.end(), line) -
                                    lines.begin());
  }

  static void add_between(std::set<Um>& lines, Um step) {
    if (step == 0) return;
    for (Um line = *lines.begin() + step; line < *lines.rbegin(); line += step) lines.insert(line);
  }

  std::vector<std::size_t> neighbours(std::size_t cell) const {
    const std::size_t i = cell % columns(), j = cell / columns();
    std::vector<std::size_t> next;
    if (i > 0) next.push_back(cell - 1);
    if (i + 1 < columns()) next.push_back(cell + 1);
    if (j > 0) next.push_back(cell - columns());
    if (j + 1 < rows()) next.push_back(cell + columns());
    return next;
  }

  std::vector<Um> xs_, ys_;
  std::vector<bool> free_, filled_;
};

bool Grid::join() {
  const auto first = std::find(filled_.begin(), filled_.end(), true);
  for (;;) {
    // Breadth first from the piece that holds the first filled cell, to the nearest filled cell outside it.
    std::vector<std::ptrdiff_t> from(filled_.size(), -1);
    std::vector<bool> in_piece(filled_.size(), false);
    std::queue<std::size_t> open;
    const auto start = static_cast<std::size_t>(first - filled_.begin());
    std::vector<std::size_t> stack{start};
    in_piece[start] = true;
    while (!stack.empty()) {
      const std::size_t cell = stack.back();
      stack.pop_back();
      open.push(cell);
      from[cell] = static_cast<std::ptrdiff_t>(cell);
      for (const std::size_t next : neighbours(cell)) {
        if (!filled_[next] || in_piece[next]) continue;
        in_piece[next] = true;
        stack.push_back(next);
      }
    }
    std::size_t reached = filled_.size();
    bool others = false;
    for (std::size_t cell = 0; cell < filled_.size(); ++cell) others |= filled_[cell] && !in_piece[cell];
    if (!others) return true;
    while (!open.empty() && reached == filled_.size()) {
      const std::size_t cell = open.front();
      open.pop();
      for (const std::size_t next : neighbours(cell)) {
        if (from[next] >= 0 || !free_[next]) continue;
        from[next] = static_cast<std::ptrdiff_t>(cell);
        open.push(next);
        if (filled_[next]) {
          reached = next;
          break;
        }
      }
    }
    if (reached == filled_.size()) return false;
    for (std::size_t cell = reached; !in_piece[cell]; cell = static_cast<std::size_t>(from[cell])) {
      filled_[cell] = true;
    }
  }
}

std::optional<PointUm> Grid::fill_holes() {
  std::vector<bool> outside(filled_.size(), false);
  std::vector<std::size_t> stack;
  for (std::size_t cell = 0; cell < filled_.size(); ++cell) {
    const std::size_t i = cell % columns(), j = cell / columns();
    const bool border = i == 0 || j == 0 || i + 1 == columns() || j + 1 == rows();
    if (!border || filled_[cell]) continue;
    outside[cell] = true;
    stack.push_back(cell);
  }
  while (!stack.empty()) {
    const std::size_t cell = stack.back();
    stack.pop_back();
    for (const std::size_t next : neighbours(cell)) {
      if (filled_[next] || outside[next]) continue;
      outside[next] = true;
      stack.push_back(next);
    }
  }
  for (std::size_t cell = 0; cell < filled_.size(); ++cell) {
    if (filled_[cell] || outside[cell]) continue;
    if (!free_[cell]) {
      const std::size_t i = cell % columns(), j = cell / columns();
      return PointUm{(xs_[i] + xs_[i + 1]) / 2, (ys_[j] + ys_[j + 1]) / 2};
    }
  }
  for (std::size_t cell = 0; cell < filled_.size(); ++cell) {
    if (!outside[cell]) filled_[cell] = true;
  }
  return std::nullopt;
}

std::optional<std::vector<PointUm>> Grid::trace() const {
  // Directed boundary edges with the box on their left; one leaves each corner, or the box is pinched.
  std::map<PointUm, PointUm> next;
  bool pinched = false;
  auto edge = [&](PointUm from, PointUm to) { pinched |= !next.emplace(from, to).second; };
  for (std::size_t j = 0; j < rows(); ++j) {
    for (std::size_t i = 0; i < columns(); ++i) {
      if (!filled_[at(i, j)]) continue;
      const auto si = static_cast<std::ptrdiff_t>(i), sj = static_cast<std::ptrdiff_t>(j);
      const PointUm a{xs_[i], ys_[j]}, b{xs_[i + 1], ys_[j]}, c{xs_[i + 1], ys_[j + 1]},
          d{xs_[i], ys_[j + 1]};
      if (!filled(si, sj - 1)) edge(a, b);
      if (!filled(si + 1, sj)) edge(b, c);
      if (!filled(si, sj + 1)) edge(c, d);
      if (!filled(si - 1, sj)) edge(d, a);
    }
  }
  if (pinched || next.empty()) return std::nullopt;
  std::vector<PointUm> loop;
  const PointUm start = next.begin()->first;
  for (PointUm at = start;;) {
    loop.push_back(at);
    at = next.at(at);
    if (at == start) break;
  }
  if (loop.size() != next.size()) return std::nullopt;
  std::vector<PointUm> corners;
  for (std::size_t k = 0; k < loop.size(); ++k) {
    const PointUm &before = loop[(k + loop.size() - 1) % loop.size()], &here = loop[k],
                  &after = loop[(k + 1) % loop.size()];
    if ((before.s == here.s) != (here.s == after.s)) corners.push_back(here);
  }
  return corners;
}

RectUm spanned(PointUm a, PointUm b) {
  return {std::min(a.s, b.s), std::max(a.s, b.s), std::min(a.t, b.t), std::max(a.t, b.t)};
}

/// Fills the notch at one reflex corner after another while that saves corners; most saved first.
std::vector<PointUm> fill_notches(Grid& grid, std::vector<PointUm> outline) {
  for (;;) {
    std::vector<PointUm> best = outline;
    std::vector<bool> best_filled;
    for (std::size_t k = 0; k < outline.size(); ++k) {
      const PointUm &before = outline[(k + outline.size() - 1) % outline.size()],
                    &here = outline[k], &after = outline[(k + 1) % outline.size()];
      if (turn_sign(before, here, after) > 0) continue;
      const RectUm notch = spanned(before, after);
      if (!grid.all_free(notch)) continue;
      const std::vector<bool> kept = grid.snapshot();
      grid.fill(notch, true);
      const auto filled = grid.fill_holes() ? std::nullopt : grid.trace();
      if (filled && (filled->size() < best.size() ||
                     (filled->size() == best.size() && !best_filled.empty() &&
                      doubled_area(*filled) < doubled_area(best)))) {
        best = *filled;
        best_filled = grid.snapshot();
      }
      grid.restore(kept);
    }
    if (best_filled.empty()) return outline;
    outline = best;
    grid.restore(best_filled);
  }
}

std::vector<RectUm> widened(const std::vector<RectUm>& rects, Um by_x, Um by_y) {
  std::vector<RectUm> shells;
  for (const RectUm& r : rects) {
    shells.push_back({r.x_low - by_x, r.x_high + by_x, r.y_low - by_y, r.y_high + by_y});
  }
  return shells;
}

}  // namespace

OutlineAnswer right_angled_outline(const region::FreePlan& plan, const std::vector<RectUm>& contents,
                                   Um shell_x, Um shell_y) {
  const std::vector<RectUm> shells = widened(contents, shell_x, shell_y);
  OutlineAnswer answer;
  // A coarse grid first; where it cannot join all parts, one with lines every 15 mm besides.
  for (const Um step : {Um{0}, Um{15'000}}) {
    Grid grid(plan, shells, step);
    if (!grid.filled_is_free()) return {{}, OutlineFault::blocked, {}};
    if (grid.all_free(grid.bounds())) grid.fill(grid.bounds(), true);
    answer.fault = OutlineFault::apart;
    if (!grid.join()) continue;
    if (const auto enclosed = grid.fill_holes()) {
      answer.fault = OutlineFault::ring;
      answer.fault_at = *enclosed;
      continue;
    }
    const auto outline = grid.trace();
    if (!outline) continue;
    answer.fault = OutlineFault::none;
    answer.outline = fill_notches(grid, *outline);
    return answer;
  }
  return answer;
}

std::optional<std::vector<PointUm>> convex_outline(const region::FreePlan& plan,
                                                   const std::vector<RectUm>& contents, Um shell,
                                                   std::size_t most_corners) {
  std::vector<PointUm> corners;
  for (const RectUm& r : widened(contents, shell, shell)) {
    corners.insert(corners.end(), {{r.x_low, r.y_low}, {r.x_high, r.y_low}, {r.x_high, r.y_high},
                                   {r.x_low, r.y_high}});
  }
  const geometry::Loop hull = geometry::convex_hull(std::move(corners));
  if (hull.size() > most_corners || !plan.admits(hull)) return std::nullopt;
  return hull;
}

bool relief_kept(const std::vector<PointUm>& outline, const std::vector<RectUm>& contents, Um wall,
                 Um relief) {
  if (relief == 0) return true;
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const PointUm &before = outline[(k + outline.size() - 1) % outline.size()],
                  &here = outline[k], &after = outline[(k + 1) % outline.size()];
    if (turn_sign(before, here, after) <= 0) continue;
    const geometry::Int128 dot = geometry::Int128(before.s - here.s) * (after.s - here.s) +
                                 geometry::Int128(before.t - here.t) * (after.t - here.t);
    if (dot != 0) continue;  // reliefs are for right-angled corners
    if (before.s != here.s && before.t != here.t) return false;  // a right angle askew: not worked out
    const Um into_x = (before.s + after.s > 2 * here.s) ? 1 : -1;
    const Um into_y = (before.t + after.t > 2 * here.t) ? 1 : -1;
    const PointUm metal{here.s + into_x * wall, here.t + into_y * wall};
    const RectUm square = spanned(metal, {metal.s + into_x * relief, metal.t + into_y * relief});
    for (const RectUm& r : contents) {
      if (r.x_low < square.x_high && square.x_low < r.x_high && r.y_low < square.y_high &&
          square.y_low < r.y_high) {
        return false;
      }
    }
  }
  return true;
}

}  // namespace cellstow::packing
