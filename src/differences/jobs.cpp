#include "cellstow/differences/jobs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace cellstow::differences {
namespace {

template <class T>
const T* named(const std::vector<T>& list, const std::string& name) {
  const auto found = std::find_if(list.begin(), list.end(), [&](const T& item) { return item.name == name; });
  return found == list.end() ? nullptr : &*found;
}

const char* word(survey::FixingUse use) {
  constexpr std::array words = {"carry", "locate", "never"};
  return words[static_cast<std::size_t>(use)];
}

const char* word(survey::FixingKind kind) {
  constexpr std::array words = {"weld nut", "through hole", "stud"};
  return words[static_cast<std::size_t>(kind)];
}

void note(std::vector<std::string>& remarks, const std::string& first, const std::string& second) {
  if (first != second) remarks.push_back(first + ", in the second " + second);
}

std::string sheet_text(const survey::Fixing& fixing) {
  if (!fixing.sheet) return "sheet not known";
  return fmt::format("sheet {:.10g} mm", fixing.sheet->mm());
}

std::vector<std::string> remarks_on(const survey::Fixing& first, const survey::Fixing& second) {
  std::vector<std::string> out;
  note(out, first.thread, second.thread);
  note(out, std::string("to ") + word(first.use), std::string("to ") + word(second.use));
  note(out, word(first.kind), word(second.kind));
  note(out, sheet_text(first), sheet_text(second));
  const double cosine = first.axis[0] * second.axis[0] + first.axis[1] * second.axis[1] + first.axis[2] * second.axis[2];
  const bool limits_differ = first.limit.has_value() != second.limit.has_value() ||
                             (first.limit && first.limit->value() != second.limit->value());
  if (first.axis != second.axis)
    out.push_back(fmt::format("axis turned by {:.1f} degrees", std::acos(std::clamp(cosine, -1.0, 1.0)) * 180 / M_PI));
  if (limits_differ) out.push_back("another limit_n");
  return out;
}

HoleDifference hole_in_both(const std::string& cavity, const survey::Fixing& first, const survey::Fixing& second) {
  HoleDifference out{cavity, first.name, Change::changed, 0, 0, 0, 0, remarks_on(first, second)};
  out.dx_mm = (second.at.x - first.at.x).mm();
  out.dy_mm = (second.at.y - first.at.y).mm();
  out.dz_mm = (second.at.z - first.at.z).mm();
  out.distance_mm = std::hypot(out.dx_mm, out.dy_mm, out.dz_mm);
  return out;
}

SectionDifference section_in_one(const survey::Cavity& cavity, const survey::Section& section, Change change) {
  SectionDifference out{cavity.name, change, cavity.sections.across, section.station, {}, 0, 0};
  (change == Change::only_first ? out.first_mm2 : out.second_mm2) = area_mm2(section);
  return out;
}

}  // namespace

std::vector<ValueDifference> compare_values(const std::vector<Value>& first, const std::vector<Value>& second) {
  using Key = std::pair<std::string, std::string>;
  std::map<Key, const Value*> by_name;
  for (const Value& value : second) by_name[{value.group, value.what}] = &value;
  std::vector<ValueDifference> out;
  for (const Value& value : first) {
    const auto found = by_name.find({value.group, value.what});
    if (found == by_name.end())
      out.push_back({Change::only_first, value.group, value.what, value.text, {}});
    else if (found->second->text != value.text)
      out.push_back({Change::changed, value.group, value.what, value.text, found->second->text});
    if (found != by_name.end()) by_name.erase(found);
  }
  for (const Value& value : second)
    if (by_name.contains({value.group, value.what}))
      out.push_back({Change::only_second, value.group, value.what, {}, value.text});
  return out;
}

std::vector<HoleDifference> compare_holes(const survey::Cavity& first, const survey::Cavity& second) {
  std::vector<HoleDifference> out;
  for (const survey::Fixing& fixing : first.fixings) {
    const survey::Fixing* other = named(second.fixings, fixing.name);
    HoleDifference difference = other ? hole_in_both(first.name, fixing, *other)
                                      : HoleDifference{first.name, fixing.name, Change::only_first, 0, 0, 0, 0, {}};
    if (!other || difference.distance_mm > same_mm || !difference.remarks.empty()) out.push_back(std::move(difference));
  }
  for (const survey::Fixing& fixing : second.fixings)
    if (!named(first.fixings, fixing.name)) out.push_back({first.name, fixing.name, Change::only_second, 0, 0, 0, 0, {}});
  return out;
}

std::vector<SectionDifference> compare_sections(const survey::Cavity& first, const survey::Cavity& second) {
  if (first.sections.across != second.sections.across) return {};
  std::vector<SectionDifference> out;
  auto a = first.sections.at.begin(), b = second.sections.at.begin();
  while (a != first.sections.at.end() || b != second.sections.at.end()) {
    const bool only_a = b == second.sections.at.end() || (a != first.sections.at.end() && a->station < b->station);
    const bool only_b = a == first.sections.at.end() || (b != second.sections.at.end() && b->station < a->station);
    if (only_a) {
      out.push_back(section_in_one(first, *a++, Change::only_first));
    } else if (only_b) {
      out.push_back(section_in_one(second, *b++, Change::only_second));
    } else {
      SectionDifference both{first.name, Change::changed, first.sections.across, a->station, greatest_difference(*a, *b), area_mm2(*a), area_mm2(*b)};
      if (both.wall.mm > same_mm) out.push_back(both);
      ++a, ++b;
    }
  }
  return out;
}

std::vector<CavityPair> matched(const survey::Job& first, const survey::Job& second) {
  std::vector<CavityPair> out;
  for (const survey::Cavity& cavity : first.cavities) out.push_back({&cavity, named(second.cavities, cavity.name)});
  for (const survey::Cavity& cavity : second.cavities)
    if (!named(first.cavities, cavity.name)) out.push_back({nullptr, &cavity});
  return out;
}

}  // namespace cellstow::differences
