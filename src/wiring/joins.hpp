#pragma once
/// What would join two cells, set as they are. Internal to wiring.

#include <cstdint>

#include "cellstow/wiring/wiring.hpp"

namespace cellstow::wiring {

/// A cell of a layout with its setting.
struct SetCell {
  int cell = 0;
  packing::Run runs = packing::Run::u;
  Setting setting;
};

struct Joint {
  Join join = Join::link;
  std::int64_t length_um = 0;
  int passes = 0;              ///< of a link: the other posts of the two cells that it passes closer than beside_post_mm
};

/// Nearer than this, live metal of a link and of a post it passes may touch: two half lugs (common practice, no source).
inline constexpr double beside_post_mm = 25;

/// @return link when the posts look the same way from one plane, stand no farther apart than longest_link_mm, and the straight line
///         between them passes over no third cell; else jumper
Joint joint_between(const packing::BoxLayout& layout, core::Length offset, const SetCell& from, Pole from_pole, const SetCell& to,
                    Pole to_pole);

/// Millimetres that name a kind of link: nearest whole one.
inline int kind_mm(std::int64_t length_um) { return static_cast<int>((length_um + 500) / 1000); }

/// Distance of a point from the straight line between two others, all in one plane of posts, mm.
double distance_from_line(const Spot& from, const Spot& to, const Spot& point);

}  // namespace cellstow::wiring
