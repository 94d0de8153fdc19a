#include "sheet_links.hpp"

#include <algorithm>
#include <cmath>

#include "cellstow/box/plan_outline.hpp"
#include "cellstow/restraint/plate.hpp"
#include "cellstow/restraint/strip.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

constexpr double poisson = 0.33;
/// A wall that hangs like a net may stretch by this: a fifth or less of what the alloys stretch before they part at a weld.
/// Our choice; elongations 10 % and more, EN 485-2, from memory.
constexpr double most_stretch = 0.02;

double welded_proof(const survey::Material& m) { return m.welded_proof_strength.value_or(m.proof_strength).value(); }
double welded_ultimate(const survey::Material& m) { return m.welded_ultimate_strength.value_or(m.ultimate_strength).value(); }

struct Case { double g = 0; std::string name; };

/// Most g towards a direction over all load cases, gravity counted downward.
Case worst_towards(const survey::Rules& rules, double x, double y, double z) {
  Case worst;
  for (const survey::LoadCase& one : rules.load_cases.cases) {
    const double g = one.accel[0].value() * x + one.accel[1].value() * y + (one.accel[2].value() - 1) * z;
    if (g > worst.g) worst = {g, one.name};
  }
  return worst;
}

double contents_kg(const box::Box& box) { return (box.mass_full - box.mass_sheet).value(); }

/// How freely the floor's edges come in, in lengths of the strip that stretch along with it. The walls' feet bend in easily, so for
/// the bending they count as hardly held; the longer the floor, the less its short ends help. 2.5 (b/a)^4 brings the stress of the
/// strip above that of plates whose edges come in freely, and its sag within a tenth; the sag is told a tenth larger (finite elements, tests/restraint/finite_element_test.cpp). For the
/// pull on the welds they count as held.
double hardly_held(double long_over_short) { return 2.5 * std::pow(long_over_short, 4); }
constexpr double held = 1;

void add_floor(const box::Box& box, const survey::Rules& rules, SheetLinks& out) {
  const Case down = worst_towards(rules, 0, 0, -1);
  const double t = rules.floor.mm(), span = std::min(box.inside[0], box.inside[1]).mm();
  if (t <= 0 || span <= 0 || box.layout.outline.empty()) return;
  const survey::Material& metal = rules.materials.wall;
  const double force_n = contents_kg(box) * core::standard_gravity_m_per_s2 * down.g;
  const double q = force_n / box::area_mm2(box.layout.outline);
  const Strip strip{1, t, span, metal.elastic_modulus.value() / (1 - poisson * poisson)};
  const StripState loose = strip_under_load(strip, q, StripEnds::hinged, hardly_held(std::max(box.inside[0], box.inside[1]).mm() / span) * span);
  const StripState tight = strip_under_load(strip, q, StripEnds::hinged, held * span);
  const double breaking = metal.ultimate_strength.value() / rules.safety_factor.ultimate;
  const double pull = loose.membrane_mpa / breaking;
  const std::string where = box.name + ", floor, " + down.name;
  const std::string load = fmt::format("m a = {:.0f} N, q = {:.4f} MPa, L {:.0f} mm, t {} mm", force_n, q, span, short_number(t));
  const char* cure = "a thicker floor (floor_mm), or bars under or over it across the short side";
  out.links.push_back({"floor", down.name, core::check_at_most("floor pulled and bent", where, 100 * (pull * pull + loose.bending_mpa / (1.5 * breaking)), 100, "%",
                                                               "large deflection of a strip (Timoshenko and Woinowsky-Krieger, ch. 1), edges turning and coming in; section after EN 1993-1-1 6.2.9.1, from memory, against breaking: the floor may keep a bend", cure),
                       "(s_m g_u / f_u)^2 + s_b g_u / (1.5 f_u) <= 1", load + fmt::format(": s_m {:.0f} MPa, s_b {:.0f} MPa, sag {:.1f} mm, f_u {:.0f} MPa", loose.membrane_mpa, loose.bending_mpa, loose.sag_mm, metal.ultimate_strength.value())});
  out.links.push_back({"floor", down.name, core::check_at_most("floor pulled at its welds", where, tight.membrane_mpa, welded_proof(metal) / rules.safety_factor.yield, "MPa",
                                                               "the same strip, edges held; pull over thickness, strength beside the weld", cure),
                       "s_m <= f_y,weld / g_y", load + fmt::format(": pull {:.0f} N/mm; f_y,weld {:.0f} MPa", tight.tension_n, welded_proof(metal))});
  out.floor_sag_mm = 1.1 * loose.sag_mm;
  if (out.floor_sag_mm > rules.body_clearance.mm())
    out.cautions.push_back(fmt::format("Box {}: at {} the floor sags by about {:.0f} mm, more than the {} mm under it: it will lie on the car's own metal there. Take away what is sharp.",
                                       box.mark, down.name, std::ceil(out.floor_sag_mm), short_number(rules.body_clearance.mm())));
}

/// Width of the contents that lean on one wall, as a share of all that lean that way.
double share_of_wall(const std::vector<box::WallRun>& walls, const box::WallRun& wall) {
  double all = 0;
  for (const box::WallRun& one : walls)
    if (one.face == wall.face) all += one.length.mm();
  return wall.length.mm() / all;
}

Link wall_link(const box::Box& box, const survey::Rules& rules, const box::WallRun& wall, double share, double height_mm, double* bulge_mm) {
  const std::vector<core::Point2>& outline = box.layout.outline;
  const core::Point2 first = outline[wall.edge], second = outline[(wall.edge + 1) % outline.size()];
  const double from[2] = {first.a.mm(), first.b.mm()}, to[2] = {second.a.mm(), second.b.mm()};
  const double length = std::hypot(to[0] - from[0], to[1] - from[1]);
  const core::InPlan out = core::to_car(box.layout.heading, core::InPlan{(to[1] - from[1]) / length, (from[0] - to[0]) / length});
  const Case worst = worst_towards(rules, out.a, out.b, 0);
  const survey::Material& metal = rules.materials.wall;
  const double span = std::max(length - 2 * rules.wall.mm(), 1.0), t = rules.wall.mm();
  const double force_n = contents_kg(box) * share * core::standard_gravity_m_per_s2 * worst.g;
  const double q = force_n / (span * height_mm);
  const double stress = std::min(welded_proof(metal) / rules.safety_factor.yield, welded_ultimate(metal) / rules.safety_factor.ultimate);
  const Net net = net_under_pressure(q, span, stress * t);
  *bulge_mm = net.bulge_mm;
  const double rib_mm = std::floor(std::sqrt(std::sqrt(3.0 / 8 * most_stretch) * 8 * stress * t / q * span));
  return {"wall", worst.name,
          core::check_at_most("wall hung like a net", fmt::format("{}, wall, {} {}, {}", box.name, box::to_text(wall.face), wall.number, worst.name),
                              100 * net.stretch, 100 * most_stretch, "% stretch",
                              "parabola under an even load; pull no more than the strength beside the weld allows; 2 % stretch is our choice",
                              fmt::format("thicker walls (wall_mm), or a rib upright on this wall every {:.0f} mm", std::max(rib_mm, 1.0))),
          "f = q L^2 / (8 S), stretch = 8/3 (f/L)^2 <= 2 %",
          fmt::format("m a = {:.0f} N over {:.0f} x {:.0f} mm: q = {:.3f} MPa; S = s t = {:.0f} N/mm (s {:.0f} MPa at the weld, t {} mm); f = {:.1f} mm",
                      force_n, span, height_mm, q, stress * t, stress, short_number(t), net.bulge_mm)};
}

void add_walls(const box::Box& box, const survey::Rules& rules, SheetLinks& out) {
  if (box.layout.outline.empty() || box.layout.blocks.empty() || rules.wall <= core::Length{}) return;
  const std::vector<box::WallRun> walls = box::wall_runs(box::inset(box.layout.outline, rules.flange), rules.wall);
  double height_mm = 0;
  for (const packing::Block& block : box.layout.blocks) height_mm = std::max(height_mm, (block.body.high.z - box.layout.z_bottom).mm() - rules.floor.mm() - rules.liner.mm());
  for (const box::WallRun& wall : walls) {
    double bulge_mm = 0;
    Link link = wall_link(box, rules, wall, share_of_wall(walls, wall), height_mm, &bulge_mm);
    out.wall_bulge_mm = std::max(out.wall_bulge_mm, bulge_mm);
    if (link.check.value > 0) out.links.push_back(std::move(link));
  }
}

}  // namespace

SheetLinks sheet_links(const box::Box& box, const survey::Cell&, const survey::Rules& rules) {
  SheetLinks out;
  add_floor(box, rules, out);
  add_walls(box, rules, out);
  if (out.wall_bulge_mm > rules.body_clearance.mm())
    out.cautions.push_back(fmt::format("Box {}: in the worst load case a wall bulges by up to {:.0f} mm before it holds like a net, more than the {} mm to the car's own metal: "
                                       "it will lean there. Take away what is sharp, or rib the wall.",
                                       box.mark, out.wall_bulge_mm, short_number(rules.body_clearance.mm())));
  if (out.links.empty()) return out;
  out.assumptions = {"Floor: strip across the short side, edges free to turn and hardly held in (held, for the pull on the welds); pressure even over the floor.",
                     "Walls: all the contents lean on the walls of one side, in proportion to their lengths, evenly over the cases' height; the lid is not counted; the wall hangs "
                     "between the walls at its ends, which hold it in their own plane.",
                     "Beside welds the lower strength of the material table counts. In a crash sheet may keep a bend; it must not part."};
  return out;
}

}  // namespace cellstow::restraint
