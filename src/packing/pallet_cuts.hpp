#pragma once
/// Rectangles and L-shapes, and the ways of cutting one into two. Internal to packing.

#include <cstdint>
#include <utility>

namespace cellstow::packing {

/// How a piece lies in the piece it was cut from: swap its axes if told to, mirror, then shift.
struct Frame {
  int x = 0, y = 0;
  int sign_x = 1, sign_y = 1;
  bool swapped = false;

  std::pair<int, int> point(int u, int v) const {
    return swapped ? std::pair(x + sign_x * v, y + sign_y * u) : std::pair(x + sign_x * u, y + sign_y * v);
  }
  /// `inner` lies in the piece that lies in this frame.
  Frame then(const Frame& inner) const;
};

/// A rectangle length x width without its far corner: of the length only `arm_x` is there above `arm_y`.
/// A rectangle has arm_x = length and arm_y = width.
struct CutPiece {
  int length = 0, width = 0, arm_x = 0, arm_y = 0;
  bool is_rectangle() const { return arm_x == length; }
  int area() const { return length * width - (length - arm_x) * (width - arm_y); }
  bool operator==(const CutPiece&) const = default;
};

struct PlacedCutPiece { CutPiece piece; Frame frame; };

/// Where a cut runs. In a rectangle X x Y:
///
///   straight   x = a
///   stairs     (a, 0) - (a, b) - (c, b) - (c, Y), c < a: two L-shapes, or a corner and an L-shape
///
/// In an L-shape X, Y, x, y:
///
///   near       x = a, a <= x
///   far        x = a, a > x
///   nested     (a, Y) - (a, b) - (X, b), a <= x, b <= y
///   low        (0, b) - (a, b) - (a, y) - (x, y), a <= x, b < y
///   high       the same with b > y
///
/// `swapped`: the same with x and y exchanged.
/// Source: the idea of cutting an L-shape into two, Lins, Lins and Morabito, J. Oper. Res. Soc. 54 (2003) 777-789, from memory; the
/// cuts themselves were derived anew.
struct Cut {
  enum class Kind : std::uint8_t { none, straight, stairs, near, far, nested, low, high };
  Kind kind = Kind::none;
  bool swapped = false;
  std::int16_t a = 0, b = 0, c = 0;
};

/// Both pieces of a cut, not yet cut down to what cells can fill.
std::pair<PlacedCutPiece, PlacedCutPiece> cut_up(const CutPiece& piece, const Cut& cut);

}  // namespace cellstow::packing
