#pragma once
/// One cavity's packing problem in whole micrometres. Internal to packing.

#include <string>
#include <vector>

#include "cellstow/packing/pack.hpp"
#include "cellstow/region/free_plan.hpp"
#include "strip_view.hpp"

namespace cellstow::packing {

/// A box height and the stances whose cells fit under its lid.
struct HeightClass {
  Um box_height = 0;        ///< underside of the floor to top of the lid
  Um live_top = 0;          ///< highest live metal above the liner, over the stances
  std::vector<Stance> stances;
};

struct Setup {
  const survey::Cavity& cavity;
  const survey::Cell& cell;
  const survey::Rules& rules;
  survey::Between reading = survey::Between::common;
  int enough = 0;
  bool loose = false;
  bool any_outline = false;       ///< walls of the box may slant: contents keep the shell from walls in every direction
  std::size_t most_corners = 1'000'000;
  region::Clearances clearances{};
  Um shell = 0;             ///< wall + liner: outer outline to contents
  Um relief_excess = 0;     ///< how much more a corner relief takes than the liner leaves
  Um gap = 0;               ///< between blocks
  Um floor = 0, liner = 0, lid = 0, headroom = 0;
  Um above = 0;             ///< height kept over the blocks for fittings that lie there
  std::vector<FittingItem> items{};       ///< fittings that stand in the rows
  std::vector<std::size_t> item_fitting{};///< index into cavity.fittings
  std::vector<HeightClass> heights{};     ///< rising
};

Setup make_setup(const survey::Cavity& cavity, const survey::Cell& cell,
                 const survey::Rules& rules, const PackOptions& options);

/// Case height of a cell in a stance.
Um case_height(const survey::Cell& cell, Stance stance);
/// Highest live metal above the cell's base. On edge and flat the case's top counts.
Um live_height(const survey::Cell& cell, Stance stance);

/// Strip kinds for a height: blocks along the strips, or across them; fittings' own strips besides.
std::vector<StripKind> strip_kinds(const Setup& setup, const HeightClass& height, bool across,
                                   Strips strips, Um broadest);

std::vector<FillTable> fill_tables(const std::vector<StripKind>& kinds, Um gap, Um longest);

}  // namespace cellstow::packing
