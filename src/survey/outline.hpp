#pragma once
/// Closed outlines as measured: exact tests on the 1 um grid, no tolerance anywhere.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "fields.hpp"

namespace cellstow::survey {

using Ring = std::vector<core::Point2>;

/// Twice the signed area in um2; positive when the ring runs counter-clockwise in (a, b).
///
///   2 A = sum over edges of (a_i b_{i+1} - a_{i+1} b_i)
///
/// @pre coordinates within +-10 m and at most most_vertices corners: the sum stays below 2^63
/// Source: shoelace formula
std::int64_t twice_area_um2(const Ring& ring);

/// Two edges that share a point they must not share, by the index of their first vertex.
struct Meeting {
  std::size_t first, second;
};

/// The edges of one ring that cross, touch or lie on each other, neighbours that double back
/// included.
std::vector<Meeting> self_meetings(const Ring& ring);

/// The first edge of `ring` that has a point in common with an edge of `other`.
std::optional<Meeting> meeting_of(const Ring& ring, const Ring& other);

/// Whether the point lies strictly inside. @pre the point is on no edge of the ring
bool encloses(const Ring& ring, const core::Point2& point);

/// The same ring run the other way, its first vertex still the first.
void reverse_keeping_first(Ring& ring);

inline constexpr std::size_t most_vertices = 2000;

/// Whether the ring is simple; `node` names it in problems.
/// @error E201, E202, E203, E204
bool check_ring(const Node& node, const Ring& ring);

/// A simple ring, as it stands in the file.
///
/// @error E201 fewer than 3 vertices, E202 vertex repeated, E203 outline crosses or touches itself,
///        E204 outline without area, and those of its coordinates
std::optional<Ring> read_ring(const Node& node);

/// As read_ring, counter-clockwise.
std::optional<Ring> read_outline(const Node& node);

/// @param outline  counter-clockwise
/// @param holes    simple rings with the nodes they came from
/// @error E205 a hole not wholly inside the outline, E206 two holes that meet or lie in one another
void check_holes(const Ring& outline, const std::vector<Ring>& holes,
                 const std::vector<Node>& nodes);

}  // namespace cellstow::survey
