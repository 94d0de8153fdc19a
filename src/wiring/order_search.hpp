#pragma once
/// The order of the blocks of every box, and how each block is passed. Internal to wiring.

#include <cstdint>
#include <optional>
#include <vector>

#include "joins.hpp"

namespace cellstow::wiring {

/// How a block is passed.
struct BlockWay {
  int block = 0;               ///< index into the layout's blocks
  bool falling = false;        ///< entered at its last place
  Setting first;               ///< of the cell met first; the others follow from it
};

/// One box to order: where its two ends would best lie, in its own frame.
struct BoxTask {
  const packing::BoxLayout* layout = nullptr;
  std::vector<std::vector<Facing>> facings;   ///< by block: the sides its posts may look to (post_room.hpp)
  std::optional<Spot> near_first, near_last;  ///< of the first cell's negative post, of the last one's positive
  int cells_before = 0;        ///< cells of the string in the boxes before
};

struct StringOrder {
  std::vector<std::vector<BlockWay>> boxes;  ///< one a task
  bool proven = false;
};

/// The cells of a block in the order they are passed, set so that current can pass straight from one to the next.
///
/// @param before    cells of the string before this block
/// @param parallel  cells that share a group
std::vector<SetCell> cells_of(const packing::BoxLayout& layout, const BlockWay& way, int before, int parallel);

/// Orders all boxes at once, since kinds of link are counted over the whole string.
///
/// Labels (set of blocks passed, way the last one was left; jumpers, posts passed, kinds, length, ends) grow block by block; a label that another one
/// beats whatever follows is dropped. Exact while no more labels arise than are kept; then `proven` is false.
/// @pre at most 64 blocks a box
StringOrder order_blocks(const std::vector<BoxTask>& tasks, core::Length offset, int parallel);

}  // namespace cellstow::wiring
