#pragma once
/// Room in front of posts that look sideways. Internal to wiring.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/wiring/wiring.hpp"

namespace cellstow::wiring {

/// From the case outwards to the first thing that posts look at.
struct PostRoom {
  int cell = 0;          ///< index into the layout's cells
  double mm = 0;
  std::string towards;   ///< "the box wall", "block 3", "the main fuse"
};

/// Before posts, for a hand with a spanner: common practice, no source.
inline constexpr double room_for_a_hand_mm = 60;

/// How far liner and other things must keep from the case: what the posts stand out, and 5 mm (common practice, no source). Nothing where nothing stands out: posts and the
/// room before them are then counted into the cell's height.
double post_room_needed_mm(const survey::Cell& cell);

/// The least room before the posts of one block, when they look to that side; 12.5 mm either side of a post count (half a lug, common practice).
/// @pre facing is rising or falling
/// @return nothing when nothing is there
std::optional<PostRoom> room_before(const packing::BoxLayout& layout, const packing::Block& block, Facing facing, core::Length offset, const survey::Rules& rules);

/// The sides that the posts of every block may look to: where there is room, or every side its stance allows when none has room.
std::vector<std::vector<Facing>> facings_of(const survey::Cell& cell, const survey::Rules& rules, const packing::BoxLayout& layout);

}  // namespace cellstow::wiring
