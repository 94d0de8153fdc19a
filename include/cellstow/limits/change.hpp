#pragma once
/// What a shop could change about a cavity or its own rules to win cells: one wall further out, one keep-out
/// moved, one rule smaller.

#include <functional>
#include <string>
#include <vector>

#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::limits {

using core::Length;

/// What packing is asked about: the cavity and the rules, changed or as they are.
struct Situation {
  survey::Cavity cavity;
  survey::Rules rules;
};

enum class ChangeKind { wall, keep_out, rule, fitting };

/// One change by an amount from nothing to `largest`. More of it never makes less room, except for keep-outs
/// moved along (`may_lose`).
struct Change {
  ChangeKind kind = ChangeKind::wall;
  std::string what;        ///< "rear wall", "filler neck", "body clearance"
  std::string where;       ///< place of a wall, car frame; else empty
  std::string how;         ///< "outward", "forward", "smaller all round", "less"
  Length now;              ///< of a rule: its value; else nothing
  Length largest;          ///< most that is tried; nothing for `all_or_nothing`
  bool all_or_nothing = false;  ///< without the keep-out, without a limit: no amount in between
  bool may_lose = false;
  bool lowers_floor = false;    ///< boxes that need it for their height stand lower by the amount
  std::string caution;     ///< what must be looked at before anybody does it; may be empty
  std::function<Situation(const Situation&, Length)> apply;  ///< the amount is ignored for all_or_nothing
};

/// Farthest that walls and keep-outs are moved.
inline constexpr core::Um farthest_um = 100'000;

/// The walls of a cavity, each pushed out square to itself: sides of the outlines through all sections that have
/// them, sides of the holes, and the first and last station. Longest first, the two stations before all.
///
/// A wall is a run of neighbouring edges that turn no more than 15 degrees. Pushed out, it leaves a
/// straight-sided pocket beside walls that go back from it, and takes down what protrudes beside it to the same depth; where
/// it would break through into another wall, `largest` ends before.
/// In sections with as many corners each, walls are matched by number; in others by place and direction.
std::vector<Change> wall_changes(const survey::Cavity& cavity);

/// Each keep-out without it; the same order as in the cavity.
std::vector<Change> keep_out_removals(const survey::Cavity& cavity);

/// One keep-out moved in each of six directions, made smaller all round (boxes, cylinders, convex prisms), and
/// its own clearance made less.
std::vector<Change> keep_out_changes(const survey::Cavity& cavity, std::size_t index,
                                     const survey::Rules& rules);

/// Every length rule that binds, made less down to nothing; the largest block without limit, the smallest
/// one cell, and a stepped box instead of a rectangle.
std::vector<Change> rule_changes(const survey::Cavity& cavity, const survey::Rules& rules);

}  // namespace cellstow::limits
