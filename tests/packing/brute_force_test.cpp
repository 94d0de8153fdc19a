/// The rows optimum against plain enumeration of every whole-micrometre position, on thousands of small
/// cavities. The enumeration shares nothing with the packer: it asks of single rectangles whether they fit.

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "cavities.hpp"
#include "cellstow/packing/pack.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

struct Plane { Corners outline; std::vector<Corners> holes; Um clearance; };

long long cross(Um ax, Um ay, Um bx, Um by) { return ax * by - ay * bx; }

/// Squared distance of a segment from a closed rectangle is at least c2, and the segment does not enter the open rectangle.
bool edge_keeps(std::pair<Um, Um> p, std::pair<Um, Um> q, Um x0, Um y0, Um x1, Um y1, Um c) {
  // Enters the open rectangle? Clip the segment with rational parameters over a common denominator.
  const double dx = static_cast<double>(q.first - p.first), dy = static_cast<double>(q.second - p.second);
  double from = 0, to = 1;
  auto clip = [&](double start, double delta, double low, double high) {
    if (delta == 0) return start > low && start < high;
    double a = (low - start) / delta, b = (high - start) / delta;
    if (a > b) std::swap(a, b);
    from = std::max(from, a);
    to = std::min(to, b);
    return true;
  };
  // Coordinates are below 200: doubles with a margin of 1e-9 decide rightly (distinct rationals differ by over 1e-5).
  const bool meets = clip(static_cast<double>(p.first), dx, static_cast<double>(x0), static_cast<double>(x1)) &&
                     clip(static_cast<double>(p.second), dy, static_cast<double>(y0), static_cast<double>(y1)) &&
                     to - from > 1e-9;
  if (meets) return false;
  if (c == 0) return true;
  auto point_segment = [&](Um px, Um py, Um ax, Um ay, Um bx, Um by) {  // squared distance * length2, length2
    const long long lx = bx - ax, ly = by - ay, l2 = lx * lx + ly * ly;
    const long long dot = (px - ax) * lx + (py - ay) * ly;
    if (l2 == 0 || dot <= 0) return (px - ax) * (px - ax) + (py - ay) * (py - ay) >= c * c;
    if (dot >= l2) return (px - bx) * (px - bx) + (py - by) * (py - by) >= c * c;
    const long long area = cross(lx, ly, px - ax, py - ay);
    return area * area >= c * c * l2;
  };
  const std::pair<Um, Um> corners[4] = {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
  for (int k = 0; k < 4; ++k) {
    const auto [ax, ay] = corners[k];
    const auto [bx, by] = corners[(k + 1) % 4];
    if (!point_segment(ax, ay, p.first, p.second, q.first, q.second)) return false;
    if (!point_segment(p.first, p.second, ax, ay, bx, by)) return false;
    if (!point_segment(q.first, q.second, ax, ay, bx, by)) return false;
  }
  // A segment end inside the rectangle was caught above.
  return true;
}

/// Is the point (in half micrometres) inside the outline and outside the holes?
bool material_free(const Plane& plane, Um x2, Um y2) {
  auto in = [&](const Corners& loop) {
    bool inside = false;
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const auto [ax, ay] = loop[k];
      const auto [bx, by] = loop[(k + 1) % loop.size()];
      if ((2 * ay <= y2) == (2 * by <= y2)) continue;
      const long long side = cross(2 * (bx - ax), 2 * (by - ay), x2 - 2 * ax, y2 - 2 * ay);
      if ((side > 0) == (by > ay)) inside = !inside;
    }
    return inside;
  };
  if (!in(plane.outline)) return false;
  return std::none_of(plane.holes.begin(), plane.holes.end(), in);
}

bool fits(const Plane& plane, Um x0, Um y0, Um x1, Um y1) {
  auto keeps = [&](const Corners& loop) {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      if (!edge_keeps(loop[k], loop[(k + 1) % loop.size()], x0, y0, x1, y1, plane.clearance)) return false;
    }
    return true;
  };
  if (!material_free(plane, x0 + x1, y0 + y1)) return false;
  return keeps(plane.outline) && std::all_of(plane.holes.begin(), plane.holes.end(), keeps);
}

Plane transposed(const Plane& plane) {
  Plane result = plane;
  auto swap_axes = [](Corners& loop) { for (auto& [a, b] : loop) std::swap(a, b); };
  swap_axes(result.outline);
  for (Corners& hole : result.holes) swap_axes(hole);
  return result;
}

struct Problem { Um t, w, ends, between_cells, gap, shell; int min_cells, max_cells; };

/// Most cells in strips along x: every position of every block tried.
int brute_strips(const Plane& plane, const Problem& p, bool across, Um size) {
  auto length = [&](int n) { return n * p.t + (n - 1) * p.between_cells + p.ends; };
  struct Item { Um along, across; int cells; };
  std::vector<Item> items;
  for (int n = p.min_cells; n <= p.max_cells && length(n) <= size; ++n) {
    items.push_back(across ? Item{p.w, length(n), n} : Item{length(n), p.w, n});
  }
  std::vector<int> best(static_cast<std::size_t>(size) + 1, 0);  // best[t]: strips that end at or below t
  auto at = [&](std::vector<int>& v, Um t) -> int { return t < 0 ? 0 : v[static_cast<std::size_t>(t)]; };
  for (Um top = 0; top <= size; ++top) {
    int most = at(best, top - 1);
    std::vector<Um> breadths;
    for (const Item& item : items) breadths.push_back(item.across);
    std::sort(breadths.begin(), breadths.end());
    breadths.erase(std::unique(breadths.begin(), breadths.end()), breadths.end());
    for (const Um breadth : breadths) {
      const Um low = top - breadth;
      if (low < 0) continue;
      std::vector<int> row(static_cast<std::size_t>(size) + 1, 0);
      for (Um end = 0; end <= size; ++end) {
        int cells = at(row, end - 1);
        for (const Item& item : items) {
          const Um start = end - item.along;
          if (item.across != breadth || start < 0) continue;
          if (!fits(plane, start - p.shell, low - p.shell, end + p.shell, top + p.shell)) continue;
          cells = std::max(cells, item.cells + at(row, start - p.gap));
        }
        row[static_cast<std::size_t>(end)] = cells;
      }
      most = std::max(most, row.back() + at(best, low - p.gap));
    }
    best[static_cast<std::size_t>(top)] = most;
  }
  return best.back();
}

int brute_rows(const Plane& plane, const Problem& p, Um size) {
  int most = 0;
  for (const Plane& view : {plane, transposed(plane)}) {
    for (const bool across : {false, true}) most = std::max(most, brute_strips(view, p, across, size));
  }
  return most;
}

/// A star-shaped polygon with whole-um corners: simple by construction.
Corners random_outline(std::mt19937& random, Um size) {
  std::uniform_int_distribution<int> corner_count(4, 8);
  std::uniform_real_distribution<double> unit(0, 1);
  const int n = corner_count(random);
  std::vector<double> angles;
  for (int k = 0; k < n; ++k) angles.push_back((k + 0.1 + 0.8 * unit(random)) * 6.283185307179586 / n);
  Corners outline;
  const double half = static_cast<double>(size) / 2;
  for (const double angle : angles) {
    const double reach = half * (0.55 + 0.45 * unit(random));
    outline.emplace_back(std::llround(half + reach * std::cos(angle)), std::llround(half + reach * std::sin(angle)));
  }
  return outline;
}

/// A right-angled outline: a square with a bite out of one corner.
Corners random_steps(std::mt19937& random, Um size) {
  std::uniform_int_distribution<Um> cut(size / 5, size / 2);
  const Um a = cut(random), b = cut(random);
  return {{0, 0}, {size, 0}, {size, size - b}, {size - a, size - b}, {size - a, size}, {0, size}};
}

}  // namespace

TEST_CASE("brute force: rows optimum of random cavities, blocks with plates and gaps, clearances, holes") {
  std::mt19937 random(20260101);
  auto pick = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  for (int trial = 0; trial < 2500; ++trial) {
    CAPTURE(trial);
    const Um size = pick(12, 22);
    Plane plane{trial % 3 == 0 ? random_steps(random, size) : random_outline(random, size), {}, pick(0, 2)};
    if (trial % 4 == 1) {
      const Um x = size / 2 - 1, y = size / 2 - 1;
      plane.holes.push_back({{x, y}, {x + 1, y}, {x + 1, y + 2}, {x, y + 2}});
    }
    Problem p{pick(2, 4), pick(3, 6), 2 * pick(0, 1), pick(0, 1), pick(0, 2), 0, pick(1, 2), 0};
    p.max_cells = p.min_cells + pick(0, 4);
    auto cavity = shaft(plane.outline, 10, plane.holes);
    survey::Rules rules = bare_rules();
    rules.body_clearance = um(plane.clearance);
    cavity.sections.at.front().station = um(-plane.clearance);
    rules.end_plate = um(p.ends / 2);
    rules.between_cells = um(p.between_cells);
    rules.between_blocks = um(p.gap);
    rules.block_cells = {p.min_cells, p.max_cells};
    const auto packing = packing::pack_cavity(cavity, cell(p.t, p.w, 10), rules);
    REQUIRE(packing.cells == brute_rows(plane, p, size));
    REQUIRE(packing.proven);
  }
}

namespace {

/// Most cells of rows laid along the longer way of a plain rectangle: all rows are alike.
int rows_in_rectangle(const Problem& p, Um length, Um breadth) {
  auto fill = [&](Um room) {  // blocks one after another along the row
    std::vector<int> best(static_cast<std::size_t>(room) + 1, 0);
    for (Um end = 1; end <= room; ++end) {
      best[static_cast<std::size_t>(end)] = best[static_cast<std::size_t>(end - 1)];
      for (int n = p.min_cells; n <= p.max_cells; ++n) {
        const Um start = end - (n * p.t + (n - 1) * p.between_cells + p.ends);
        if (start < 0) continue;
        const Um before = start - p.gap;
        best[static_cast<std::size_t>(end)] = std::max(
            best[static_cast<std::size_t>(end)], n + (before > 0 ? best[static_cast<std::size_t>(before)] : 0));
      }
    }
    return room > 0 ? best.back() : 0;
  };
  const Um rows = (breadth + p.gap) / (p.w + p.gap);
  return rows > 0 && length > 0 ? static_cast<int>(rows) * fill(length) : 0;
}

/// Best rectangle by trying every one with whole corners.
int brute_rectangle(const Plane& plane, const Problem& p, Um size) {
  int most = 0;
  for (Um x0 = 0; x0 < size; ++x0) {
    for (Um y0 = 0; y0 < size; ++y0) {
      for (Um x1 = x0 + 1; x1 <= size; ++x1) {
        for (Um y1 = y0 + 1; y1 <= size; ++y1) {
          const Um u = x1 - x0 - 2 * p.shell, v = y1 - y0 - 2 * p.shell;
          const int cells = std::max(rows_in_rectangle(p, u, v), rows_in_rectangle(p, v, u));
          if (cells > most && fits(plane, x0, y0, x1, y1)) most = cells;
        }
      }
    }
  }
  return most;
}

struct Boxed { survey::Cavity cavity; survey::Rules rules; Plane plane; Problem problem; Um size; };

/// A small cavity with clearance, walls of 1 um and blocks as above.
Boxed random_boxed(std::mt19937& random, int trial, survey::BoxOutline outline, int smallest) {
  auto pick = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  const Um size = pick(smallest, smallest + 6);
  Boxed boxed{{}, bare_rules(), {trial % 2 == 0 ? random_steps(random, size) : random_outline(random, size), {}, pick(0, 1)},
              {pick(2, 3), pick(2, 4), 2 * pick(0, 1), pick(0, 1), pick(0, 1), 1, pick(1, 2), 0}, size};
  boxed.problem.max_cells = boxed.problem.min_cells + pick(0, 3);
  boxed.cavity = shaft(boxed.plane.outline, 30);
  boxed.cavity.sections.at.front().station = um(-10);
  boxed.rules.box_outline = outline;
  boxed.rules.wall = um(1);
  boxed.rules.body_clearance = um(boxed.plane.clearance);
  boxed.rules.end_plate = um(boxed.problem.ends / 2);
  boxed.rules.between_cells = um(boxed.problem.between_cells);
  boxed.rules.between_blocks = um(boxed.problem.gap);
  boxed.rules.block_cells = {boxed.problem.min_cells, boxed.problem.max_cells};
  return boxed;
}

}  // namespace

TEST_CASE("brute force: rectangular boxes, every rectangle tried") {
  std::mt19937 random(20260102);
  for (int trial = 0; trial < 150; ++trial) {
    CAPTURE(trial);
    const Boxed b = random_boxed(random, trial, survey::BoxOutline::rectangle, 9);
    const auto packing = packing::pack_cavity(b.cavity, cell(b.problem.t, b.problem.w, 10), b.rules);
    REQUIRE(packing.proven);
    // Blocks standing across the strips fill a rectangle no better than blocks along them, turned by a quarter,
    // unless end plates make longer blocks pay: then the packer may only be better than rows of one direction.
    int across = 0;
    if (b.problem.ends > 0 || b.problem.gap > 0) across = brute_rows(b.plane, b.problem, b.size);
    const int along = brute_rectangle(b.plane, b.problem, b.size);
    REQUIRE(packing.cells >= along);
    if (across == 0) REQUIRE(packing.cells == along);
    if (across > 0) REQUIRE(packing.cells <= across);
  }
}

TEST_CASE("brute force: stepped boxes never hold more than the rows they are drawn round, and nearly always as many") {
  std::mt19937 random(20260103);
  int reached = 0;
  constexpr int trials = 600;
  for (int trial = 0; trial < trials; ++trial) {
    CAPTURE(trial);
    const Boxed b = random_boxed(random, trial, survey::BoxOutline::stepped, 12);
    const auto packing = packing::pack_cavity(b.cavity, cell(b.problem.t, b.problem.w, 10), b.rules);
    const int rows = brute_rows(b.plane, b.problem, b.size);
    REQUIRE(packing.cells <= rows);
    REQUIRE(packing.bound >= packing.cells);
    reached += packing.cells == rows;
  }
  CHECK(reached > trials * 9 / 10);
}
