#pragma once
/// The checks, rule by rule. Each adds to the findings and changes nothing else.

#include <string>

#include "cavity_space.hpp"
#include "findings.hpp"
#include "plan_file.hpp"

namespace cellstow::audit {

/// One box with all that its rules refer to.
struct BoxContext {
  const CellType& cell;
  const Rules& rules;
  const Box& box;
  std::string where;               ///< "tank well, box TW"
};

// check_outline.cpp
/// R1, R6. @return false when the outline is no shape that the other rules could be held against.
bool check_outline(const BoxContext& context, Findings& findings);
/// R7, R8
void check_boxes_together(const Plan& plan, const CavityPlan& cavity, Findings& findings);

// check_cavity.cpp
/// R2 to R5 for the box, or without a box for each of its contents.
void check_box_in_cavity(const BoxContext& context, const CavityJob& job, CavitySpace& space, Findings& findings);

// check_contents.cpp
/// R9 to R12
void check_contents_in_box(const BoxContext& context, const CavityJob& job, Findings& findings);
/// R13
void check_fittings_present(const Plan& plan, const CavityPlan& cavity, Findings& findings);
/// R14, R15
void check_fittings_clear(const BoxContext& context, const CavityJob& job, Findings& findings);

// check_block_make.cpp
/// R16 to R19
void check_block_make(const BoxContext& context, Findings& findings);

// check_blocks.cpp
/// R20 to R22
void check_blocks(const BoxContext& context, Findings& findings);
/// R23
void check_cells_apart(const BoxContext& context, Findings& findings);

// check_sums.cpp
/// R24 to R30
void check_counts(const Plan& plan, Findings& findings);
void check_string(const Plan& plan, Findings& findings);
void check_balance(const Plan& plan, Findings& findings);
void check_checks(const Plan& plan, Findings& findings);

// check_wiring.cpp
/// R31 to R34
void check_wiring(const Plan& plan, Findings& findings);

/// True when a check that failed mentions the words.
bool failing_check_mentions(const Plan& plan, const std::string& words);

// ---- shared by the checks ------------------------------------------------------

std::string block_name(const BoxContext& context, int id);
std::string cell_name(const BoxContext& context, const Cell& cell);
std::string fitting_name(const BoxContext& context, const Fitting& fitting);

/// The stance of a block: its own, or that of its first cell, or the first one allowed.
Stance stance_of(const Block& block, const BoxContext& context);
/// Case sizes of a cell along its line, across it and upward.
struct Sides { Tick along = 0, across = 0, up = 0; };
Sides sides_of(const CellType& cell, Stance stance);
/// Top of live metal, or of the case where that is higher, of a body standing on `base`.
Tick live_top(const CellType& cell, Stance stance, Tick base);

/// Free distance between two bodies along one axis; negative where they overlap in it.
Tick gap_along(const Body& left, const Body& right, int axis);
bool is_within(const Body& inner, const Body& outer);
/// Where the plan says or, failing that, the job wants the fitting to sit.
FittingPlace place_of(const Fitting& fitting, const CavityJob& job);
/// True for "main fuse", and for "main fuse 2" when several are wanted.
bool is_named(const std::string& name, const std::string& wish);
/// Plan of a body as a ring in the box's own frame.
Ring ring_of(const Body& body);

}  // namespace cellstow::audit
