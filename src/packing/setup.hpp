#pragma once
/// One cavity's packing problem in whole micrometres. Internal to packing.

#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include "cellstow/packing/pack.hpp"
#include "cellstow/region/free_plan.hpp"
#include "strip_view.hpp"

namespace cellstow::packing {

/// Inside width that joins two parts of one box; narrower necks do not.
inline constexpr Um least_neck_um = 10'000;

/// A way of laying the rows of a tier: strips along x or along y, blocks along or across them.
struct Way {
  Strips strips = Strips::along_x;
  bool across = false;
  auto operator<=>(const Way&) const = default;
};

/// One tier of a box: the stances whose cells fit in its height.
struct Tier {
  std::size_t level = 0;    ///< tiers of one level take the same stances
  Um live_top = 0;          ///< highest live metal above the tier's base, over the stances
  Um rise = 0;              ///< base of the tier above the base of the lowest
  std::vector<Stance> stances;
  bool holds_fittings = false;  ///< fittings that stand in the rows stand in the top tier: nothing over the fuse
};

/// Tiers one above another, lowest first, and the box height they need.
struct Stack {
  Um box_height = 0;        ///< underside of the floor to top of the lid
  std::vector<Tier> tiers;
};

class PalletMemory;

struct Setup {
  const survey::Cavity& cavity;
  const survey::Cell& cell;
  const survey::Rules& rules;
  survey::Between reading = survey::Between::common;
  int enough = 0;
  int more_than = 0;              ///< answers with no more cells than this are of no interest
  const std::atomic<bool>* stop = nullptr;
  bool loose = false;
  bool any_outline = false;       ///< walls of the box may slant: contents keep the shell from walls in every direction
  std::size_t most_corners = 1'000'000;
  region::Clearances clearances{};
  Um shell = 0;             ///< flange + wall + liner: outer outline to contents
  Um relief_excess = 0;     ///< how much more a corner relief takes than the liner leaves
  Um gap = 0;               ///< between blocks
  Um floor = 0, liner = 0, lid = 0, headroom = 0;
  Um above = 0;             ///< height kept over the blocks for fittings that lie there
  std::vector<FittingItem> items{};       ///< fittings that stand in the rows
  std::vector<std::size_t> item_fitting{};///< index into cavity.fittings
  std::vector<Stack> stacks{};            ///< fewest tiers first, then rising height
  std::shared_ptr<PalletMemory> pallets{};///< what was worked out before; changes no answer
  core::Heading heading{};  ///< frame in which plans are read
  /// For bounds over a range of headings about `heading`: by how much every reach is taken back, and every
  /// widened content besides. See heading.hpp.
  Um loosened = 0, eroded = 0;

  bool is_range() const { return loosened + eroded > 0; }
  /// What contents keep from all that is not free in a plan: may be less than nothing for a range of headings.
  Um content_shell() const { return (any_outline ? 0 : shell) - eroded; }
  /// Does any of wall and liner stay round the contents? If not, parts of a plan and boxes mean little.
  bool keeps_shell() const { return eroded <= shell; }
  /// Outside width at which two parts of a plan hang together in one box.
  Um neck() const { return std::max<Um>(0, 2 * (shell - eroded - loosened) + least_neck_um); }
};

Setup make_setup(const survey::Cavity& cavity, const survey::Cell& cell,
                 const survey::Rules& rules, const PackOptions& options);

/// Case height of a cell in a stance.
Um case_height(const survey::Cell& cell, Stance stance);
/// Highest live metal above the cell's base. On edge and flat the case's top counts.
Um live_height(const survey::Cell& cell, Stance stance);

/// Strip kinds for a tier: blocks along the strips, or across them; fittings' own strips besides.
std::vector<StripKind> strip_kinds(const Setup& setup, const Tier& tier, const Way& way, Um broadest);

/// Fittings that take part in the rows of a tier.
std::vector<FittingItem> items_in(const Setup& setup, const Tier& tier);

std::vector<FillTable> fill_tables(const std::vector<StripKind>& kinds, Um gap, Um longest);

}  // namespace cellstow::packing
