#include "cellstow/differences/common_cavity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "cellstow/differences/jobs.hpp"
#include "common_space.hpp"

namespace cellstow::differences {
namespace {

using core::Length;
using survey::Cavity;
using survey::Section;

template <class T>
const T* named(const std::vector<T>& list, const std::string& name) {
  const auto found = std::find_if(list.begin(), list.end(), [&](const T& item) { return item.name == name; });
  return found == list.end() ? nullptr : &*found;
}

/// The sections that bind at a station: the one measured there, or the two it lies between.
std::vector<const Section*> binding(const Cavity& cavity, Length station) {
  const auto& at = cavity.sections.at;
  const auto next = std::find_if(at.begin(), at.end(), [&](const Section& section) { return section.station >= station; });
  if (next->station == station) return {&*next};
  return {&*std::prev(next), &*next};
}

std::vector<Length> common_stations(const Cavity& first, const Cavity& second) {
  std::set<Length> all;
  for (const Cavity* cavity : {&first, &second})
    for (const Section& section : cavity->sections.at) all.insert(section.station);
  const Length low = std::max(first.sections.at.front().station, second.sections.at.front().station);
  const Length high = std::min(first.sections.at.back().station, second.sections.at.back().station);
  std::vector<Length> out;
  for (const Length station : all)
    if (station >= low && station <= high) out.push_back(station);
  return out;
}

std::string why_not_common(const Cavity& first, const Cavity& second) {
  if (first.sections.across != second.sections.across) return "the sections of the two were measured across different axes";
  if (first.sections.between == survey::Between::straight || second.sections.between == survey::Between::straight)
    return "its walls are read straight between sections";
  if (common_stations(first, second).size() < 2) return "the two were measured at stations that have no stretch in common";
  return {};
}

bool same_place(const survey::WayIn& a, const survey::WayIn& b) { return a.across == b.across && a.station == b.station && a.move == b.move; }

bool same(const survey::KeepOut& a, const survey::KeepOut& b) {
  if (a.kind != b.kind || a.clearance != b.clearance || a.shape.index() != b.shape.index()) return false;
  if (const auto* box = std::get_if<survey::BoxShape>(&a.shape)) {
    const auto& other = std::get<survey::BoxShape>(b.shape);
    return box->low == other.low && box->high == other.high;
  }
  if (const auto* cylinder = std::get_if<survey::CylinderShape>(&a.shape)) {
    const auto& other = std::get<survey::CylinderShape>(b.shape);
    return cylinder->from == other.from && cylinder->to == other.to && cylinder->diameter == other.diameter;
  }
  const auto& prism = std::get<survey::PrismShape>(a.shape);
  const auto& other = std::get<survey::PrismShape>(b.shape);
  return prism.outline == other.outline && prism.z_low == other.z_low && prism.z_high == other.z_high;
}

/// A name that the list does not have yet.
template <class T>
std::string second_name(const std::vector<T>& list, const std::string& name) {
  std::string out = name + " (second car)";
  while (named(list, out)) out += "'";
  return out;
}

void add_sections(const Cavity& first, const Cavity& second, CommonCavity& out) {
  double lost_mm2 = 0;
  for (const Length station : common_stations(first, second)) {
    std::vector<const Section*> sections = binding(first, station);
    for (const Section* section : binding(second, station)) sections.push_back(section);
    CommonSpace space = common_space(sections);
    if (!space.section) {
      out.why_not = fmt::format("at station {:.10g} mm {}", station.mm(), space.untold ? "the common space has an outline that touches itself" : "nothing is free in both");
      return;
    }
    space.section->station = station;
    out.cavity->sections.at.push_back(std::move(*space.section));
    lost_mm2 = std::max(lost_mm2, space.lost_mm2);
  }
  if (lost_mm2 > 0)
    out.remarks.push_back(fmt::format("{}: what both leave free falls into pieces; only the largest is kept at each station, and up to {:.2f} dm2 are lost.", first.name, lost_mm2 / 1e4));
}

void add_keep_outs(const Cavity& second, Cavity& common) {
  for (survey::KeepOut keep_out : second.keep_outs) {
    const survey::KeepOut* known = named(common.keep_outs, keep_out.name);
    if (known && same(*known, keep_out)) continue;
    if (known) keep_out.name = second_name(common.keep_outs, keep_out.name);
    common.keep_outs.push_back(std::move(keep_out));
  }
}

void add_ways_in(const Cavity& second, CommonCavity& out) {
  std::vector<survey::WayIn>& ways = out.cavity->way_in;
  for (survey::WayIn way : second.way_in) {
    const auto known = std::find_if(ways.begin(), ways.end(), [&](const survey::WayIn& w) { return w.name == way.name; });
    if (known != ways.end() && same_place(*known, way)) {
      Section one, other;
      one.outline = known->outline;
      other.outline = way.outline;
      const CommonSpace space = common_space({&one, &other});
      if (space.section && space.section->holes.empty()) {
        known->outline = space.section->outline;
        continue;
      }
    }
    if (known != ways.end()) way.name = second_name(ways, way.name);
    ways.push_back(std::move(way));
  }
}

template <class T>
std::optional<T> smaller(const std::optional<T>& a, const std::optional<T>& b) {
  return a && b ? std::min(*a, *b) : a ? a : b;
}

Length middle(Length a, Length b) { return Length::from_um((a.um() + b.um()) / 2); }

void set_fixings(const Cavity& first, const Cavity& second, CommonCavity& out) {
  constexpr double turned_cos = 0.9962;  // 5 degrees, as brackets allow (restraint). Common practice, no source
  out.cavity->fixings.clear();
  for (survey::Fixing fixing : first.fixings) {
    const survey::Fixing* other = named(second.fixings, fixing.name);
    const bool alike = other && other->thread == fixing.thread && other->kind == fixing.kind &&
                       std::abs(fixing.axis[0] * other->axis[0] + fixing.axis[1] * other->axis[1] + fixing.axis[2] * other->axis[2]) >= turned_cos;
    if (!alike) {
      out.remarks.push_back(fmt::format("{}: {} is not in both cars alike and is left out.", first.name, fixing.name));
      continue;
    }
    const double apart_mm = std::hypot((fixing.at.x - other->at.x).mm(), (fixing.at.y - other->at.y).mm(), (fixing.at.z - other->at.z).mm());
    out.fixings_off = std::max(out.fixings_off, Length::from_mm_up(apart_mm / 2));
    fixing.at = {middle(fixing.at.x, other->at.x), middle(fixing.at.y, other->at.y), middle(fixing.at.z, other->at.z)};
    fixing.use = std::max(fixing.use, other->use);  // carry, locate, never
    fixing.sheet = smaller(fixing.sheet, other->sheet);
    if (fixing.limit || other->limit)
      fixing.limit = !fixing.limit ? other->limit : !other->limit || fixing.limit->value() < other->limit->value() ? fixing.limit : other->limit;
    out.cavity->fixings.push_back(std::move(fixing));
  }
}

void set_fittings(const Cavity& second, Cavity& common) {
  for (const survey::Fitting& fitting : second.fittings) {
    const auto known = std::find_if(common.fittings.begin(), common.fittings.end(), [&](const survey::Fitting& f) { return f.name == fitting.name; });
    if (known == common.fittings.end()) {
      common.fittings.push_back(fitting);
      continue;
    }
    for (std::size_t k = 0; k < 3; ++k) known->size[k] = std::max(known->size[k], fitting.size[k]);
    known->count = std::max(known->count, fitting.count);
  }
}

}  // namespace

CommonCavity common_cavity(const Cavity& first, const Cavity& second) {
  CommonCavity out;
  out.why_not = why_not_common(first, second);
  if (!out.why_not.empty()) return out;
  out.cavity = first;
  out.cavity->sections.at.clear();
  out.cavity->cells_wanted.reset();
  out.cavity->tape_error = std::max(first.tape_error, second.tape_error);
  add_sections(first, second, out);
  if (!out.why_not.empty()) {
    out.cavity.reset();
    return out;
  }
  add_keep_outs(second, *out.cavity);
  add_ways_in(second, out);
  set_fixings(first, second, out);
  set_fittings(second, *out.cavity);
  return out;
}

CommonJob common_job(const survey::Job& first, const survey::Job& second) {
  CommonJob out{first, {}, {}};
  out.job.title = "Common boxes: " + (first.title.empty() ? "the first car" : first.title) + "; " + (second.title.empty() ? "the second car" : second.title);
  out.job.cavities.clear();
  Length off;
  for (const auto& [one, other] : matched(first, second)) {
    if (!one || !other) {
      out.remarks.push_back((one ? one : other)->name + ": a cavity of one car only, left out.");
      continue;
    }
    CommonCavity common = common_cavity(*one, *other);
    if (common.cavity)
      out.job.cavities.push_back(std::move(*common.cavity));
    else
      out.why_not.push_back(one->name + ": " + common.why_not);
    out.remarks.insert(out.remarks.end(), common.remarks.begin(), common.remarks.end());
    off = std::max(off, common.fixings_off);
  }
  if (out.job.cavities.empty() && out.why_not.empty()) out.why_not.push_back("the two have no cavity of one name");
  out.job.rules.car_scatter = out.job.rules.car_scatter + off;
  out.remarks.push_back(fmt::format("Cell, rules, string and car are those of the first job; car_scatter_mm is {:.10g} so that slots reach the fixings of both cars.", out.job.rules.car_scatter.mm()));
  return out;
}

}  // namespace cellstow::differences
