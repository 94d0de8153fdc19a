#include "cellstow/wiring/cabling.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cellstow/wiring/cable.hpp"

namespace cellstow::wiring {
namespace {

/// Usual ratings and DC classes of bolted fuses: common practice, no source.
constexpr int ratings_a[] = {63, 80, 100, 125, 160, 200, 250, 315, 355, 400, 450, 500, 630};
constexpr int classes_v[] = {150, 250, 500, 750, 1000};

/// Least share of the continuous current: fuse makers' usual advice.
constexpr double fuse_over_continuous = 1.25;

/// Currents: industrial table, single core, cross-linked insulation, conductor at 90 degC in air of 52 degC. Outsides and glands: common practice.
struct Gland { const char* size; double hole_mm, nut_mm; };
/// Clearance hole half a millimetre over the thread, locknuts across corners: common practice, no source.
constexpr Gland m20{"M20", 20.5, 27}, m25{"M25", 25.5, 33}, m32{"M32", 32.5, 41};
struct Row { double area_mm2, carries_a, outside_mm; Gland gland; };
constexpr Row cables[] = {{16, 95, 10, m20},  {25, 127, 12, m20}, {35, 156, 14, m25}, {50, 190, 16, m25},
                          {70, 242, 19, m32}, {95, 301, 21, m32}, {120, 352, 23, m32}};
constexpr double bend_over_outside = 6;  // laid once, not flexing: common practice

std::optional<double> short_circuit(const survey::Cell& cell, const StringResult& volts) {
  if (!cell.resistance || !cell.voltage || cell.resistance->value() <= 0 || volts.series <= 0) return std::nullopt;
  return volts.max_v / (cell.resistance->value() / 1000 * volts.series / volts.parallel);
}

FuseChoice fuse_for(double needed_a, double max_v) {
  FuseChoice fuse{*std::rbegin(ratings_a), *std::rbegin(classes_v), {}};
  for (auto it = std::rbegin(ratings_a); it != std::rend(ratings_a) && *it >= needed_a; ++it) fuse.rating_a = *it;
  for (auto it = std::rbegin(classes_v); it != std::rend(classes_v) && *it >= max_v; ++it) fuse.class_v = *it;
  return fuse;
}

CableChoice cable_for(double current_a) {
  const Row* row = std::find_if(std::begin(cables), std::end(cables), [&](const Row& r) { return r.carries_a >= current_a; });
  if (row == std::end(cables)) --row;
  return {row->area_mm2, row->carries_a, row->outside_mm, bend_over_outside * row->outside_mm, row->gland.size, row->gland.hole_mm, row->gland.nut_mm, {}, {}, {}};
}

void add_checks(double continuous_a, double max_v, Cabling& out) {
  out.checks.push_back(core::check_at_least("fuse above the continuous current", "main fuse", out.fuse->rating_a, fuse_over_continuous * continuous_a, "A",
                                            "1.25 x continuous current (fuse makers' usual advice)", "two strings side by side, each with its own fuse"));
  out.checks.push_back(core::check_at_most("fuse protects the cable", "main fuse and cable", out.fuse->rating_a, out.cable->carries_a, "A",
                                           "single core, cross-linked insulation, in air of 52 degC (industrial table)", "two cables side by side, or a larger section than listed here"));
  out.checks.push_back(core::check_at_least("fuse breaks the string's voltage", "main fuse", out.fuse->class_v, max_v, "V",
                                            "DC class of the fuse against the full string", "a fuse of a higher DC class"));
}

void say(const survey::StringSpec& string, double continuous_a, Cabling& out) {
  const FuseChoice& fuse = *out.fuse;
  const CableChoice& cable = *out.cable;
  out.notes.push_back(fmt::format("fuse {} A, for {} V DC or more; cable {:.0f} mm2 copper, carries {:.0f} A in warm air; about {:.0f} mm over the insulation, gland {}, bent to no less than {:.0f} mm radius",
                                  fuse.rating_a, fuse.class_v, cable.area_mm2, cable.carries_a, cable.outside_mm, cable.gland, cable.bend_radius_mm));
  if (cable.drop_v) out.notes.push_back(fmt::format("{:.2f} m out and back at {:.0f} A: {:.2f} V and {:.0f} W lost, about 16 % more when warm", *cable.length_m, continuous_a, *cable.drop_v, *cable.loss_w));
  if (string.controller && string.controller->peak && string.controller->peak->value() > fuse.rating_a) {
    out.notes.push_back(fmt::format("the peak of {:.0f} A is {:.1f} times the fuse's rating: hold its length and how often it comes against the melting curve of the fuse bought, and stay below half of it",
                                    string.controller->peak->value(), string.controller->peak->value() / fuse.rating_a));
  }
  if (fuse.short_circuit_a) {
    out.cautions.push_back(fmt::format("A dead short drives up to about {:.0f} A by the cells' own resistance: the fuse must be made to break that at {} V DC. Fuses for AC or for 12 V cars do not.",
                                       *fuse.short_circuit_a, fuse.class_v));
  }
  out.notes.push_back("no part in the string may be made for less than the fuse lets pass; strings side by side are fused one by one");
}

}  // namespace

Cabling choose_cabling(const survey::Cell& cell, const survey::StringSpec& string, const StringResult& volts) {
  Cabling out;
  if (!string.continuous || string.continuous->value() <= 0) {
    out.why_not = "the string has no \"continuous_a\"";
    return out;
  }
  const double continuous_a = string.continuous->value();
  out.fuse = fuse_for(fuse_over_continuous * continuous_a, volts.max_v);
  out.fuse->short_circuit_a = short_circuit(cell, volts);
  out.cable = cable_for(out.fuse->rating_a);
  if (string.cable_route) {
    out.cable->length_m = string.cable_route->mm() / 1000;
    out.cable->drop_v = two_wire_drop_v(*out.cable->length_m, continuous_a, out.cable->area_mm2);
    out.cable->loss_w = *out.cable->drop_v * continuous_a;
  }
  add_checks(continuous_a, volts.max_v, out);
  say(string, continuous_a, out);
  return out;
}

}  // namespace cellstow::wiring
