#include "cellstow/differences/slots.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "cellstow/restraint/slot.hpp"

namespace cellstow::differences {
namespace {

using Vector = std::array<double, 3>;

Vector operator-(const Vector& a, const Vector& b) { return {a[0] - b[0], a[1] - b[1], a[2] - b[2]}; }
Vector operator*(double f, const Vector& a) { return {f * a[0], f * a[1], f * a[2]}; }
double dot(const Vector& a, const Vector& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
double length(const Vector& a) { return std::sqrt(dot(a, a)); }
Vector place(const core::Point3& p) { return {p.x.mm(), p.y.mm(), p.z.mm()}; }
Vector in_plane(const Vector& v, const Vector& axis) { return v - dot(v, axis) * axis; }

/// A fixing in both cars.
struct Pair {
  const survey::Fixing* first;
  const survey::Fixing* second;
  double width_mm, play_mm;  ///< clearance hole, and by how much it is larger than the larger bolt
  Vector apart;              ///< second less first
};

std::vector<Pair> pairs_of(const survey::Cavity& first, const survey::Cavity& second, const std::map<std::string, survey::Thread>& threads) {
  std::vector<Pair> out;
  for (const survey::Fixing& a : first.fixings) {
    const auto b = std::find_if(second.fixings.begin(), second.fixings.end(), [&](const survey::Fixing& f) { return f.name == a.name; });
    if (b == second.fixings.end() || a.use == survey::FixingUse::never || b->use == survey::FixingUse::never) continue;
    const survey::Thread &one = threads.at(a.thread), &other = threads.at(b->thread);
    const double width = std::max(one.clearance_hole, other.clearance_hole).mm();
    out.push_back({&a, &*b, width, width - std::max(one.major_diameter, other.major_diameter).mm(), place(b->at) - place(a.at)});
  }
  return out;
}

/// The axis of the car nearest to `wanted` in the plane across `normal`.
Vector car_axis_near(const Vector& wanted, const Vector& normal) {
  Vector best{};
  double most = -1;
  for (std::size_t k = 0; k < 3; ++k) {
    Vector axis{};
    axis[k] = 1;
    if (std::abs(dot(axis, normal)) > 0.1) continue;  // not in the plane
    if (const double along = std::abs(dot(axis, wanted)); along > most + 1e-9) best = axis, most = along;
  }
  return best;
}

/// Along an axis of the car when the hole's play takes what lies across it; else along the line between the two cars'
/// fixings; towards the round hole when the two coincide.
Vector slot_direction(const Vector& left, const Vector& to_round, const Vector& normal, double play_mm) {
  const bool coincide = length(left) < 1e-6;
  const Vector axis = car_axis_near(coincide ? in_plane(to_round, normal) : left, normal);
  if (length(axis) > 0.5 && length(in_plane(left, normal) - dot(left, axis) * axis) <= play_mm) return axis;
  return coincide ? Vector{1, 0, 0} : (1 / length(left)) * left;
}

constexpr double turned_cos = 0.9962;  // 5 degrees, as brackets allow (restraint). Common practice, no source

SharedHole shared_hole(const Pair& pair, const Pair* round, double more_mm, double longest_mm) {
  const Vector normal = pair.first->axis;
  const Vector apart = pair.apart - (round ? round->apart : Vector{});
  const Vector left = in_plane(apart, normal);
  SharedHole out;
  out.fixing = pair.first->name;
  out.round = &pair == round;
  out.width_mm = out.length_mm = pair.width_mm;
  out.shim_mm = dot(apart, normal);
  const Vector middle = place(pair.first->at) - (-0.5) * left;
  out.centre = {core::Length::from_mm(middle[0]), core::Length::from_mm(middle[1]), core::Length::from_mm(middle[2])};
  if (!out.round) {
    const Vector to_round = round ? place(round->first->at) - place(pair.first->at) : Vector{1, 0, 0};
    out.along = slot_direction(left, to_round, normal, pair.play_mm);
    out.length_mm += more_mm + std::abs(dot(left, out.along));
  }
  if (pair.first->thread != pair.second->thread)
    out.remarks.push_back(fmt::format("{} in the first car, {} in the second: the hole is for the larger, a thick washer under the smaller", pair.first->thread, pair.second->thread));
  if (std::abs(dot(pair.first->axis, pair.second->axis)) < turned_cos)
    out.why_not = "the two cars' fixings do not point the same way";
  else if (out.length_mm > longest_mm + 1e-9)
    out.why_not = fmt::format("it would take a slot of {:.1f} mm, and {:.10g} is the longest allowed", out.length_mm, longest_mm);
  return out;
}

std::vector<SharedHole> all_holes(const std::vector<Pair>& pairs, const Pair* round, double more_mm, double longest_mm) {
  std::vector<SharedHole> out;
  for (const Pair& pair : pairs) out.push_back(shared_hole(pair, round, more_mm, longest_mm));
  return out;
}

/// Holes that do not serve, then slots in all: the fewer and the shorter, the better.
std::pair<std::ptrdiff_t, double> cost(const std::vector<SharedHole>& holes) {
  const auto refused = std::count_if(holes.begin(), holes.end(), [](const SharedHole& hole) { return !hole.why_not.empty(); });
  double length_mm = 0;
  for (const SharedHole& hole : holes) length_mm += hole.length_mm - hole.width_mm;
  return {refused, std::round(length_mm * 1e6)};  // to the nanometre, so that a tie is a tie and the first one stays
}

/// Only a fixing that carries in both cars, with one thread, can take the round hole.
const Pair* round_one(const std::vector<Pair>& pairs, double more_mm, double longest_mm) {
  const Pair* best = nullptr;
  std::pair<std::ptrdiff_t, double> least{};
  for (const Pair& pair : pairs) {
    const bool carries = pair.first->use == survey::FixingUse::carry && pair.second->use == survey::FixingUse::carry;
    if (!carries || pair.first->thread != pair.second->thread) continue;
    const auto now = cost(all_holes(pairs, &pair, more_mm, longest_mm));
    if (!best || now < least) best = &pair, least = now;
  }
  return best;
}

}  // namespace

SharedHoles shared_holes(const survey::Cavity& first, const survey::Cavity& second, const survey::Rules& rules,
                         const std::map<std::string, survey::Thread>& threads, core::Length longest) {
  const std::vector<Pair> pairs = pairs_of(first, second, threads);
  const double more_mm = restraint::slot_allowance(std::max(first.tape_error, second.tape_error), rules.car_scatter).mm();
  const Pair* round = round_one(pairs, more_mm, longest.mm());
  SharedHoles out;
  out.cavity = first.name;
  if (round) out.moved_mm = round->apart;
  out.holes = all_holes(pairs, round, more_mm, longest.mm());
  return out;
}

}  // namespace cellstow::differences
