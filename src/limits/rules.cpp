#include <algorithm>

#include "cellstow/limits/change.hpp"

namespace cellstow::limits {
namespace {

using survey::Rules;

struct LengthRule {
  Length Rules::* value;
  const char* name;
  const char* caution;
  bool of_box;             ///< counts as nothing without a box
};

/// In groups that tend to bind together: heights, sides, blocks.
constexpr LengthRule length_rules[] = {
    {&Rules::headroom, "headroom over live metal", "it keeps live metal off the lid", false},
    {&Rules::lid_clearance, "lid clearance", "the car's own lid or floor flexes and slams", false},
    {&Rules::lid, "lid thickness", "", true},
    {&Rules::floor, "floor thickness", "the floor carries the cells", true},
    {&Rules::between_tiers, "space between tiers", "it keeps live metal off the tier above", false},
    {&Rules::corner_relief, "corner relief", "weld beads and bends need it", true},
    {&Rules::flange, "flange outside the walls", "lid edge or mouth flange stand there", true},
    {&Rules::wall, "wall thickness", "the walls carry what the straps do not", true},
    {&Rules::liner, "liner thickness", "it is the insulation", true},
    {&Rules::body_clearance, "body clearance", "it covers measuring, weld pull-in and the body's own working", false},
    {&Rules::between_blocks, "space between blocks", "", false},
    {&Rules::between_cells, "separator between cells", "insulation and growth of the cells", false},
    {&Rules::strap_space, "strap space", "the straps' legs stand there", false},
    {&Rules::end_plate, "end plate thickness", "the end plates clamp the cells", false},
};

Change length_change(const LengthRule& rule, const Rules& rules) {
  Change change;
  change.kind = ChangeKind::rule;
  change.what = rule.name;
  change.how = "less";
  change.caution = rule.caution;
  change.now = change.largest = rules.*rule.value;
  change.lowers_floor = rule.value == &Rules::body_clearance;
  change.apply = [value = rule.value](const Situation& as_is, Length by) {
    Situation changed = as_is;
    changed.rules.*value = std::max(Length{}, as_is.rules.*value - by);
    return changed;
  };
  return change;
}

template <class Edit>
Change whole_change(const char* what, const char* how, const char* caution, Edit edit) {
  Change change;
  change.kind = ChangeKind::rule;
  change.what = what;
  change.how = how;
  change.caution = caution;
  change.all_or_nothing = true;
  change.apply = [edit](const Situation& as_is, Length) {
    Situation changed = as_is;
    edit(changed.rules);
    return changed;
  };
  return change;
}

}  // namespace

std::vector<Change> rule_changes(const survey::Cavity&, const Rules& rules) {
  std::vector<Change> changes;
  const bool loose = rules.box_outline == survey::BoxOutline::loose;
  for (const LengthRule& rule : length_rules) {
    if (rules.*rule.value <= Length{} || (loose && rule.of_box)) continue;
    if (rule.value == &Rules::between_tiers && rules.tiers < 2) continue;
    if (rule.value == &Rules::corner_relief && rules.corner_relief <= rules.liner) continue;
    changes.push_back(length_change(rule, rules));
  }
  constexpr int no_limit = 1000;
  if (rules.block_cells.max < no_limit) {
    changes.push_back(whole_change("most cells in a block", "no limit", "long blocks are hard to clamp and to lift",
                                   [](Rules& r) { r.block_cells.max = no_limit; }));
  }
  if (rules.block_cells.min > 1) {
    changes.push_back(whole_change("fewest cells in a block", "one", "", [](Rules& r) { r.block_cells.min = 1; }));
  }
  if (rules.box_outline == survey::BoxOutline::rectangle) {
    changes.push_back(whole_change("box outline", "stepped instead of a rectangle", "more panels and welds",
                                   [](Rules& r) { r.box_outline = survey::BoxOutline::stepped; }));
  }
  return changes;
}

}  // namespace cellstow::limits
