#include "cellstow/restraint/bracket.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "bracket_shape.hpp"
#include "cellstow/restraint/joint.hpp"
#include "cellstow/restraint/plate.hpp"
#include "cellstow/restraint/slot.hpp"
#include "words.hpp"

namespace cellstow::restraint {
namespace {

/// Sizes tried. Sheet and plate as sold; common practice, no source.
constexpr double thicknesses_mm[] = {least_bracket_mm, 4, 5, 6, 8, 10};
constexpr double widths_mm[] = {40, 50, 60, 80, 100, 120};
constexpr double doublers_mm[] = {0, 3, 4, 5, 6, 8};
/// Throat of a fillet weld as a share of the thinner sheet. Common practice, no source.
constexpr double throat_share = 0.7;
/// Gussets stand this far up the wall beyond its edge. Our choice.
constexpr double gusset_up_mm = 60;

/// A force along the bracket's own axes: out from the wall, along the bolt, along the fold.
struct Local { double d = 0, p = 0, q = 0; std::string load_case; };

Local to_local(const box::Box& box, const BracketPlace& place, const BracketLoad& load) {
  const core::InPlan plan = core::to_box(box.layout.heading, core::InPlan{load.force_n[0], load.force_n[1]});
  const double out = plan.a * place.out[0] + plan.b * place.out[1], along = plan.a * place.along[0] + plan.b * place.along[1];
  return {out, place.level_fold ? load.force_n[2] : along, place.level_fold ? along : load.force_n[2], load.load_case};
}

struct Task {
  const box::Box& box;
  const survey::Rules& rules;
  const survey::Fixing& fixing;
  const survey::Thread& thread;
  const BracketPlace& place;
  BracketFrame frame;
  std::vector<Local> loads;
  std::string where;
};

/// Levers and strengths of one size.
struct Sums {
  double a, beyond, beside, overlap, throat, sheet_yield, weld_yield, weld_shear, gusset_up;
};

Sums sums_of(const Task& task, const BracketSize& size) {
  const survey::Material& m = task.rules.materials.wall;
  const double weld_proof = m.welded_proof_strength.value_or(m.proof_strength).value();
  const double weld_ultimate = m.welded_ultimate_strength.value_or(m.ultimate_strength).value();
  Sums s{};
  s.a = task.place.d_mm;
  s.beyond = task.place.beyond_mm;
  s.beside = std::abs(task.place.q_mm - leg_middle_mm(task.place, size.width_mm));
  s.overlap = std::max(overlap_mm(task.place, size), 1.0);
  s.throat = throat_share * std::min(size.thickness_mm, size.doubler_mm > 0 ? size.doubler_mm : task.rules.wall.mm());
  s.sheet_yield = m.proof_strength.value() / task.rules.safety_factor.yield;
  s.weld_yield = weld_proof / task.rules.safety_factor.yield;
  s.weld_shear = weld_ultimate / (std::sqrt(3.0) * task.rules.safety_factor.ultimate);
  s.gusset_up = std::min(s.beyond + gusset_up_mm, size.leg_mm);
  return s;
}

/// Foot at the fold: bent by the pull along the bolt, pulled by the one off the wall, bent in its own plane by the one along the fold.
double foot_stress(const Task& task, const BracketSize& size, const Sums& s, const Local& f) {
  const double t = size.thickness_mm, b = size.width_mm, deep = s.a + task.frame.end_mm;
  const double side_lever = std::max(s.beside - b / 2, 0.0);
  const double pulled = std::abs(f.d) / (b * t), sideways = std::abs(f.q) * s.a;
  if (!size.gussets) return 6 * std::abs(f.p) * (s.a + s.beside) / (b * t * t) + pulled + 6 * sideways / (t * b * b);
  // Sideways the gussets stand at both edges like the flanges of a channel: half their height is counted.
  return 6 * std::abs(f.p) * (b / 8 + side_lever) / (deep * t * t) + pulled + sideways / (t * b * b / 6 + t * b * s.gusset_up / 2);
}

/// Where the bracket meets the wall's edge: gussets bent, or the bare leg.
double root_stress(const Task& task, const BracketSize& size, const Sums& s, const Local& f) {
  const double t = size.thickness_mm, b = size.width_mm, deep = s.a + task.frame.end_mm;
  if (!size.gussets) return 6 * (std::abs(f.p) * s.a + std::abs(f.d) * s.beyond) / (b * t * t);
  const double depth_at_edge = deep * (1 - s.beyond / std::max(s.gusset_up, 1.0));
  const double out = std::abs(f.p) * s.a / (2 * t * s.gusset_up * s.gusset_up / 6);
  const double below = s.beyond > 0 ? std::abs(f.d) * s.beyond / (2 * t * depth_at_edge * depth_at_edge / 6) : 0;
  const double sideways = 2 * std::abs(f.q) * s.a / (b * t * s.gusset_up);
  return out + below + sideways;
}

/// Two welds along the sides of the leg, `overlap` long and b apart.
double weld_stress(const BracketSize& size, const Sums& s, const Local& f) {
  const double H = s.overlap, b = size.width_mm, w = s.throat, arm = s.beyond + H / 2;
  const double about_fold = std::abs(f.p) * s.a + std::abs(f.d) * arm;
  const double about_bolt = std::abs(f.q) * s.a + std::abs(f.d) * s.beside;
  const double twist = std::abs(f.q) * arm + std::abs(f.p) * s.beside;
  const double normal = std::abs(f.d) / (2 * w * H) + about_fold / (2 * w * H * H / 6) + about_bolt / (w * H * b);
  const double shear = std::hypot(f.p, f.q) / (2 * w * H) + twist / (w * H * std::max(b, H / 2));
  return std::hypot(normal, shear);
}

/// Push or pull that the leg puts on the sheet of the wall. At the edge of the floor (or of the next wall) that takes the force itself in
/// its own plane, and this wall only the moment over the leg's length; farther in, the wall takes more of it by the lever.
double wall_force(const Task& task, const BracketSize& size, const Sums& s, const Local& f) {
  const double from_edge = task.place.side > 0 ? task.place.p_mm - task.place.p_low_mm : task.place.p_high_mm - task.place.p_mm;
  const bool stiff_edge = task.place.side > 0 || !task.place.level_fold;   // floor or next wall; not the mouth of the box
  const double on_wall = !stiff_edge ? 1 : std::clamp(from_edge / s.overlap, 0.0, 1.0);
  const double about_edge = std::abs(f.p) * s.a + std::abs(f.d) * s.beyond;
  return on_wall * std::abs(f.d) + about_edge / s.overlap + (std::abs(f.q) * s.a + std::abs(f.d) * s.beside) / size.width_mm;
}

template <class Value>
Link worst_link(const Task& task, bool words, const char* name, double limit, const char* unit, const char* source, const char* formula, const std::string& numbers, Value value) {
  Link out;
  double worst = -1;
  for (const Local& load : task.loads) {
    const double now = value(load);
    if (now <= worst) continue;
    worst = now;
    if (!words) {
      out.check.use = now / limit;
      continue;
    }
    out = {"bracket", load.load_case, core::check_at_most(name, task.where + ", " + load.load_case, now, limit, unit, source, ""), formula,
           fmt::format("Fd {:.0f}, Fp {:.0f}, Fq {:.0f} N; ", load.d, load.p, load.q) + numbers};
  }
  return out;
}

template <class... Values>
std::string numbers_if(bool words, fmt::format_string<Values...> text, Values&&... values) {
  return words ? fmt::format(text, std::forward<Values>(values)...) : std::string();
}

std::vector<Link> links_of(const Task& task, const BracketSize& size, bool words) {
  const Sums s = sums_of(task, size);
  const survey::Material& m = task.rules.materials.wall;
  const double t = size.thickness_mm, b = size.width_mm, wall = task.rules.wall.mm();
  const double fan = fan_force_n(s.sheet_yield, s.weld_yield, wall * wall + size.doubler_mm * size.doubler_mm);
  const Plate plate{t, m.ultimate_strength.value()};
  const Hole hole{task.thread.major_diameter.mm(), task.frame.hole_mm};
  const double factor = task.rules.safety_factor.ultimate;
  const double side_mm = std::max(b / 2, task.frame.end_mm);
  const double slotted = task.frame.slot_mm > task.frame.hole_mm ? 0.6 : 1.0;
  const double bearing = slotted * bearing_capacity(plate, hole, bearing_alpha_end(task.frame.end_mm - (task.frame.slot_mm - task.frame.hole_mm) / 2, hole.hole_mm),
                                                    bearing_k1_edge(side_mm, hole.hole_mm), task.rules.materials.fasteners.ultimate_strength.value(), factor).value();
  const std::string sizes = !words ? std::string() : fmt::format("t {}, b {}, a {:.0f}, c {:.0f}, o {:.0f}, H {:.0f} mm", short_number(t), short_number(b), s.a, s.beyond, s.beside, s.overlap);
  std::vector<Link> out;
  out.push_back(worst_link(task, words, "bracket foot bent", s.sheet_yield, "MPa", "plate held at the fold, or between two gussets (handbook beams)",
                           size.gussets ? "6 Fp (b/8) / ((a+e) t^2) + Fd/(b t) + Fq a/(t b^2/6 + t b h/2) <= f_y/g_y" : "6 Fp a/(b t^2) + Fd/(b t) + 6 Fq a/(t b^2) <= f_y/g_y", sizes,
                           [&](const Local& f) { return foot_stress(task, size, s, f); }));
  out.push_back(worst_link(task, words, "bracket bent at the box", s.weld_yield, "MPa", "two gussets or the bare leg as a cantilever; strength beside the weld",
                           size.gussets ? "Fp a/(2 t h^2/6) + Fd c/(2 t g^2/6) + 2 Fq a/(b t h) <= f_y,weld/g_y" : "6 (Fp a + Fd c)/(b t^2) <= f_y,weld/g_y",
                           sizes + numbers_if(words, ", h {:.0f} mm", s.gusset_up), [&](const Local& f) { return root_stress(task, size, s, f); }));
  out.push_back(worst_link(task, words, "bracket's weld to the wall", s.weld_shear, "MPa", "two fillets of 0.7 of the thinner sheet; EN 1993-1-8 4.5.3.3 form, f_u beside the weld / (sqrt 3 g_u)",
                           "resultant of pull, bending, shear and twist over the throat <= f_u,weld/(sqrt 3 g_u)", sizes + numbers_if(words, ", throat {:.1f} mm", s.throat), [&](const Local& f) { return weld_stress(size, s, f); }));
  out.push_back(worst_link(task, words, "wall behind the bracket", fan, "N", "yield fan 2 pi (m + m'), Johansen, from memory; m = f_y/g_y (t_w^2 + t_d^2)/4",
                           "P = k Fd + (Fp a + Fd c)/H + (Fq a + Fd o)/b <= 2 pi (m + m')", sizes + numbers_if(words, ", wall {} mm, doubler {} mm", short_number(wall), short_number(size.doubler_mm)),
                           [&](const Local& f) { return wall_force(task, size, s, f); }));
  out.push_back(worst_link(task, words, "bolt bearing on the bracket", bearing, "N", "EN 1993-1-8 Table 3.4, f_u of the bracket; slots x 0.6", "V <= (0.6) k1 a f_u d t / g_u", sizes,
                           [&](const Local& f) { return std::hypot(f.d, f.q); }));
  out.push_back(worst_link(task, words, "bracket torn out at the bolt", tear_out_capacity(plate, task.frame.end_mm, task.frame.slot_mm, factor).value(), "N", "two shear planes, f_u / sqrt(3) over the ultimate factor",
                           "V <= 2 (e - slot/2) t f_u / (sqrt 3 g_u)", sizes + numbers_if(words, ", e {} mm, slot {} mm", short_number(task.frame.end_mm), short_number(task.frame.slot_mm)),
                           [&](const Local& f) { return std::hypot(f.d, f.q); }));
  out.push_back(worst_link(task, words, "washer pulled through the bracket", pull_through_capacity(plate, task.frame.head_mm, factor).value(), "N", "EN 1993-1-8 Table 3.4, washer 3 d across",
                           "N <= 0.6 pi d_w t f_u / g_u", sizes, [&](const Local& f) { return std::abs(f.p); }));
  return out;
}

double worst_use(const std::vector<Link>& links) {
  double worst = 0;
  for (const Link& link : links) worst = std::max(worst, link.check.use);
  return worst;
}

double mass_kg(const Task& task, const BracketSize& size) {
  const double deep = task.place.d_mm + task.frame.end_mm, t = size.thickness_mm;
  const double foot_wide = std::max(size.width_mm, size.width_mm / 2 + std::abs(task.place.q_mm - leg_middle_mm(task.place, size.width_mm)) + task.frame.end_mm);
  double mm3 = deep * foot_wide * t + size.leg_mm * size.width_mm * t;
  if (size.gussets) mm3 += deep * std::min(task.place.beyond_mm + gusset_up_mm, size.leg_mm) * t;
  if (size.doubler_mm > 0) mm3 += (size.width_mm + 80) * (overlap_mm(task.place, size) + 40) * size.doubler_mm;
  return mm3 * 1e-9 * task.rules.materials.wall.density_kg_per_m3;
}

/// Every size that stays within the room between box and car, lightest first.
std::vector<BracketSize> sizes_for(const Task& task) {
  std::vector<BracketSize> out;
  const double longest = longest_leg_mm(task.place), wall_mm = task.place.q_high_mm - task.place.q_low_mm;
  std::vector<double> legs;
  for (const double on_wall : {60.0, 90.0, 120.0, 160.0, 200.0})
    if (task.place.beyond_mm + on_wall < longest) legs.push_back(task.place.beyond_mm + on_wall);
  legs.push_back(std::floor(longest));
  for (const bool gussets : {false, true})
    for (const double doubler : doublers_mm)
      for (const double t : thicknesses_mm)
        for (const double b : widths_mm)
          for (const double leg : legs) {
            const bool wide_enough = b >= 3 * task.frame.hole_mm && (!gussets || b >= 2 * (task.frame.head_mm / 2 + t + 1));
            if (!wide_enough || b > wall_mm || doubler + t > task.rules.body_clearance.mm()) continue;
            if (task.place.d_mm < least_out_mm(task.rules, task.frame, t, doubler)) continue;
            out.push_back({t, b, leg, doubler, gussets});
          }
  std::stable_sort(out.begin(), out.end(), [&](const BracketSize& x, const BracketSize& y) { return mass_kg(task, x) < mass_kg(task, y); });
  return out;
}

void fill(const Task& task, const BracketSize& size, Bracket& out) {
  const double t = size.thickness_mm, middle = leg_middle_mm(task.place, size.width_mm);
  out.material = task.rules.materials.wall.name;
  out.thickness = Length::from_mm(t);
  out.bend_radius = Length::from_mm(bracket_radius_mm(task.rules, t));
  out.foot = Length::from_mm(std::ceil(task.place.d_mm - size.doubler_mm + task.frame.end_mm));
  out.leg = Length::from_mm(std::ceil(size.leg_mm));
  out.width = Length::from_mm(size.width_mm);
  const double beside = task.place.q_mm - middle;
  out.beyond_is_right = beside >= 0;
  out.foot_beyond = Length::from_mm(std::ceil(std::max(std::abs(beside) + task.frame.end_mm - size.width_mm / 2, 0.0)));
  out.hole_beside = Length::from_mm(std::abs(beside));
  out.gussets = size.gussets;
  if (size.gussets) {
    out.gusset_out = Length::from_mm(std::floor(task.place.d_mm + task.frame.end_mm - t));
    out.gusset_up = Length::from_mm(std::min(task.place.beyond_mm + gusset_up_mm, size.leg_mm) - t);
  }
  out.doubler = Length::from_mm(size.doubler_mm);
  out.hole = Length::from_mm(task.frame.hole_mm);
  out.slot = Length::from_mm(task.frame.slot_mm);
  out.slot_out = task.frame.slot_out;
  out.hole_out = Length::from_mm(task.place.d_mm - size.doubler_mm);
  out.fold = task.place.level_fold ? "level" : "upright";
  out.mass = Kg::of(mass_kg(task, size));
}

const char* bracket_cure = "a nearer fixing, a lighter box, thicker walls (wall_mm), or a bracket of steel bolted through wall and a backing plate inside: have it looked at by the engineer";

}  // namespace

Bracket design_bracket(const box::Box& box, const survey::Cavity& cavity, const survey::Rules& rules, const survey::Fixing& fixing, const survey::Thread& thread,
                       const BracketPlace& place, const std::vector<BracketLoad>& loads, bool round_hole, bool slot_out) {
  const double slot_more_mm = round_hole ? 0 : slot_allowance(cavity.tape_error, rules.car_scatter).mm();
  Task task{box, rules, fixing, thread, place, bracket_frame(thread, slot_more_mm, slot_out), {}, fmt::format("{}, bracket to {}", box.name, fixing.name)};
  for (const BracketLoad& load : loads) task.loads.push_back(to_local(box, place, load));
  std::optional<BracketSize> best;
  double least = 1e300;
  for (const BracketSize& size : sizes_for(task)) {
    const double now = worst_use(links_of(task, size, false));
    if (now >= least || !keep_out_met(cavity, rules, fixing, bracket_pieces(box, place, task.frame, size)).empty()) continue;
    best = size;
    least = now;
    if (now <= 1) break;
  }
  Bracket out;
  out.mark = fmt::format("{}-BR-{}", box.mark, fixing.name);
  out.fixing = fixing.name;
  out.wall = place.wall_name;
  if (!best) {
    const double least_mm = least_out_mm(rules, task.frame, least_bracket_mm, 0);
    const std::string cure = place.d_mm < least_mm
        ? fmt::format("the bolt stands {:.1f} mm from the wall, a bent bracket needs {:.1f}: a fixing farther off, or the box {:.1f} mm away from it", place.d_mm, least_mm, least_mm - place.d_mm)
        : bracket_cure;
    out.links.push_back({"bracket", "", count_check("sizes of bracket that find room", task.where, 0, 1, "sizes", "room between wall, fixing and keep-outs", cure), "", ""});
    return out;
  }
  fill(task, *best, out);
  out.pieces = bracket_pieces(box, place, task.frame, *best);
  out.reach = reach_of(box, cavity, place, task.frame, *best);
  out.links = links_of(task, *best, true);
  for (Link& link : out.links)
    if (!link.check.ok) link.check.cure = bracket_cure;
  return out;
}

}  // namespace cellstow::restraint
