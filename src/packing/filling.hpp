#pragma once
/// How many cells a straight run holds. Internal to packing.

#include <compare>
#include <vector>

#include "cellstow/core/length.hpp"
#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::packing {

using core::Um;

/// Worth of a row or of a whole layout: more cells first, then fewer blocks.
struct Filling {
  int cells = 0;
  int blocks = 0;
  bool operator==(const Filling&) const = default;
  bool better_than(const Filling& other) const {
    return cells != other.cells ? cells > other.cells : blocks < other.blocks;
  }
  Filling operator+(const Filling& other) const {
    return {cells + other.cells, blocks + other.blocks};
  }
};

/// A fitting or pod that cannot be placed: worse than any filling.
inline constexpr Filling impossible{-1'000'000'000, 0};

/// Sizes of one block, all in um.
struct BlockRule {
  Um cell_along = 0;       ///< one cell along the block
  Um breadth = 0;          ///< the cell's other footprint side
  Um between_cells = 0;
  Um ends = 0;             ///< both end plates and both strap spaces
  int min_cells = 1, max_cells = 1;

  /// n thickness + (n - 1) between_cells + 2 end_plate + 2 strap_space
  Um length(int cells) const { return cells * cell_along + (cells - 1) * between_cells + ends; }
};

BlockRule block_rule(const survey::Cell& cell, Stance stance, const survey::Rules& rules);

/// How blocks are laid in a strip.
enum class Laying {
  along,   ///< cells line up along the strip: the strip is one cell's breadth across
  across,  ///< cells line up across the strip: the strip is one block's length across
  fittings_only,
};

/// One kind of strip: what it is filled with and how broad it is.
struct StripKind {
  Laying laying = Laying::along;
  Stance stance = Stance::upright;
  BlockRule rule;
  int cells_across = 0;    ///< for Laying::across: cells of every block in the strip
  Um breadth = 0;          ///< of the strip, contents only
};

/// Best fillings of a run by its length: a table built once, read by binary search.
class FillTable {
 public:
  struct Entry { Um needed; Filling filling; };

  /// @param gap      least distance between two blocks of the run
  /// @param longest  no run is longer than this
  FillTable(const StripKind& kind, Um gap, Um longest);

  /// Most cells, then fewest blocks, that a run of this length holds.
  Filling best(Um length) const;
  /// Length taken by a filling of the table.
  Um needed(const Filling& filling) const;
  /// Shortest run that holds more cells than `cells`; -1 when the table ends there.
  Um needed_for_more(int cells) const;
  /// Cell counts block by block, as even as they come.
  std::vector<int> split(const Filling& filling) const;
  /// Entries with rising length, each better than those before it.
  const std::vector<Entry>& entries() const { return entries_; }
  Um gap() const { return gap_; }

 private:
  StripKind kind_;
  Um gap_;
  std::vector<Entry> entries_;
};

}  // namespace cellstow::packing
