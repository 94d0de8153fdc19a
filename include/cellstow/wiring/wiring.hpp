#pragma once
/// In what order the current passes the cells, how each is set, and what joins them.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"
#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"
#include "cellstow/wiring/post.hpp"

namespace cellstow::wiring {

/// One box to be wired. The layout must outlive the call.
struct BoxOfCells {
  std::string mark;
  const packing::BoxLayout* layout = nullptr;
};

/// A cell at its place in the string.
struct WiredCell {
  int number = 0;                ///< 1 ... along the string, from its negative end; parallel cells one after another
  int group = 0;                 ///< 1 ... series: cells in parallel share one
  int box = 0, cell = 0;         ///< index of the box as given; index into its layout's cells
  packing::Run runs = packing::Run::u;
  Setting setting;
  Spot plus, minus;              ///< posts, in the frame of the box
};

/// What joins two cells that follow each other.
enum class Join {
  link,    ///< bar or braid from post to post
  jumper,  ///< cable inside a box: too far, or over other cells
  cable,   ///< cable between two boxes
};

struct Connection {
  int number = 0;                ///< 1 ... in string order
  Join join = Join::link;
  bool parallel = false;         ///< joins like poles of one group
  int from = 0, to = 0;          ///< cell numbers
  Pole from_pole = Pole::plus, to_pole = Pole::minus;
  double centre_mm = 0;          ///< between post centres; 0 for a cable between boxes
  int kind = -1;                 ///< index into Wiring::kinds; -1 for jumpers and cables
  bool removable = false;        ///< fitted last, taken out first
  int piece = 0;                 ///< 1 ... : which piece of the string its `from` cell is in
  int in_piece = 0, in_string = 0;  ///< groups in series from the start of that piece, of the string, up to `from`
  std::vector<int> passes_post;  ///< cells with a post of another voltage that it passes close by
  std::vector<int> over_vent;    ///< cells whose vent it passes over
};

/// Links alike in centre distance.
struct LinkKind {
  std::string letter;            ///< "A" is the shortest
  int centre_mm = 0;             ///< between hole centres, nearest mm
  int slack_mm = 0;              ///< by how much a flexible link must give
  int count = 0, removable = 0;  ///< how many; of these removable
};

/// Cells that stay joined while the removable links are out.
struct Piece {
  int box = 0;
  int first_group = 0, last_group = 0;
  double max_v = 0;              ///< every cell full; 0 when the cell's voltage is not known
};

/// Two neighbouring live parts with the greatest voltage between them, of one box.
struct LivePair {
  int cell_a = 0, cell_b = 0;
  Pole pole_a = Pole::plus, pole_b = Pole::plus;
  double volts = 0, centre_mm = 0;
  double creepage_mm = 0;        ///< IEC 60664-1 Table F.4, pollution degree 3, material group III
};

struct BoxWiring {
  std::string mark;
  int first_cell = 0, last_cell = 0;     ///< numbers: the box's negative and positive end
  int jumpers = 0;
  double max_v = 0;                      ///< between its two ends, every cell full
  std::optional<LivePair> worst_pair;
};

struct Wiring {
  std::vector<WiredCell> cells;          ///< in string order
  std::vector<Connection> links;         ///< in string order
  std::vector<LinkKind> kinds;           ///< by centre distance
  std::vector<Piece> pieces;
  std::vector<BoxWiring> boxes;          ///< in string order
  std::vector<int> box_order;            ///< indices of the boxes as given, in string order
  int jumpers = 0;
  bool fewest_proven = false;            ///< no order of whole blocks has fewer jumpers; or as few and fewer links that pass a post; or fewer kinds
  std::vector<core::Check> checks;
  std::vector<std::string> cautions, notes;
  std::string why_not;                   ///< when there is nothing: what was missing
};

/// Farthest that a bar or braid is taken from post to post; farther needs a cable (common practice, no source).
inline constexpr double longest_link_mm = 250;

/// Orders the string.
///
/// Every block is passed whole, from one end to the other. Searched are the order of blocks, the end each is
/// entered at, the way round of every cell and, for cells not upright, the side their posts look to; wanted, in this order:
/// fewest jumpers, fewest links that pass close by another post, fewest kinds of link over the whole string, shortest joins, ends near fuse and neighbour box. How: docs/theory/wiring.md.
///
/// @pre   the layouts together hold series x parallel cells
/// @return nothing but why_not when terminal_offset is not known or a box has more than 64 blocks
Wiring wire_string(const survey::Cell& cell, const survey::StringSpec& string, const survey::Rules& rules,
                   const std::vector<BoxOfCells>& boxes);

}  // namespace cellstow::wiring
