#include "pallet_cuts.hpp"

namespace cellstow::packing {
namespace {

CutPiece rectangle(int length, int width) { return {length, width, length, width}; }

/// An L-shape whose arm may be as long or as broad as the whole, or nothing.
CutPiece shape(int length, int width, int arm_x, int arm_y) {
  if (arm_x == length || arm_y == width) return rectangle(length, width);
  if (arm_x == 0) return rectangle(length, arm_y);
  if (arm_y == 0) return rectangle(arm_x, width);
  return {length, width, arm_x, arm_y};
}

std::pair<PlacedCutPiece, PlacedCutPiece> cut_as_it_lies(const CutPiece& p, const Cut& cut) {
  const int X = p.length, Y = p.width, x = p.arm_x, y = p.arm_y, a = cut.a, b = cut.b, c = cut.c;
  switch (cut.kind) {
    case Cut::Kind::none: break;
    case Cut::Kind::straight: return {{rectangle(a, Y), {}}, {rectangle(X - a, Y), {a, 0}}};
    case Cut::Kind::stairs:
      return {{shape(a, Y, c, b), {}}, {shape(X - c, Y, X - a, Y - b), {X, Y, -1, -1}}};
    case Cut::Kind::near: return {{rectangle(a, Y), {}}, {shape(X - a, Y, x - a, y), {a, 0}}};
    case Cut::Kind::far: return {{shape(a, Y, x, y), {}}, {rectangle(X - a, y), {a, 0}}};
    case Cut::Kind::nested: return {{shape(X, Y, a, b), {}}, {shape(X - a, Y - b, x - a, y - b), {a, b}}};
    case Cut::Kind::low:
      return {{shape(X, y, X - a, b), {X, 0, -1, 1}}, {shape(x, Y - b, a, Y - y), {0, Y, 1, -1}}};
    case Cut::Kind::high:
      return {{shape(X, b, a, y), {}}, {shape(x, Y - y, x - a, Y - b), {x, Y, -1, -1}}};
  }
  return {};
}

}  // namespace

Frame Frame::then(const Frame& inner) const {
  const auto [px, py] = point(inner.x, inner.y);
  // The inner axes u, v map to inner signs first; swapping exchanges which of ours they follow.
  const int su = inner.sign_x, sv = inner.sign_y;
  if (!swapped) return {px, py, sign_x * su, sign_y * sv, inner.swapped};
  return {px, py, sign_x * sv, sign_y * su, !inner.swapped};
}

std::pair<PlacedCutPiece, PlacedCutPiece> cut_up(const CutPiece& piece, const Cut& cut) {
  if (!cut.swapped) return cut_as_it_lies(piece, cut);
  auto [one, other] = cut_as_it_lies({piece.width, piece.length, piece.arm_y, piece.arm_x}, cut);
  const Frame swap{0, 0, 1, 1, true};
  return {{one.piece, swap.then(one.frame)}, {other.piece, swap.then(other.frame)}};
}

}  // namespace cellstow::packing
