#pragma once
/// Where a bracket's plates lie, and what stands in their way.

#include <string>
#include <vector>

#include "cellstow/restraint/bracket.hpp"

namespace cellstow::restraint {

/// Sizes that the search varies.
struct BracketSize {
  double thickness_mm = 6, width_mm = 60, leg_mm = 120, doubler_mm = 0;
  bool gussets = true;
};

/// Sizes that follow from place and thread.
struct BracketFrame {
  double hole_mm = 0, slot_mm = 0, end_mm = 0, head_mm = 0, socket_radius_mm = 0;
  bool slot_out = false;
};

BracketFrame bracket_frame(const survey::Thread& thread, double slot_more_mm, bool slot_out);

/// Thinnest plate that a bracket is bent from.
inline constexpr double least_bracket_mm = 3;
/// Inside radius of the bracket's bend: the shop's tool, or the least that the sheet allows.
double bracket_radius_mm(const survey::Rules& rules, double thickness_mm);
/// Least distance of the bolt from the box's wall: beyond the bend the washer lies flat, and the hole's rim stays one thickness clear.
/// Common practice, no source.
double least_out_mm(const survey::Rules& rules, const BracketFrame& frame, double thickness_mm, double doubler_mm);

/// Middle of the leg along the fold: as near the bolt as the wall allows.
double leg_middle_mm(const BracketPlace& place, double width_mm);
/// Length of the leg on the wall's face.
double overlap_mm(const BracketPlace& place, const BracketSize& size);
/// Longest leg, from the foot on.
double longest_leg_mm(const BracketPlace& place);

std::vector<BracketPiece> bracket_pieces(const box::Box& box, const BracketPlace& place, const BracketFrame& frame, const BracketSize& size);

/// Name of a keep-out that the pieces meet; empty when none. A keep-out that holds the fixing keeps only its own body.
std::string keep_out_met(const survey::Cavity& cavity, const survey::Rules& rules, const survey::Fixing& fixing, const std::vector<BracketPiece>& pieces);

/// How the bolt's head is reached: a free cylinder for a socket above it, or a ring spanner.
std::string reach_of(const box::Box& box, const survey::Cavity& cavity, const BracketPlace& place, const BracketFrame& frame, const BracketSize& size);

}  // namespace cellstow::restraint
