#include "cellstow/restraint/strap.hpp"

#include <algorithm>
#include <cmath>

#include "strap_choice.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

std::string section_text(const Strap& strap) {
  return fmt::format("{}{}", strap.quantity > 1 ? "two of " : "",
                     bar_size(strap.width.mm(), strap.thickness.mm()));
}

const Check* worst_failure(const Strap& strap) {
  const Check* worst = nullptr;
  for (const Check& check : strap.checks)
    if (!check.ok && (worst == nullptr || check.use > worst->use)) worst = &check;
  return worst;
}

double total_mass_kg(const Strap& strap) { return strap.mass.value() * strap.quantity; }

std::string runner_up_text(const std::vector<Strap>& candidates, const Strap& chosen) {
  const Strap* runner = nullptr;
  for (const Strap& other : candidates) {
    if (other.quantity != chosen.quantity || other.width != chosen.width) continue;
    if (other.thickness >= chosen.thickness) continue;
    if (runner == nullptr || other.thickness > runner->thickness) runner = &other;
  }
  for (const Strap& other : candidates) {
    if (runner != nullptr) break;
    if (total_mass_kg(other) < total_mass_kg(chosen)) runner = &other;
  }
  if (runner == nullptr) return "no thinner or lighter bar in the table";
  const Check* failure = worst_failure(*runner);
  if (failure == nullptr)
    return fmt::format("{}: passes too, {:.2f} kg against {:.2f} kg", section_text(*runner),
                       total_mass_kg(*runner), total_mass_kg(chosen));
  return fmt::format("{}: fails, {} {} {}, limit {} {}", section_text(*runner), failure->name,
                     short_number(failure->value), failure->unit, short_number(failure->limit),
                     failure->unit);
}

/// Headroom that lets one of the bars pass, when the rise of the middle is all that fails in it.
std::optional<double> headroom_cure_mm(const StrapChoice& choice) {
  std::optional<double> least_sag_mm;
  for (const Strap& strap : choice.candidates) {
    const bool rise_only =
        std::all_of(strap.checks.begin(), strap.checks.end(),
                    [](const Check& check) { return check.ok || check.name == rise_check; });
    if (rise_only) least_sag_mm = std::min(least_sag_mm.value_or(strap.sag.mm()), strap.sag.mm());
  }
  if (!least_sag_mm) return std::nullopt;
  return std::ceil(*least_sag_mm + live_floor_mm);
}

/// Fewer cells in the block with the same material, more headroom, or another material.
std::string cure_for(const StrapTask& task, const StrapChoice& failed, const survey::Cell& cell,
                     const survey::Catalogue& catalogue) {
  std::vector<std::string> cures;
  const int least = std::max(task.rules.block_cells.min, 1);
  for (int cells = task.block.cells - 1; cells >= least && cures.empty(); --cells) {
    StrapTask shorter = task;
    shorter.block = shortened(task.block, cells, cell, task.rules);
    if (choose_strap(shorter, catalogue).passes)
      cures.push_back(fmt::format("split the block: {} instead of {}", counted(cells, "cell"),
                                  task.block.cells));
  }
  if (const auto headroom_mm = headroom_cure_mm(failed))
    cures.push_back(fmt::format("leave {} mm of headroom instead of {} mm",
                                short_number(*headroom_mm),
                                short_number(task.rules.headroom.mm())));
  for (const auto& [name, material] : catalogue.materials) {
    StrapTask other = task;
    other.rules.materials.strap = material;
    const StrapChoice choice = choose_strap(other, catalogue);
    if (!choice.passes) continue;
    cures.push_back(
        fmt::format("straps of {}, {}", name, section_text(choice.candidates[choice.chosen])));
    break;
  }
  if (cures.empty())
    cures.push_back("turn the block, lower the block's mass, or hold it with hold-down bars");
  return fmt::format("{}", fmt::join(cures, "; or "));
}

/// A bar over a square edge: the bend needs its radius, and stands off the cells by what the end
/// plate's thickness leaves.
void add_bend_cautions(const Strap& strap, const StrapTask& task,
                       const survey::Catalogue& catalogue, std::vector<std::string>& cautions) {
  const survey::Material& material = task.rules.materials.strap;
  const double radius_mm = bend_radius_mm(material, strap.thickness.mm());
  const double plate_mm = task.rules.end_plate.mm();
  std::string text = fmt::format(
      "{}: bend with at least {} mm inside radius and round the end plate's top edge to suit",
      strap.mark, short_number(radius_mm));
  if (radius_mm > plate_mm) {
    const double rise_mm =
        radius_mm - std::sqrt(radius_mm * radius_mm - std::pow(radius_mm - plate_mm, 2));
    text += fmt::format(
        "; the bend is larger than the end plate, so pad the strap up by {} mm over the cells",
        short_number(rise_mm));
  }
  say_once(cautions, text + ".");
  if (!material.bend_may_crack) return;
  const std::string softer = "EN AW-5754 H22";
  const auto found = catalogue.materials.find(softer);
  const std::string instead =
      found == catalogue.materials.end()
          ? std::string("a softer alloy")
          : fmt::format("{} ({} times its thickness)", softer,
                        short_number(found->second.min_bend_radius_over_thickness.value_or(2)));
  say_once(cautions,
           fmt::format(
               "{} may crack at a tight bend without showing it: bend a trial piece, look at the "
               "outside of the bend with a glass, or make the straps of {}.",
               material.name, instead));
}

void add_block_cautions(const Strap& strap, const StrapTask& task, const survey::Cell& cell,
                        std::vector<std::string>& cautions) {
  if (!task.block.posts_known)
    say_once(cautions,
             "The posts' distance from the cell's middle is not given: measure the room between "
             "the links before cutting straps, and keep 5 mm from every live part.");
  const double head_mm = 0.7 * task.bolt_diameter_mm(strap.bolt);
  const double stands_out_mm = strap.thickness.mm() + head_mm - task.rules.strap_space.mm();
  if (stands_out_mm > 0)
    say_once(
        cautions,
        fmt::format(
            "{}: the {} bolt head stands about {} mm out of the strap space; leave room for it.",
            strap.mark, strap.bolt, short_number(stands_out_mm)));
  const double growth_mm = task.block.cells * cell.thickness.mm() * cell.growth_percent / 100;
  if (growth_mm > 0)
    say_once(
        cautions,
        fmt::format(
            "Block {} may grow {} mm along its length over its life: strap and end plates must be "
            "able to follow, and the strap is not to be the clamp.",
            strap.block, short_number(growth_mm)));
}

void add_common_cautions(const survey::Rules& rules, std::vector<std::string>& cautions) {
  say_once(cautions, "Do not weld straps: the metal beside a weld loses up to half its strength.");
  say_once(cautions,
           "Sleeve or cover every strap; never lay one over a vent (keep 10 mm free above vents), "
           "a post or a link.");
  say_once(cautions,
           "The lug or end plate that a strap's foot is bolted to, and its hold on the box floor, "
           "are not checked here.");
  say_once(cautions,
           "Straps hold a block down. Along and across, the block leans on its neighbours and the "
           "walls: pack every gap.");
  const bool lifts = std::any_of(rules.load_cases.cases.begin(), rules.load_cases.cases.end(),
                                 [](const auto& one) { return one.accel[2].value() > 1; });
  if (!lifts)
    say_once(cautions,
             fmt::format("The load cases \"{}\" name no upward case: the straps are sized for "
                         "tipping only.",
                         rules.load_cases.name));
  if (rules.safety_factor.ultimate < 1.25)
    say_once(cautions,
             fmt::format("The safety factor on breaking, {:.2f}, is below the 1.25 of EN 1993-1-8.",
                         rules.safety_factor.ultimate));
}

Check no_bar_check(const StrapTask& task, const survey::Catalogue& catalogue) {
  std::vector<std::string> names;
  for (const survey::FlatBar& bar : catalogue.flat_bars)
    if (names.empty() || names.back() != bar.material) names.push_back(bar.material);
  return count_check(
      "stock bars for the strap", task.where, 0, 1, "bars", "table of flat bars",
      fmt::format("no flat bar of {} that fits {} mm of strap space; there are bars of {}",
                  task.rules.materials.strap.name, short_number(task.rules.strap_space.mm()),
                  fmt::join(names, ", ")));
}

void add_block(const StrapTask& task, const survey::Cell& cell, const survey::Catalogue& catalogue,
               StrapPlan& plan) {
  const StrapChoice choice = choose_strap(task, catalogue);
  if (choice.candidates.empty()) {
    plan.checks.push_back(no_bar_check(task, catalogue));
    return;
  }
  Strap strap = choice.candidates[choice.chosen];
  if (choice.passes) {
    strap.runner_up = runner_up_text(choice.candidates, strap);
  } else {
    strap.runner_up = "no stock bar passes";
    const std::string cure = cure_for(task, choice, cell, catalogue);
    for (Check& check : strap.checks)
      if (!check.ok) check.cure = cure;
    strap.checks.push_back(count_check("stock bars that pass every strap check", task.where, 0, 1, "bars",
                                       "table of flat bars", cure));
  }
  add_bend_cautions(strap, task, catalogue, plan.cautions);
  add_block_cautions(strap, task, cell, plan.cautions);
  plan.checks.insert(plan.checks.end(), strap.checks.begin(), strap.checks.end());
  plan.straps.push_back(std::move(strap));
}

}  // namespace

StrapPlan design_straps(const box::Box& box, const survey::Cell& cell, const survey::Rules& rules,
                        const survey::Catalogue& catalogue) {
  StrapPlan plan;
  if (box.layout.blocks.empty()) return plan;
  if (rules.strap_space <= Length{}) {
    plan.cautions.push_back(
        "No strap space is kept beyond the end plates: no straps are worked out.");
    return plan;
  }
  for (const packing::Block& block : box.layout.blocks) {
    StrapTask task{strapped_block(block, box.layout.heading, cell, rules), rules, catalogue.threads,
                   fmt::format("{}-S-B{}", box.mark, block.id),
                   fmt::format("{}, block {}", box.name, block.id)};
    add_block(task, cell, catalogue, plan);
  }
  add_common_cautions(rules, plan.cautions);
  return plan;
}

std::vector<packing::Cuboid> strap_bands(const packing::Block& block, const Strap& strap) {
  std::vector<packing::Cuboid> out;
  const bool along_u = block.runs == packing::Run::u;
  const Length low = along_u ? block.body.low.y : block.body.low.x;
  const Length high = along_u ? block.body.high.y : block.body.high.x;
  const int n = std::max(strap.quantity, 0);
  for (int i = 0; i < n; ++i) {
    const Length middle = Length::from_um(low.um() + (high - low).um() * (2 * i + 1) / (2 * n));
    const Length half = Length::from_um(strap.width.um() / 2);
    packing::Cuboid band = block.body;
    (along_u ? band.low.y : band.low.x) = middle - half;
    (along_u ? band.high.y : band.high.x) = middle + half;
    out.push_back(band);
  }
  return out;
}

}  // namespace cellstow::restraint
