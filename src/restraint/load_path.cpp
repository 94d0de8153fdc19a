#include "cellstow/restraint/load_path.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/restraint/creepage.hpp"
#include "link_words.hpp"
#include "sheet_links.hpp"
#include "strap_demand.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

/// Two steel bands on each side of a block, 20 x 1 mm. Common practice, no source.
constexpr double bands = 4, band_width_mm = 20, band_thickness_mm = 1;

struct Path {
  const box::Box& box;
  const survey::Cell& cell;
  const survey::Rules& rules;
  LoadPath out;

  void add(Link link) {
    out.checks.push_back(link.check);
    out.links.push_back(std::move(link));
  }
};

/// Largest push of a block along its run over all load cases.
struct Push { double force_n = 0; std::string load_case; };

Push push_along(const StrappedBlock& block, const survey::Rules& rules) {
  Push worst;
  for (const survey::LoadCase& one : rules.load_cases.cases) {
    const double along_g = std::abs(one.accel[0].value() * block.along.a + one.accel[1].value() * block.along.b);
    const double force_n = block.mass_kg * core::standard_gravity_m_per_s2 * along_g;
    if (force_n > worst.force_n) worst = {force_n, one.name};
  }
  return worst;
}

/// The end plate stands between its foot and the strap over its top, the cells pushing evenly.
void add_end_plate(Path& path, const StrappedBlock& block, const std::string& where) {
  const Push push = push_along(block, path.rules);
  const survey::Material& metal = path.rules.materials.wall;
  const double t = path.rules.end_plate.mm(), h = block.height_mm, b = block.breadth_mm;
  if (push.force_n <= 0 || t <= 0) return;
  const double stress = 6 * push.force_n * h / (8 * b * t * t);
  path.add({"end plate", push.load_case,
            core::check_at_most("end plate bent, foot to strap", where + ", " + push.load_case, stress,
                                metal.proof_strength.value() / path.rules.safety_factor.yield, "MPa",
                                "beam on two supports under an even load, w L^2 / 8 (handbook case)",
                                "thicker end plates (end_plate_mm), or fewer cells in the block"),
            "sigma = 6 F h / (8 b t^2) <= f_y / g_y",
            fmt::format("F = m a = {:.0f} N, h {:.0f} mm, b {:.0f} mm, t {} mm, f_y {:.0f} MPa, g_y {}", push.force_n, h, b,
                        short_number(t), metal.proof_strength.value(), short_number(path.rules.safety_factor.yield))});
}

void add_clamp(Path& path, const StrappedBlock& block, const std::string& where) {
  const double t = path.rules.end_plate.mm(), h = block.height_mm, b = block.breadth_mm;
  if (!path.cell.clamp_force || t <= 0) return;
  const survey::Material& plate = path.rules.materials.wall;
  const survey::Material& band = path.rules.materials.hold_down;
  const double most_n = path.cell.clamp_force->max.value();
  path.add({"end plate", "",
            core::check_at_most("end plate bent by the clamping", where, 6 * most_n * b / (8 * h * t * t),
                                plate.proof_strength.value() / path.rules.safety_factor.yield, "MPa",
                                "beam between the bands at both sides, w L^2 / 8 (handbook case)", "thicker end plates (end_plate_mm)"),
            "sigma = 6 F b / (8 h t^2) <= f_y / g_y",
            fmt::format("F = {:.0f} N (most the cell allows), b {:.0f} mm, h {:.0f} mm, t {} mm, f_y {:.0f} MPa", most_n, b, h,
                        short_number(t), plate.proof_strength.value())});
  const double area = bands * band_width_mm * band_thickness_mm;
  path.add({"tie bands", "",
            core::check_at_most("tie bands pulled by the clamping", where, most_n / area,
                                band.proof_strength.value() / path.rules.safety_factor.yield, "MPa", "pull over area", "wider bands"),
            "sigma = F / A <= f_y / g_y",
            fmt::format("F = {:.0f} N, A = 4 x 20 x 1 mm, f_y {:.0f} MPa ({})", most_n, band.proof_strength.value(), band.name)});
  Clamp clamp{block.id, path.cell.clamp_force->min.value(), most_n, 0, 0, 0};
  clamp.growth_mm = block.cells * path.cell.thickness.mm() * path.cell.growth_percent / 100;
  clamp.rigid_n_per_mm = band.elastic_modulus.value() * area / block.span_mm;
  if (clamp.growth_mm > 0) clamp.spring_n_per_mm = (clamp.most_n - clamp.start_n) / clamp.growth_mm;
  path.out.clamps.push_back(clamp);
}

void say_clamps(Path& path) {
  for (const Clamp& clamp : path.out.clamps) {
    if (clamp.growth_mm <= 0) continue;
    say_once(path.out.cautions,
             fmt::format("Blocks that grow by {:.1f} mm: clamp them at {:.0f} N through springs of at most {:.0f} N/mm in all, so that {:.0f} N is not passed; "
                         "bands without springs give {:.0f} N for every mm. The growth itself is not part of the packing: leave it room.",
                         clamp.growth_mm, clamp.start_n, std::floor(clamp.spring_n_per_mm), clamp.most_n, clamp.rigid_n_per_mm));
  }
}

/// Strength checks of straps, hold-downs and fixings, already judged, as links with their formula.
void add_judged(const std::vector<Check>& checks, const std::string& part, LoadPath& out) {
  for (const Check& check : checks) {
    const std::string formula = formula_of(check.name);
    if (formula.empty()) continue;
    out.links.push_back({part, case_in(check.where), check, formula, ""});
  }
}

void add_straps(Path& path, const StrapPlan& straps) {
  for (const Strap& strap : straps.straps) {
    const std::size_t first = path.out.links.size();
    add_judged(strap.checks, "strap", path.out);
    for (std::size_t i = first; i < path.out.links.size(); ++i)
      path.out.links[i].numbers = fmt::format("{}, T = {:.0f} N, {}{} of {}, {} bolt", strap.mark, strap.leg_tension.value(),
                                              strap.quantity > 1 ? "two of " : "", bar_size(strap.width.mm(), strap.thickness.mm()), strap.material, strap.bolt);
  }
}

/// What stands behind the limits of each bolt and its sheet.
void add_bolt_numbers(const Mounting& mounting, LoadPath& out) {
  for (const FixingBolt& bolt : mounting.bolts)
    for (Link& link : out.links)
      if (link.part == "bolt" && link.check.where.find(", fixing " + bolt.fixing + ", ") != std::string::npos)
        link.numbers = fmt::format("{}: {} of class {}, d {} mm, A_s {} mm2, S_p {:.0f}, f_ub {:.0f} MPa; sheet {} mm of f_u 270 MPa, head d_m {:.1f} mm", bolt.fixing, bolt.thread, bolt.strength_class,
                                   short_number(bolt.diameter_mm), short_number(bolt.stress_area_mm2), bolt.proof_mpa, bolt.ultimate_mpa, short_number(bolt.sheet_mm), bolt.head_mean_mm);
}

void add_creepage(Path& path, const StrapPlan& straps, std::optional<core::Volt> string_max) {
  if (!string_max || !path.cell.terminal_offset) return;
  path.out.creepage_needed_mm = creepage_mm(string_max->value());
  for (const Strap& strap : straps.straps) {
    const auto block = std::find_if(path.box.layout.blocks.begin(), path.box.layout.blocks.end(), [&](const auto& b) { return b.id == strap.block; });
    if (block == path.box.layout.blocks.end() || block->stance != survey::Stance::upright) continue;
    const double across_mm = strap.quantity * strap.width.mm() + (strap.quantity - 1) * 5;
    const double bare_mm = path.cell.terminal_offset->mm() - 10 - across_mm / 2;
    path.out.checks.push_back(core::check_at_least(
        "creepage from strap to link", fmt::format("{}, block {}", path.box.name, strap.block), bare_mm, path.out.creepage_needed_mm, "mm",
        fmt::format("IEC 60664-1 Table F.4, pollution degree 3, group III, {:.0f} V; links 10 mm to each side of the posts", string_max->value()),
        "narrower straps, or an insulating cap over the links"));
    if (bare_mm < bare_metal_floor_mm)
      say_once(path.out.cautions, fmt::format("Less than {} mm of bare distance between strap and link: an insulating sleeve on every strap, caps on every link.", short_number(bare_metal_floor_mm)));
  }
}

}  // namespace

LoadPath follow_load(const box::Box& box, const survey::Cell& cell, const survey::Rules& rules, const survey::Catalogue&,
                     const StrapPlan& straps, const HoldDownPlan& hold_downs, const Mounting& mounting,
                     std::optional<core::Volt> string_max) {
  Path path{box, cell, rules, {}};
  for (const packing::Block& block : box.layout.blocks) {
    const StrappedBlock one = strapped_block(block, box.layout.heading, cell, rules);
    const std::string where = fmt::format("{}, block {}", box.name, block.id);
    add_end_plate(path, one, where);
    add_clamp(path, one, where);
  }
  say_clamps(path);
  add_straps(path, straps);
  add_judged(hold_downs.checks, "hold-down", path.out);
  SheetLinks sheets = sheet_links(box, cell, rules);
  for (Link& link : sheets.links) path.add(std::move(link));
  path.out.floor_sag_mm = sheets.floor_sag_mm;
  path.out.wall_bulge_mm = sheets.wall_bulge_mm;
  path.out.assumptions = std::move(sheets.assumptions);
  for (const std::string& caution : sheets.cautions) say_once(path.out.cautions, caution);
  add_judged(mounting.checks, "bolt", path.out);
  add_bolt_numbers(mounting, path.out);
  for (const Bracket& bracket : mounting.brackets) path.out.links.insert(path.out.links.end(), bracket.links.begin(), bracket.links.end());
  for (Link& link : path.out.links)
    if (link.part == "bolt" && (link.check.name.find("sheet") != std::string::npos || link.check.name.find("force on") == 0)) link.part = "car's own sheet";
  add_creepage(path, straps, string_max);
  path.out.weakest = weakest_link(path.out.links);
  return std::move(path.out);
}

}  // namespace cellstow::restraint
