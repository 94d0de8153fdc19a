/// Equal cells in a bare rectangle, both ways round at once: published counts, relations, and plain enumeration.

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <random>
#include <set>
#include <unordered_map>

#include "bay_front.hpp"
#include "cavities.hpp"
#include "cellstow/packing/pack.hpp"
#include "pallet_bound.hpp"
#include "pallet_front.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

struct Sides { Um length, width, l, w; };

/// How the numbers are turned into a cavity: a unit in um, where it stands, and whether it lies on its side.
struct Standing { Um unit = 1'000, x = 0, y = 0; bool turned = false; };

packing::CavityPacking packed(const Sides& s, const Standing& at = {}, survey::Rules rules = bare_rules()) {
  rules.arrangement = survey::Arrangement::mixed;
  Um length = s.length * at.unit, width = s.width * at.unit;
  if (at.turned) std::swap(length, width);
  const auto cavity = shaft({{at.x, at.y}, {at.x + length, at.y}, {at.x + length, at.y + width}, {at.x, at.y + width}}, 10'000);
  packing::PackOptions options;
  options.mixed_budget = 2'000;   // next to nothing for the search that rectangles do not need
  return packing::pack_cavity(cavity, cell(s.w * at.unit, s.l * at.unit, 10'000), rules, options);
}

/// Cells lie in the rectangle, either way round, and share no space.
void check_layout(const packing::CavityPacking& packing, const Sides& s, const Standing& at) {
  std::vector<packing::PlacedCell> cells;
  for (const auto& box : packing.boxes) cells.insert(cells.end(), box.cells.begin(), box.cells.end());
  CHECK(static_cast<int>(cells.size()) == packing.cells);
  const Um right = at.x + (at.turned ? s.width : s.length) * at.unit, back = at.y + (at.turned ? s.length : s.width) * at.unit;
  int outside = 0, shared = 0, wrong_size = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const auto &low = cells[i].body.low, &high = cells[i].body.high;
    outside += low.x.um() < at.x || low.y.um() < at.y || high.x.um() > right || high.y.um() > back;
    const auto sides = std::minmax({high.x.um() - low.x.um(), high.y.um() - low.y.um()});
    wrong_size += sides.first != s.w * at.unit || sides.second != s.l * at.unit;
    for (std::size_t j = 0; j < i; ++j) {
      const auto &l = cells[j].body.low, &h = cells[j].body.high;
      shared += low.x < h.x && l.x < high.x && low.y < h.y && l.y < high.y;
    }
  }
  CHECK(outside == 0);
  CHECK(shared == 0);
  CHECK(wrong_size == 0);
}

void check_most(const Sides& s, int most, const Standing& at = {}) {
  CAPTURE(s.length);
  CAPTURE(s.width);
  CAPTURE(s.l);
  CAPTURE(s.w);
  const auto packing = packed(s, at);
  CHECK(packing.cells == most);
  CHECK(packing.bound == most);
  CHECK(packing.proven);
  check_layout(packing, s, at);
}

/// Most tiles on a grid of unit squares, by a table over all states of one row of squares: how many rows each column
/// is taken from here on. Squares are gone through one by one; each is left open or is the low corner of a tile.
/// Whole numbers suffice: tiles can be pushed to the low ends, where all corners are sums of sides.
/// @param blocked  squares that are not there: row (along the length), column
int most_by_table(int length, int width, int l, int w, const std::vector<std::vector<bool>>& blocked = {}) {
  const auto is_blocked = [&](int row, int column) {
    return !blocked.empty() && blocked[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
  };
  constexpr int bits = 4;
  std::unordered_map<std::uint64_t, int> now{{0, 0}};
  const auto taken = [](std::uint64_t state, int column) { return static_cast<int>(state >> (bits * column) & 15U); };
  for (int row = 0; row < length; ++row) {
    for (int column = 0; column < width; ++column) {
      std::unordered_map<std::uint64_t, int> next;
      const auto keep = [&](std::uint64_t state, int tiles) {
        int& best = next.emplace(state, tiles).first->second;
        best = std::max(best, tiles);
      };
      for (const auto& [state, tiles] : now) {
        const std::uint64_t one = std::uint64_t{1} << (bits * column);
        if (taken(state, column) > 0) {
          keep(state - one, tiles);
          continue;
        }
        keep(state, tiles);
        for (const auto& [deep, broad] : {std::pair{l, w}, std::pair{w, l}}) {
          if (row + deep > length || column + broad > width) continue;
          std::uint64_t placed = state;
          bool open = true;
          for (int k = 0; k < broad; ++k) {
            open = open && taken(state, column + k) == 0;
            for (int ahead = 0; ahead < deep; ++ahead) open = open && !is_blocked(row + ahead, column + k);
            placed += static_cast<std::uint64_t>(k == 0 ? deep - 1 : deep) << (bits * (column + k));
          }
          if (open) keep(placed, tiles + 1);
        }
      }
      now = std::move(next);
    }
  }
  return std::max_element(now.begin(), now.end(), [](const auto& a, const auto& b) { return a.second < b.second; })->second;
}

}  // namespace

// (length, width, long side, short side) and the most there are. The counts were worked out elsewhere by a recursion over
// rectangles and L-shapes against bounds by bars ("computed"); where a printed source gives the number it is named.
// Where a recursion over five rectangles falls one short of the count is marked: it must be beaten here.
TEST_CASE("pallet: most cells, proven") {
  check_most({22, 16, 5, 3}, 23);             // computed; class named by Dowsland (1984)
  check_most({30, 22, 7, 4}, 23);             // computed; the same class
  check_most({49, 28, 8, 3}, 57);             // read: page of the L-algorithm (Lobato, University of Sao Paulo); five rectangles give 56
  check_most({42, 39, 9, 4}, 45);             // read at second hand, citing Birgin, Lobato, Morabito (2010); computed
  check_most({40, 25, 7, 3}, 47);             // computed
  check_most({52, 33, 9, 4}, 47);             // computed
  check_most({57, 34, 7, 4}, 69);             // computed; five rectangles give 68
  check_most({74, 46, 7, 5}, 97);             // computed; five rectangles give 96
  check_most({106, 59, 13, 5}, 96);           // computed; five rectangles give 95
  check_most({63, 44, 8, 5}, 69);             // computed; five rectangles give 68
  check_most({86, 82, 15, 11}, 42);           // computed
  check_most({61, 38, 10, 6}, 38);            // computed
  check_most({53, 51, 9, 7}, 42);             // computed
  check_most({153, 100, 24, 7}, 90);          // computed; area bound 91, bars 90
  check_most({32, 22, 5, 4}, 34);             // computed; 35 refused by an exhaustive search
  check_most({40, 33, 7, 4}, 46);             // computed; 47 refused by an exhaustive search
  check_most({53, 26, 7, 4}, 48);             // computed; 49 refused by an exhaustive search
  check_most({1200, 800, 365, 245}, 9);       // read at second hand: bars 9; computed
  check_most({1200, 800, 271, 201}, 15);      // read at second hand; computed
}

// Multiplying all four numbers changes nothing, nor does moving or turning the rectangle, nor a little more room than any cell can use.
TEST_CASE("pallet: the count keeps when scaled, moved, turned") {
  for (const auto& [sides, most] : {std::pair{Sides{49, 28, 8, 3}, 57}, {Sides{53, 26, 7, 4}, 48}, {Sides{63, 44, 8, 5}, 69}}) {
    check_most(sides, most, {100, 0, 0, false});
    check_most(sides, most, {10'000, -1'234'567, 7'654'321, false});
    check_most(sides, most, {997, 13, -17, true});
    const Sides wider{sides.length * 1'000 + 7, sides.width * 1'000 + 3, sides.l * 1'000, sides.w * 1'000};
    check_most(wider, most, {1, 0, 0, false});
  }
  // A micrometre less, and the area bound of the next shorter length that cells can fill is below the count.
  for (const auto& [sides, most] : {std::pair{Sides{49, 28, 8, 3}, 57}, {Sides{63, 44, 8, 5}, 69}, {Sides{40, 24, 8, 3}, 40}}) {
    const auto tighter = packed({sides.length * 1'000 - 1, sides.width * 1'000, sides.l * 1'000, sides.w * 1'000}, {1, 0, 0, false});
    CHECK(tighter.cells < most);
    CHECK(tighter.proven);
  }
}

// Three of one class: the same partitions of both sides.
// Source: Dowsland (1984), as told with this example at familiamartins.com/plp/Classes.htm.
TEST_CASE("pallet: one class, one count") {
  const auto smallest = [](const Sides& s) { return packing::small_equals({s.length, s.width, s.l, s.w}).front(); };
  const packing::SmallPallet first = smallest({22, 16, 5, 3});
  for (const Sides& s : {Sides{22, 16, 5, 3}, Sides{30, 22, 7, 4}, Sides{50, 36, 11, 7}}) {
    check_most(s, 23);
    const packing::SmallPallet small = smallest(s);
    CHECK(small.length == first.length);
    CHECK(small.width == first.width);
    CHECK(small.long_side == first.long_side);
    CHECK(small.short_side == first.short_side);
  }
}

// Bars 1 x m, sides cut down to what cells reach (in fives and ones).
// Source: F. W. Barnes, Discrete Mathematics 26 (1979) 93-100; the values 9 and 15 read at second hand.
TEST_CASE("pallet: bound by bars") {
  CHECK(packing::barnes_bound({220, 147, 73, 49}) == 9);
  CHECK(packing::barnes_bound({1145, 743, 271, 201}) == 15);
  CHECK(packing::barnes_bound({153, 100, 24, 7}) == 90);
  // 1 x n bars fill a rectangle exactly when n divides a side (Klarner 1969, from memory): 3 x 3 holds 4 of 1 x 2, 6 x 6 holds 8 of 1 x 4.
  CHECK(packing::barnes_bound({3, 3, 2, 1}) == 4);
  CHECK(packing::barnes_bound({6, 6, 4, 1}) == 8);
}

// Source: E. Friedman, Packing Unit Squares in Squares, Electronic Journal of Combinatorics, DS7: 5 need side 2 + 1/sqrt 2, 10 need
// 3 + 1/sqrt 2, at any angle.
TEST_CASE("pallet: squares in a square") {
  for (const Um side : {Um{1'999}, Um{2'000}, Um{2'707}, Um{2'999}, Um{3'000}, Um{3'707}, Um{9'999}}) {
    const int whole = static_cast<int>(side / 1'000);
    const auto packing = packed({side, side, 1'000, 1'000}, {100, 0, 0, false});
    CHECK(packing.cells == whole * whole);
    CHECK(packing.proven);
  }
}

TEST_CASE("pallet: most cells against a table of all states, small rectangles") {
  std::mt19937_64 random(20'251'125);
  const auto draw = [&](int low, int high) { return low + static_cast<int>(random() % static_cast<std::uint64_t>(high - low + 1)); };
  for (int round = 0; round < 200; ++round) {
    const int w = draw(1, 3), l = draw(w, 5), width = draw(2, 7), length = draw(width, 14);
    const int most = most_by_table(length, width, l, w);
    check_most({length, width, l, w}, most);
    if (most == 0) continue;
    // The search from one end by itself: it finds that count, and refuses one more.
    long long steps = 0;
    const auto equals = packing::small_equals({length, width, l, w});
    for (int fewer = most; fewer > 0; --fewer) {
      CHECK(packing::FrontSearch(equals.front(), fewer).run(1'000'000, steps) == packing::Answer::reached);
    }
    CHECK(packing::FrontSearch(equals.front(), most + 1).run(1'000'000, steps) == packing::Answer::refused);
  }
}

TEST_CASE("pallet: both pieces of a cut make up the whole, square by square") {
  using packing::Cut;
  const auto inside = [](const packing::CutPiece& p, int x, int y) {
    return x >= 0 && y >= 0 && x < p.length && y < p.width && (x < p.arm_x || y < p.arm_y);
  };
  const auto check = [&](const packing::CutPiece& piece, const Cut& cut) {
    const auto [one, other] = packing::cut_up(piece, cut);
    std::vector<int> covered(200, 0);
    for (const auto& part : {one, other}) {
      for (int u = 0; u < part.piece.length; ++u) {
        for (int v = 0; v < part.piece.width; ++v) {
          if (!inside(part.piece, u, v)) continue;
          const auto [ax, ay] = part.frame.point(u, v);
          const auto [bx, by] = part.frame.point(u + 1, v + 1);
          const int x = std::min(ax, bx), y = std::min(ay, by);
          REQUIRE(inside(piece, x, y));
          ++covered[static_cast<std::size_t>(x * 12 + y)];
        }
      }
    }
    CHECK(one.piece.area() + other.piece.area() == piece.area());
    CHECK(*std::max_element(covered.begin(), covered.end()) == 1);
  };
  const auto small = [](int value) { return static_cast<std::int16_t>(value); };
  for (const bool swapped : {false, true}) {
    const packing::CutPiece rectangle{9, 7, 9, 7}, shape{9, 7, 5, 3};
    const int X = swapped ? 7 : 9, Y = swapped ? 9 : 7, x = swapped ? 3 : 5, y = swapped ? 5 : 3;
    for (int a = 1; a < X; ++a) {
      check(rectangle, {Cut::Kind::straight, swapped, small(a)});
      check(shape, {a <= x ? Cut::Kind::near : Cut::Kind::far, swapped, small(a)});
    }
    for (int a = 1; a <= X; ++a) {
      for (int b = 1; b < Y; ++b) {
        for (int c = 0; c < a; ++c) check(rectangle, {Cut::Kind::stairs, swapped, small(a), small(b), small(c)});
      }
    }
    for (int a = 1; a <= x; ++a) {
      for (int b = 0; b <= Y; ++b) {
        if (b > 0 && b <= y) check(shape, {Cut::Kind::nested, swapped, small(a), small(b)});
        if (b != y) check(shape, {b < y ? Cut::Kind::low : Cut::Kind::high, swapped, small(a), small(b)});
      }
    }
  }
}

TEST_CASE("pallet: a cell covers every colour equally often, wherever it lies") {
  const packing::SmallPallet pallet{23, 22, 4, 3};
  for (const auto& [factor, colours] : {std::pair{1, 4}, {3, 4}, {1, 3}, {2, 3}}) {
    packing::Colouring colouring(factor, colours, pallet, 0);
    for (const auto& [u, v, x, y] : {std::array{4, 3, 5, 7}, {3, 4, 5, 7}, {4, 3, 0, 2}, {3, 4, 11, 1}}) {
      std::vector<int> before, after;
      for (int k = 0; k < colours; ++k) before.push_back(colouring.left(0, k));
      for (int i = 0; i < u; ++i) {
        for (int j = 0; j < v; ++j) colouring.waste(x + i, y + j, 1);
      }
      for (int k = 0; k < colours; ++k) CHECK(before[static_cast<std::size_t>(k)] - colouring.left(0, k) == 12 / colours);
    }
  }
}

// Room d all round a single cell: as if cells and rectangle were larger by d and nothing kept apart.
TEST_CASE("pallet: single cells with room between them") {
  survey::Rules rules = bare_rules();
  rules.block_cells = {1, 1};
  rules.between_blocks = um(2'000);
  const auto apart = packed({47, 26, 6, 1}, {}, rules);   // 49 x 28, cells 8 x 3
  CHECK(apart.cells == 57);
  CHECK(apart.proven);
  // A separator as thick as the room between blocks: blocks of several cells take the same room.
  rules.block_cells = {1, 12};
  rules.between_cells = um(2'000);
  const auto joined = packed({47, 26, 6, 1}, {}, rules);
  CHECK(joined.cells == 57);
  CHECK(joined.proven);
}

// A notch of a millimetre square in one corner takes room: the rectangle's count must not be claimed where cells fill every corner.
TEST_CASE("pallet: a rectangle with a notch is no rectangle") {
  survey::Rules rules = bare_rules();
  rules.arrangement = survey::Arrangement::mixed;
  const auto whole = packed({40, 24, 8, 3});
  CHECK(whole.cells == 40);
  const auto notched = packing::pack_cavity(
      shaft({{0, 0}, {40'000, 0}, {40'000, 23'000}, {39'000, 23'000}, {39'000, 24'000}, {0, 24'000}}, 10'000),
      cell(3'000, 8'000, 10'000), rules);
  CHECK(notched.cells < 40);
  CHECK(notched.bound >= notched.cells);
}

// The seven cavities of tests/bench/beside_cbc.cpp. CBC 2.10.8, a general-purpose solver of 0-1 programmes, over all positions to which cells can be pushed:
// 61, 50, 39, 49, 44 proved; for the two with holes it finds nothing and bounds them by 59 and 62.
TEST_CASE("right-angled cavities: as many as a general-purpose solver proves there can be") {
  struct Case { Corners outline; std::vector<Corners> holes; Um l, w; int most; };
  const Case cases[] = {
      {{{0, 0}, {1000, 0}, {1000, 800}, {0, 800}}, {}, 174, 72, 61},
      {{{0, 0}, {1000, 0}, {1000, 420}, {610, 420}, {610, 800}, {0, 800}}, {}, 174, 72, 50},
      {{{0, 0}, {1000, 0}, {1000, 330}, {700, 330}, {700, 800}, {290, 800}, {290, 330}, {0, 330}}, {}, 174, 72, 39},
      {{{0, 0}, {1000, 0}, {1000, 800}, {640, 800}, {640, 260}, {370, 260}, {370, 800}, {0, 800}}, {}, 174, 72, 49},
      {{{0, 0}, {1000, 0}, {1000, 200}, {850, 200}, {850, 390}, {640, 390}, {640, 600}, {400, 600}, {400, 800}, {0, 800}}, {}, 174, 72, 44},
      {{{0, 0}, {1000, 0}, {1000, 800}, {0, 800}}, {{{430, 330}, {430, 470}, {560, 470}, {560, 330}}}, 174, 72, 59},
      {{{0, 0}, {700, 0}, {700, 300}, {450, 300}, {450, 520}, {0, 520}}, {{{200, 210}, {200, 280}, {260, 280}, {260, 210}}}, 130, 36, 62},
  };
  const auto in_um = [](Corners corners) {
    for (auto& [x, y] : corners) x *= 1'000, y *= 1'000;
    return corners;
  };
  survey::Rules rules = bare_rules();
  rules.arrangement = survey::Arrangement::mixed;
  for (const Case& c : cases) {
    CAPTURE(c.most);
    std::vector<Corners> holes;
    for (const Corners& hole : c.holes) holes.push_back(in_um(hole));
    const auto packing = packing::pack_cavity(shaft(in_um(c.outline), 10'000, holes), cell(c.w * 1'000, c.l * 1'000, 10'000), rules);
    CHECK(packing.cells == c.most);
    // With a hole, CBC proves a bound and finds nothing in its time; ours stays one above.
    CHECK(packing.bound <= c.most + (c.holes.empty() ? 0 : 1));
  }
}

/// Every unit square under a cell is free, and under no other cell.
bool stand_apart(const packing::BayRegion& region, const std::vector<packing::PalletCell>& cells, Um l, Um w) {
  std::set<std::pair<Um, Um>> taken;
  const auto part_of = [](const std::vector<Um>& edges, Um at) {
    return static_cast<std::size_t>(std::upper_bound(edges.begin(), edges.end(), at) - edges.begin()) - 1;
  };
  for (const packing::PalletCell& cell : cells) {
    const Um x_high = cell.x + (cell.along_length ? l : w), y_high = cell.y + (cell.along_length ? w : l);
    if (cell.x < 0 || cell.y < 0 || x_high > region.x.back() || y_high > region.y.back()) return false;
    for (Um x = cell.x; x < x_high; ++x) {
      for (Um y = cell.y; y < y_high; ++y) {
        if (!region.is_free(part_of(region.x, x), part_of(region.y, y)) || !taken.emplace(x, y).second) return false;
      }
    }
  }
  return true;
}

TEST_CASE("right-angled cavities: the search from one side finds every count there is room for, and refuses one more") {
  std::mt19937_64 random(77);
  const auto draw = [&](int low, int high) { return low + static_cast<int>(random() % static_cast<std::uint64_t>(high - low + 1)); };
  for (int round = 0; round < 150; ++round) {
    const int w = draw(1, 3), l = draw(w, 5), width = draw(4, 7), length = draw(5, 12);
    packing::BayRegion region{{0, draw(1, length / 2), draw(length / 2 + 1, length - 1), length}, {0, draw(1, width / 2), draw(width / 2 + 1, width - 1), width}, {}};
    for (int part = 0; part < 9; ++part) region.free.push_back(draw(0, 3) > 0);
    std::vector<std::vector<bool>> blocked(static_cast<std::size_t>(length), std::vector<bool>(static_cast<std::size_t>(width), false));
    const auto part_of = [](const std::vector<Um>& edges, int at) { return at < edges[1] ? 0u : at < edges[2] ? 1u : 2u; };
    for (int x = 0; x < length; ++x) {
      for (int y = 0; y < width; ++y) blocked[static_cast<std::size_t>(x)][static_cast<std::size_t>(y)] = !region.is_free(part_of(region.x, x), part_of(region.y, y));
    }
    const int most = most_by_table(length, width, l, w, blocked);
    CAPTURE(round);
    long long steps = 0;
    const packing::BayLines lines(region, l, w);
    packing::BayFrontSearch search(lines, l, w);
    if (most > 0) {
      CHECK(search.run(most, packing::BayFrontSearch::any_width, 1'000'000, steps) == packing::Answer::reached);
      CHECK(search.cells().size() == static_cast<std::size_t>(most));
      CHECK(stand_apart(region, search.cells(), l, w));
    }
    CHECK(search.run(most + 1, packing::BayFrontSearch::any_width, 1'000'000, steps) == packing::Answer::refused);
    // With few fronts kept it may miss a count there is room for, and says so; it never refuses one.
    for (int fewer = most; fewer > 0; --fewer) {
      for (const std::size_t width : {1u, 30u}) {
        const packing::Answer told = search.run(fewer, width, 1'000'000, steps);
        CHECK(told != packing::Answer::refused);
        if (told == packing::Answer::reached) CHECK(stand_apart(region, search.cells(), l, w));
      }
    }
    // Nor does it refuse when work runs out.
    if (most > 0) CHECK(search.run(most, packing::BayFrontSearch::any_width, 1, steps) != packing::Answer::refused);
  }
}

TEST_CASE("right-angled cavities: as many as a table of all states tells, proven") {
  std::mt19937_64 random(404);
  const auto draw = [&](int low, int high) { return low + static_cast<int>(random() % static_cast<std::uint64_t>(high - low + 1)); };
  survey::Rules rules = bare_rules();
  rules.arrangement = survey::Arrangement::mixed;
  constexpr int rounds = 80;
  for (int round = 0; round < rounds; ++round) {
    const int w = draw(1, 2), l = draw(w + 1, 4), width = draw(5, 7), length = draw(8, 14);
    // A corner and a notch are missing, or a corner and a hole.
    const int corner_x = draw(2, length - 2), corner_y = draw(2, width - 2);
    const int hole_x = draw(1, std::max(1, corner_x - 2)), hole_end = std::min(corner_x - 1, hole_x + draw(1, 3)), hole_y = draw(0, 2), hole_top = hole_y + draw(1, 2);
    const bool has_hole = hole_end > hole_x && hole_top < width - 1;
    std::vector<std::vector<bool>> blocked(static_cast<std::size_t>(length), std::vector<bool>(static_cast<std::size_t>(width), false));
    for (int x = 0; x < length; ++x) {
      for (int y = 0; y < width; ++y) {
        const bool in_corner = x >= corner_x && y >= corner_y;
        const bool in_hole = has_hole && x >= hole_x && x < hole_end && y >= hole_y && y < hole_top;
        blocked[static_cast<std::size_t>(x)][static_cast<std::size_t>(y)] = in_corner || in_hole;
      }
    }
    constexpr Um k = 10'000;
    Corners outline;
    if (has_hole && hole_y == 0) {
      outline = {{0, 0}, {hole_x * k, 0}, {hole_x * k, hole_top * k}, {hole_end * k, hole_top * k}, {hole_end * k, 0}};
    } else {
      outline = {{0, 0}};
    }
    outline.insert(outline.end(), {{length * k, 0}, {length * k, corner_y * k}, {corner_x * k, corner_y * k}, {corner_x * k, width * k}, {0, width * k}});
    std::vector<Corners> holes;
    if (has_hole && hole_y > 0) holes = {{{hole_x * k, hole_y * k}, {hole_x * k, hole_top * k}, {hole_end * k, hole_top * k}, {hole_end * k, hole_y * k}}};
    packing::PackOptions options;
    options.mixed_budget = 3'000;
    const auto packing = packing::pack_cavity(shaft(outline, k, holes), cell(w * k, l * k, k), rules, options);
    const int most = most_by_table(length, width, l, w, blocked);
    CAPTURE(round);
    CHECK(packing.cells == most);
    CHECK(packing.proven);
  }
}
