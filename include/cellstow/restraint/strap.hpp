#pragma once
/// Straps over the blocks: which stock flat bar holds each block down, and why the next thinner
/// does not.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/box/box.hpp"
#include "cellstow/core/finding.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::restraint {

using core::Check;
using core::Kg;
using core::Length;
using core::Newton;

struct Strap {
  std::string mark;  ///< "TW-S-B1": stable
  int block = 0;
  int quantity = 1;  ///< straps side by side over this block
  std::string material;
  Length width, thickness;
  Length cut_length;  ///< developed length, feet included
  Length span;        ///< between the block's edges, over the top
  Length leg;         ///< down each end
  Length foot;        ///< bolted foot at each leg
  std::string bolt;   ///< "M6", one per foot
  Length bolt_hole;
  Length bend_radius;  ///< inside, over the end plates
  Newton leg_tension;  ///< worst load case, one leg
  std::string worst_case;
  Length sag;  ///< largest rise of the strap's middle under the worst case
  Kg mass;     ///< one strap
  std::vector<Check> checks;
  std::string runner_up;  ///< the next thinner stock bar, and what fails in it
};

struct StrapPlan {
  std::vector<Strap> straps;  ///< by block
  std::vector<Check> checks;  ///< all of them, plus "no stock bar passes" where so
  std::vector<std::string> cautions;
};

/// Chooses for every block of a box the lightest stock flat bar that passes every strap check
/// in every load case.
StrapPlan design_straps(const box::Box& box, const survey::Cell& cell, const survey::Rules& rules,
                        const survey::Catalogue& catalogue);

/// Where the straps of a block lie: cuboids of their width and no thickness on its top, sharing its breadth evenly.
std::vector<packing::Cuboid> strap_bands(const packing::Block& block, const Strap& strap);

}  // namespace cellstow::restraint
