#pragma once
/// Bounds on equal cells in a rectangle. Internal to packing.

#include "pallet_sizes.hpp"

namespace cellstow::packing {

/// Bars 1 x m in a rectangle leave at least min(r s, (m - r)(m - s)) uncovered, r and s the remainders of its sides;
/// taken for m = long side and m = short side.
/// Source: F. W. Barnes, "Packing the maximum number of m x n tiles in a large p x q rectangle", Discrete Mathematics 26 (1979) 93-100.
int barnes_bound(const SmallPallet& pallet);

/// Weights that are met by two partitions and exceeded by none: one set for each edge of the hull. A side of the hull on which
/// only one way round counts is an edge as well.
struct LineWeights { long long of_long, of_short, most; };
std::vector<LineWeights> hull_edges(const Partitions& pairs);

/// What lines across the rectangle can carry, in both directions at once.
///
/// Let H cells lie with the long side along the length and V the other way. For weights f of sides along the length, with
/// i f_long + j f_short <= F for every partition (i, j) of the length, and likewise g along the width,
///
///   H f_long g_short + V f_short g_long <= F G.
///
/// Only the weights belonging to the edges of both convex hulls count. The most H + V that keeps all of these is the bound; it
/// contains the area bound of every rectangle with the same partitions.
/// Source: H. Isermann, "Ein Planungssystem zur Optimierung der Palettenbeladung", OR Spektrum 9 (1987), from memory; weights as
/// conservative scales: Fekete and Schepers, Operations Research 45 (1997), from memory.
int bar_bound(const Partitions& of_length, const Partitions& of_width);

/// The least of both, for a rectangle within a pallet.
int pallet_bound(const SmallPallet& pallet);

}  // namespace cellstow::packing
