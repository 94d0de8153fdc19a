#pragma once
/// Material in a plane, and which part of a straight strip it leaves free. The one geometric question
/// that packing in rows asks; answered exactly, on the 1 um grid, without building any offset polygon.
/// Knows no cars and no cells.

#include <limits>
#include <vector>

#include "cellstow/core/length.hpp"

namespace cellstow::geometry {

using core::Um;

/// A point of the plane: s along the strips, t across them.
struct PointUm {
  Um s = 0, t = 0;
  auto operator<=>(const PointUm&) const = default;
};

/// low <= high. As blocked space it is open (its ends may be touched), as free space closed.
struct SpanUm {
  Um low = 0, high = 0;
  Um length() const { return high - low; }
  auto operator<=>(const SpanUm&) const = default;
};

/// Farther out than any coordinate of a job (10 m), near enough for exact products.
inline constexpr Um far_um = 20'000'000;

enum class Side { inside, outside };

using Loop = std::vector<PointUm>;

/// Material bounded by closed loops, and the distance others keep from it.
///
/// A point is blocked when it lies in the material's interior or nearer than `reach` to it
/// (Euclidean). Touching is allowed: the blocked set is open.
///
/// Loops are read by the even-odd rule: material is what lies inside them (Side::inside, a keep-out)
/// or outside (Side::outside, a cavity outline with its holes). Loops do not cross one another. A loop of a single point is a disc
/// of radius `reach`.
class Wall {
 public:
  /// @pre every loop has at least one point; coordinates within +-far_um; 0 <= reach <= 2 m
  Wall(std::vector<Loop> loops, Side material, Um reach, int source);

  /// Adds to `blocked` every span of s at which the strip { t_low < t < t_high } meets the blocked
  /// set; ends rounded outward to whole um. The spans added are disjoint and rise.
  ///
  /// Exact for blocks with whole-um corners: such a block fits if and only if it meets no span.
  /// Cost: O(k log n) for k boundary pieces that cross the strip's edges.
  void add_blocked(Um t_low, Um t_high, std::vector<SpanUm>& blocked) const;

  /// The same wall with s and t swapped.
  Wall transposed() const;

  int source() const { return source_; }
  Um reach() const { return reach_; }
  Side material() const { return material_; }
  const std::vector<Loop>& loops() const { return loops_; }
  /// Lowest and highest t (and s) of any loop point, reach not included.
  SpanUm extent_t() const { return extent_t_; }
  SpanUm extent_s() const { return extent_s_; }

 private:
  struct Chain { Um s_low, s_high, t_low, t_high; };       ///< bounds of a run of edges
  struct Piece { Um low, high; bool crosses; };            ///< blocked span of a run of edges

  static Chain edge_bounds(const Loop& loop, std::size_t first);
  void collect(std::size_t loop, std::size_t node, std::size_t first, std::size_t count, Um t_low,
               Um t_high, std::vector<Piece>& pieces) const;

  std::vector<Loop> loops_;
  std::vector<std::vector<Chain>> trees_;                  ///< one implicit binary tree a loop
  std::vector<std::vector<Um>> reach_by_length_;           ///< one an edge: reach times its length, rounded up
  Side material_;
  Um reach_;
  int source_;
  SpanUm extent_s_, extent_t_;
};

/// What the blocked spans leave free, between -far_um and far_um. `blocked` is sorted in place.
void complement(std::vector<SpanUm>& blocked, std::vector<SpanUm>& free);

/// Highest s, rounded up, that the segment p-q widened by `reach` attains within t_low <= t <= t_high.
/// @pre the widened segment meets that strip
Um highest_s(PointUm p, PointUm q, Um reach, Um t_low, Um t_high);

}  // namespace cellstow::geometry
