#include "cellstow/wiring/wiring.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "box_order.hpp"
#include "live_pair.hpp"
#include "post_room.hpp"
#include "removable.hpp"

namespace cellstow::wiring {
namespace {

using packing::BoxLayout;

constexpr std::size_t most_blocks = 64;
constexpr double least_slack_mm = 3;  // a flexible link's slack: common practice, no source

/// What every step needs.
struct Work {
  const survey::Cell& cell;
  const survey::Rules& rules;
  const std::vector<BoxOfCells>& boxes;
  int parallel;
  core::Length offset;
  double cell_max_v;           ///< 0 when not known
};

const BoxLayout& layout_of(const Work& work, const WiredCell& cell) { return *work.boxes[static_cast<std::size_t>(cell.box)].layout; }

const packing::Block& block_of(const Work& work, const WiredCell& cell) {
  const BoxLayout& layout = layout_of(work, cell);
  const int id = layout.cells[static_cast<std::size_t>(cell.cell)].block;
  return *std::find_if(layout.blocks.begin(), layout.blocks.end(), [&](const packing::Block& block) { return block.id == id; });
}

void add_cells(const Work& work, const StringOrder& order, Wiring& wiring) {
  for (std::size_t i = 0; i < order.boxes.size(); ++i) {
    const int box = wiring.box_order[i];
    const BoxLayout& layout = *work.boxes[static_cast<std::size_t>(box)].layout;
    for (const BlockWay& way : order.boxes[i]) {
      for (const SetCell& set : cells_of(layout, way, static_cast<int>(wiring.cells.size()), work.parallel)) {
        const int number = static_cast<int>(wiring.cells.size()) + 1;
        const packing::PlacedCell& placed = layout.cells[static_cast<std::size_t>(set.cell)];
        wiring.cells.push_back({number, (number - 1) / work.parallel + 1, box, set.cell, set.runs, set.setting,
                                post_of(placed, set.runs, set.setting, Pole::plus, work.offset),
                                post_of(placed, set.runs, set.setting, Pole::minus, work.offset)});
      }
    }
  }
}

void add_connection(const Work& work, const WiredCell& from, Pole from_pole, const WiredCell& to, Pole to_pole, Wiring& wiring) {
  Connection link;
  link.number = static_cast<int>(wiring.links.size()) + 1;
  link.parallel = from_pole == to_pole;
  link.from = from.number, link.to = to.number;
  link.from_pole = from_pole, link.to_pole = to_pole;
  link.in_string = from.group;
  if (from.box != to.box) {
    link.join = Join::cable;
  } else {
    const BoxLayout& layout = layout_of(work, from);
    const Joint joint = joint_between(layout, work.offset, {from.cell, from.runs, from.setting}, from_pole, {to.cell, to.runs, to.setting}, to_pole);
    link.join = block_of(work, from).id == block_of(work, to).id ? Join::link : joint.join;
    link.centre_mm = static_cast<double>(joint.length_um) / 1000;
  }
  wiring.links.push_back(link);
}

void add_connections(const Work& work, Wiring& wiring) {
  for (std::size_t i = 1; i < wiring.cells.size(); ++i) {
    const WiredCell &from = wiring.cells[i - 1], &to = wiring.cells[i];
    if (from.group == to.group) {
      add_connection(work, from, Pole::plus, to, Pole::plus, wiring);
      add_connection(work, from, Pole::minus, to, Pole::minus, wiring);
    } else {
      add_connection(work, from, Pole::plus, to, Pole::minus, wiring);
    }
  }
}

std::vector<WiredCell> cells_in(const Wiring& wiring, int box) {
  std::vector<WiredCell> out;
  for (const WiredCell& cell : wiring.cells) {
    if (cell.box == box) out.push_back(cell);
  }
  return out;
}

const WiredCell& numbered(const Wiring& wiring, int number) { return wiring.cells[static_cast<std::size_t>(number) - 1]; }

void add_remarks(const Work& work, Wiring& wiring) {
  for (const int box : wiring.box_order) {
    const std::vector<WiredCell> cells = cells_in(wiring, box);
    for (Connection& link : wiring.links) {
      const WiredCell& from = numbered(wiring, link.from);
      if (link.join != Join::link || from.box != box) continue;
      add_passed(cells, *work.boxes[static_cast<std::size_t>(box)].layout, link, from, numbered(wiring, link.to));
    }
  }
}

/// By how much the posts of a link may move apart over the cells' life: in a block one cell's growth, else half of both blocks'.
double growth_mm(const Work& work, const WiredCell& from, const WiredCell& to) {
  const auto per_cell = [&](const WiredCell& cell) {
    return block_of(work, cell).stance == survey::Stance::flat ? 0.0 : work.cell.thickness.mm() * work.cell.growth_percent / 100;
  };
  const packing::Block &a = block_of(work, from), &b = block_of(work, to);
  if (a.id == b.id) return per_cell(from);
  return (a.cells * per_cell(from) + b.cells * per_cell(to)) / 2;
}

std::string letter_of(std::size_t index) {
  std::string out;
  for (std::size_t i = index + 1; i > 0; i = (i - 1) / 26) out.insert(out.begin(), static_cast<char>('A' + (i - 1) % 26));
  return out;
}

void add_kinds(const Work& work, Wiring& wiring) {
  std::map<int, LinkKind> by_mm;
  for (const Connection& link : wiring.links) {
    if (link.join != Join::link) continue;
    LinkKind& kind = by_mm[kind_mm(std::llround(link.centre_mm * 1000))];
    ++kind.count;
    if (link.removable) ++kind.removable;
    const double slack = std::max(least_slack_mm, growth_mm(work, numbered(wiring, link.from), numbered(wiring, link.to)));
    kind.slack_mm = std::max(kind.slack_mm, static_cast<int>(std::ceil(slack - 1e-9)));
  }
  for (auto& [mm, kind] : by_mm) {
    kind.centre_mm = mm;
    kind.letter = letter_of(wiring.kinds.size());
    wiring.kinds.push_back(kind);
  }
  for (Connection& link : wiring.links) {
    if (link.join != Join::link) continue;
    const int mm = kind_mm(std::llround(link.centre_mm * 1000));
    for (std::size_t i = 0; i < wiring.kinds.size(); ++i) {
      if (wiring.kinds[i].centre_mm == mm) link.kind = static_cast<int>(i);
    }
  }
}

/// Groups in series that a piece may have; decided on whole microvolts.
int groups_allowed(const Work& work) {
  const std::int64_t cell = std::llround(work.cell_max_v * 1e6), most = std::llround(work.rules.open_link_max.value() * 1e6);
  return cell > 0 ? static_cast<int>(std::min<std::int64_t>(most / cell, 1'000'000)) : 0;
}

/// Series joints of one box, in order.
std::vector<Connection*> series_joints(Wiring& wiring, int box) {
  std::vector<Connection*> out;
  for (Connection& link : wiring.links) {
    const bool inside = numbered(wiring, link.from).box == box && numbered(wiring, link.to).box == box;
    if (inside && !link.parallel) out.push_back(&link);
  }
  return out;
}

void mark_removable(const Work& work, Wiring& wiring) {
  for (Connection& link : wiring.links) link.removable = link.join == Join::cable;
  if (work.cell_max_v <= 0) return;
  for (const int box : wiring.box_order) {
    const std::vector<Connection*> joints = series_joints(wiring, box);
    std::vector<bool> at_turn;
    for (const Connection* joint : joints) {
      at_turn.push_back(block_of(work, numbered(wiring, joint->from)).id != block_of(work, numbered(wiring, joint->to)).id);
    }
    const int groups = static_cast<int>(joints.size()) + 1;
    for (const int joint : removable_joints(groups, at_turn, std::max(1, groups_allowed(work)))) {
      joints[static_cast<std::size_t>(joint)]->removable = true;
    }
  }
}

void add_pieces(const Work& work, Wiring& wiring) {
  if (wiring.cells.empty()) return;
  const auto close = [&](int last_group) {
    Piece& piece = wiring.pieces.back();
    piece.last_group = last_group;
    piece.max_v = (last_group - piece.first_group + 1) * work.cell_max_v;
  };
  wiring.pieces.push_back({wiring.cells.front().box, 1, 0, 0});
  for (Connection& link : wiring.links) {
    const WiredCell &from = numbered(wiring, link.from), &to = numbered(wiring, link.to);
    link.piece = static_cast<int>(wiring.pieces.size());
    link.in_piece = from.group - wiring.pieces.back().first_group + 1;
    if (!link.removable || link.parallel) continue;
    close(from.group);
    wiring.pieces.push_back({to.box, to.group, 0, 0});
  }
  close(wiring.cells.back().group);
}

void add_boxes(const Work& work, Wiring& wiring) {
  for (const int box : wiring.box_order) {
    const std::vector<WiredCell> cells = cells_in(wiring, box);
    if (cells.empty()) continue;
    BoxWiring out{work.boxes[static_cast<std::size_t>(box)].mark, cells.front().number, cells.back().number, 0, 0, {}};
    for (const Connection& link : wiring.links) {
      if (link.join == Join::jumper && numbered(wiring, link.from).box == box) ++out.jumpers;
    }
    out.max_v = (cells.back().group - cells.front().group + 1) * work.cell_max_v;
    if (work.cell_max_v > 0) out.worst_pair = worst_pair(cells, work.cell_max_v);
    wiring.jumpers += out.jumpers;
    wiring.boxes.push_back(std::move(out));
  }
}

void check_pieces(const Work& work, Wiring& wiring) {
  if (wiring.pieces.empty() || work.cell_max_v <= 0) return;
  const Piece* worst = &wiring.pieces.front();
  for (const Piece& piece : wiring.pieces) {
    if (piece.max_v > worst->max_v) worst = &piece;
  }
  wiring.checks.push_back(core::check_at_most(
      "piece of the string with its removable links out", "box " + work.boxes[static_cast<std::size_t>(worst->box)].mark, worst->max_v,
      work.rules.open_link_max.value(), "V",
      "cells in series of the piece x highest cell voltage against \"open_link_max_v\"; above 60 V DC is voltage class B (UN R100, ISO 6469-3)",
      "a single cell is above the limit: raise \"open_link_max_v\" only where the local rules allow it"));
}

void check_spacing(const Work& work, Wiring& wiring) {
  const double out_mm = (work.cell.terminal_top - work.cell.height).mm();
  for (const BoxWiring& box : wiring.boxes) {
    if (!box.worst_pair || box.worst_pair->creepage_mm <= 0) continue;
    const LivePair& pair = *box.worst_pair;
    wiring.checks.push_back(core::check_at_least(
        "distance between neighbouring live parts", fmt::format("box {}, posts of cells {} and {}, {:.1f} V apart", box.mark, pair.cell_a, pair.cell_b, pair.volts),
        clear_mm(numbered(wiring, pair.cell_a), pair.pole_a, numbered(wiring, pair.cell_b), pair.pole_b, out_mm), pair.creepage_mm, "mm",
        "post centres less 25 mm for lugs and washers (common practice) against creepage, IEC 60664-1 Table F.4, pollution degree 3, material group III",
        "more room between the blocks, or an insulating barrier between them"));
  }
}

/// The least room before posts that look sideways; blocks are passed whole, one after the other.
std::optional<PostRoom> least_post_room(const Work& work, const std::vector<WiredCell>& cells) {
  std::optional<PostRoom> least;
  int last_block = 0;
  for (const WiredCell& cell : cells) {
    const packing::Block& block = block_of(work, cell);
    if (cell.setting.facing == Facing::up || std::exchange(last_block, block.id) == block.id) continue;
    const std::optional<PostRoom> room = room_before(layout_of(work, cell), block, cell.setting.facing, work.offset, work.rules);
    if (room && (!least || room->mm < least->mm)) least = room;
  }
  return least;
}

/// Posts that look sideways: what is in front of them, and whether a hand gets in.
void check_post_room(const Work& work, Wiring& wiring) {
  const double needed_mm = post_room_needed_mm(work.cell);
  for (const int box : wiring.box_order) {
    const std::vector<WiredCell> cells = cells_in(wiring, box);
    const std::optional<PostRoom> least = least_post_room(work, cells);
    if (!least) continue;
    const std::string& mark = work.boxes[static_cast<std::size_t>(box)].mark;
    if (needed_mm > 0) {
      const int number = std::find_if(cells.begin(), cells.end(), [&](const WiredCell& cell) { return cell.cell == least->cell; })->number;
      wiring.checks.push_back(core::check_at_least(
          "room before posts that look sideways", fmt::format("box {}, cell {}, towards {}", mark, number, least->towards), least->mm, needed_mm, "mm",
          "from the case to what the posts look at, against what the posts stand out and 5 mm (common practice)",
          "upright cells only (\"stances\"); or count posts, links and the room before them into the cell's \"height_mm\" and \"terminal_top_mm\", so that they are kept free"));
    }
    if (least->mm >= room_for_a_hand_mm) continue;
    wiring.cautions.push_back(fmt::format("Box {}: posts look into a gap of {:.1f} mm, towards {}. No hand or spanner gets in there: each block is linked before it goes in, and its removable "
                                          "link and cable ends need another way to be reached; else turn the layout.",
                                          mark, least->mm, least->towards));
  }
}

void say(const Work& work, Wiring& wiring) {
  wiring.notes.push_back(fmt::format(
      "{} inside the boxes, {} of link{}", wiring.jumpers == 0 ? std::string("no cable jumper") : wiring.jumpers == 1 ? "1 cable jumper" : fmt::format("{} cable jumpers", wiring.jumpers),
      wiring.kinds.size() == 1 ? std::string("1 kind") : fmt::format("{} kinds", wiring.kinds.size()), wiring.fewest_proven ? ": no order that passes every block whole has fewer jumpers; or as few and fewer links past a post; or as few of both and fewer kinds"
                                                : ": the best order found; fewer is not ruled out"));
  if (work.cell_max_v <= 0) wiring.notes.push_back("the cell's voltage_v is not given: running volts and removable links are left out");
  bool passes = false, vent = false, flat_groups = false;
  for (const Connection& link : wiring.links) {
    passes = passes || !link.passes_post.empty();
    vent = vent || !link.over_vent.empty();
  }
  for (const WiredCell& cell : wiring.cells) flat_groups = flat_groups || (work.parallel > 1 && block_of(work, cell).stance == survey::Stance::flat);
  if (passes) wiring.cautions.push_back("Some links pass a post of another voltage: they need an insulating sleeve over their whole length, and a cap on that post.");
  if (vent) wiring.cautions.push_back("Some links pass over the middle of a cell, where most cells have their vent: lay them to the side of it, at least 10 mm clear (common practice).");
  if (flat_groups) wiring.cautions.push_back("Cells in parallel lying flat: their joining bars cross the posts between; the links listed need bars of their own, set off from the posts and insulated.");
  if (work.parallel > 1) wiring.notes.push_back(fmt::format("{} cells side by side in parallel: links of one voltage that follow each other in a block may be one bar with a hole for every post", work.parallel));
}

}  // namespace

Wiring wire_string(const survey::Cell& cell, const survey::StringSpec& string, const survey::Rules& rules, const std::vector<BoxOfCells>& boxes) {
  Wiring wiring;
  if (!cell.terminal_offset) {
    wiring.why_not = "the cell has no \"terminal_offset_mm\": where its posts are is not known";
    return wiring;
  }
  for (const BoxOfCells& box : boxes) {
    if (box.layout->blocks.size() <= most_blocks) continue;
    wiring.why_not = fmt::format("box {} has more than {} blocks", box.mark, most_blocks);
    return wiring;
  }
  const Work work{cell, rules, boxes, std::max(1, string.parallel), *cell.terminal_offset, cell.voltage ? cell.voltage->max.value() : 0};
  wiring.box_order = order_boxes(boxes);
  const StringOrder order = order_blocks(tasks_of(cell, rules, boxes, wiring.box_order), work.offset, work.parallel);
  wiring.fewest_proven = order.proven;
  add_cells(work, order, wiring);
  add_connections(work, wiring);
  mark_removable(work, wiring);
  add_kinds(work, wiring);
  add_pieces(work, wiring);
  add_remarks(work, wiring);
  add_boxes(work, wiring);
  check_pieces(work, wiring);
  check_spacing(work, wiring);
  check_post_room(work, wiring);
  say(work, wiring);
  return wiring;
}

}  // namespace cellstow::wiring
