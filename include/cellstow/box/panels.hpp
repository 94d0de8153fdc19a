#pragma once
/// The flat sheet parts of a box and the holes in them.
///
/// Floor and lid are the full outline: the walls stand on the floor plate, the lid plate lies on
/// the walls, so the box's outside is its outline. Wall plates follow plan_outline.hpp. Nothing in
/// this stage fastens the lid: it has no flange and no screw holes yet.

#include <string>
#include <vector>

#include "cellstow/box/box.hpp"

namespace cellstow::box {

/// Hole sizes and distances. All common practice, no source; the shop may move a hole before
/// cutting.
namespace holes {
inline constexpr double drain_mm = 8;
inline constexpr double breather_mm = 12;     ///< clearance for an M12 breather
inline constexpr double gland_mm = 25;        ///< clearance for an M25 cable gland
inline constexpr double clear_diameters = 2;  ///< from the hole's rim to an edge or another hole
inline constexpr double room_inside_mm = 30;  ///< for a gland's nut and the bend of the cable
}  // namespace holes

struct PanelSet {
  std::vector<Panel> panels;       ///< floor, walls in outline order, lid; empty for "loose"
  std::vector<std::string> notes;  ///< on holes that found no place or little room behind
};

/// All flat parts of one box.
///
/// Marks: MARK-FLOOR, MARK-WALL-FRONT-1 ..., MARK-LID. They hang on the outline alone, so they stay
/// when cells, fittings or holes change.
/// Holes: one drain in the floor at the box's lowest-x, lowest-y corner; two cable glands and a
/// breather high on the longest wall (the first along the outline when two are alike).
PanelSet flat_panels(const packing::BoxLayout& layout, const survey::Rules& rules,
                     const std::string& mark);

}  // namespace cellstow::box
