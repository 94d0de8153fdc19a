#include "pallet_pieces.hpp"

#include <algorithm>
#include <cstdlib>

#include "pallet_bound.hpp"

namespace cellstow::packing {
namespace {

std::uint64_t key(const CutPiece& piece) {
  const auto part = [](int value, int shift) { return static_cast<std::uint64_t>(value) << shift; };
  return part(piece.length, 48) | part(piece.width, 32) | part(piece.arm_x, 16) | part(piece.arm_y, 0);
}

std::int16_t small(int value) { return static_cast<std::int16_t>(value); }

}  // namespace

PieceSearch::PieceSearch(const SmallPallet& pallet)
    : pallet_(pallet), reach_(pallet, std::max(pallet.length, pallet.width)) {}

/// Cut down to what cells can fill, long side first; and how that lies in the piece as it was.
PlacedCutPiece PieceSearch::trimmed(const CutPiece& piece) const {
  CutPiece p{reach_.floor(piece.length), reach_.floor(piece.width), reach_.floor(piece.arm_x), reach_.floor(piece.arm_y)};
  if (p.arm_x == 0) p = {p.length, p.arm_y, p.length, p.arm_y};
  if (p.arm_y == 0) p = {p.arm_x, p.width, p.arm_x, p.width};
  if (p.arm_x == p.length || p.arm_y == p.width) p = {p.length, p.width, p.length, p.width};
  if (std::pair(p.length, p.arm_x) >= std::pair(p.width, p.arm_y)) return {p, {}};
  return {{p.width, p.length, p.arm_y, p.arm_x}, {0, 0, 1, 1, true}};
}

/// No packing of the piece holds more: by area, and for rectangles by lines across it.
int PieceSearch::ruled_out_above(const CutPiece& piece) const {
  if (piece.length == 0 || piece.width == 0) return 0;
  if (!piece.is_rectangle()) return piece.area() / pallet_.cell_area();
  return pallet_bound({piece.length, piece.width, pallet_.long_side, pallet_.short_side});
}

PieceSearch::Known& PieceSearch::known(const CutPiece& piece) {
  const auto [found, added] = known_.try_emplace(key(piece));
  Known& entry = found->second;
  if (added) {
    entry.possible = small(ruled_out_above(piece));
    if (piece.is_rectangle()) {
      const int along = (piece.length / pallet_.long_side) * (piece.width / pallet_.short_side);
      const int across = (piece.length / pallet_.short_side) * (piece.width / pallet_.long_side);
      entry.reached = small(std::max(along, across));
    }
  }
  return entry;
}

/// One of the two is asked for what the other cannot give, until both agree or nothing is left to ask.
bool PieceSearch::try_cut(const CutPiece& piece, const Cut& cut, int cells) {
  --left_;
  const auto [first, second] = cut_up(piece, cut);
  const CutPiece one = trimmed(first.piece).piece, other = trimmed(second.piece).piece;
  if (one.area() / pallet_.cell_area() + other.area() / pallet_.cell_area() < cells) return false;
  Known &of_one = known(one), &of_other = known(other);
  while (left_ > 0 && of_one.possible + of_other.possible >= cells) {
    if (!reach(one, cells - of_other.possible)) continue;
    if (!reach(other, cells - of_one.reached)) continue;
    Known& here = known(piece);
    here.reached = small(of_one.reached + of_other.reached);
    here.cut = cut;
    return true;
  }
  return false;
}

bool PieceSearch::try_rectangle(const CutPiece& piece, int cells) {
  const auto& sums = reach_.sums();
  for (const bool swapped : {false, true}) {
    const int along = swapped ? piece.width : piece.length;
    for (const int a : sums) {
      if (a > 0 && 2 * a <= along && try_cut(piece, {Cut::Kind::straight, swapped, small(a)}, cells)) return true;
    }
  }
  for (const bool swapped : {false, true}) {
    const int along = swapped ? piece.width : piece.length, across = swapped ? piece.length : piece.width;
    for (const int a : sums) {
      if (a > along) break;
      for (const int c : sums) {
        // Turned by half a circle, (a, b, c) is (along - c, across - b, along - a).
        if (c >= a || a + c > along) break;
        for (const int b : sums) {
          if (b >= across) break;
          if (b > 0 && try_cut(piece, {Cut::Kind::stairs, swapped, small(a), small(b), small(c)}, cells)) return true;
          if (left_ <= 0) return false;
        }
      }
    }
  }
  return false;
}

bool PieceSearch::try_shape(const CutPiece& piece, int cells, bool swapped) {
  const int X = swapped ? piece.width : piece.length, Y = swapped ? piece.length : piece.width;
  const int x = swapped ? piece.arm_y : piece.arm_x, y = swapped ? piece.arm_x : piece.arm_y;
  const auto& sums = reach_.sums();
  for (const int a : sums) {
    if (a == 0 || a >= X) continue;
    if (try_cut(piece, {a <= x ? Cut::Kind::near : Cut::Kind::far, swapped, small(a)}, cells)) return true;
  }
  for (const int a : sums) {
    if (a == 0 || a > x) continue;
    for (const int b : sums) {
      if (b > Y || left_ <= 0) break;
      if (!swapped && b > 0 && b <= y && (a < x || b < y) &&
          try_cut(piece, {Cut::Kind::nested, false, small(a), small(b)}, cells)) {
        return true;
      }
      if (b == y || (a == x && b == Y)) continue;
      if (try_cut(piece, {b < y ? Cut::Kind::low : Cut::Kind::high, swapped, small(a), small(b)}, cells)) return true;
    }
  }
  return false;
}

bool PieceSearch::reach(const CutPiece& piece, int cells) {
  Known& entry = known(piece);
  if (entry.reached >= cells) return true;
  if (entry.possible < cells) return false;
  const bool found = piece.is_rectangle() ? try_rectangle(piece, cells)
                                          : try_shape(piece, cells, false) || try_shape(piece, cells, true);
  if (!found && left_ > 0) entry.possible = small(cells - 1);
  return found;
}

CutPiece PieceSearch::whole() const { return {pallet_.length, pallet_.width, pallet_.length, pallet_.width}; }

Answer PieceSearch::reach(int cells, long long budget, long long& steps) {
  left_ = budget;
  const bool found = reach(trimmed(whole()).piece, cells);
  steps += budget - left_;
  return found ? Answer::reached : left_ > 0 ? Answer::refused : Answer::given_up;
}

int PieceSearch::reached() { return known(trimmed(whole()).piece).reached; }

std::vector<SmallCell> PieceSearch::cells() {
  std::vector<SmallCell> cells;
  const auto [trim, frame] = trimmed(whole());
  place(trim, frame, cells);
  return cells;
}

void PieceSearch::place(const CutPiece& piece, const Frame& frame, std::vector<SmallCell>& cells) {
  const Known here = known(piece);
  if (here.cut.kind == Cut::Kind::none) return place_rows(piece, frame, cells);
  const auto [one, other] = cut_up(piece, here.cut);
  for (const PlacedCutPiece& part : {one, other}) {
    const auto [trim, lies] = trimmed(part.piece);
    place(trim, frame.then(part.frame).then(lies), cells);
  }
}

/// The better of both ways round, in a rectangle; a shape that was never cut holds nothing.
void PieceSearch::place_rows(const CutPiece& piece, const Frame& frame, std::vector<SmallCell>& cells) const {
  if (!piece.is_rectangle()) return;
  const auto rows = [&](int u, int v) { return (piece.length / u) * (piece.width / v); };
  int u = pallet_.long_side, v = pallet_.short_side;
  if (rows(v, u) > rows(u, v)) std::swap(u, v);
  for (int x = 0; x + u <= piece.length; x += u) {
    for (int y = 0; y + v <= piece.width; y += v) {
      const auto [ax, ay] = frame.point(x, y);
      const auto [bx, by] = frame.point(x + u, y + v);
      cells.push_back({std::min(ax, bx), std::min(ay, by), std::abs(bx - ax) == pallet_.long_side});
    }
  }
}

}  // namespace cellstow::packing
