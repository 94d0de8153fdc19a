#pragma once
/// How numbers stand in sentences of this stage.

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "cellstow/core/finding.hpp"

namespace cellstow::restraint {

/// At most one decimal: "9", "13.5".
inline std::string short_number(double value) {
  std::string text = fmt::format("{:.1f}", value);
  if (text.ends_with(".0")) text.resize(text.size() - 2);
  return text == "-0" ? "0" : text;
}

/// "40 x 5 mm"
inline std::string bar_size(double width_mm, double thickness_mm) {
  return short_number(width_mm) + " x " + short_number(thickness_mm) + " mm";
}

/// "1 bolt", "2 bolts"
inline std::string counted(int count, const std::string& one) {
  return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

/// Have against needed, in pieces. Being short of all of them uses 2.0, of half of them 1.5: a
/// plain ratio would be endless at none.
inline core::Check count_check(const std::string& name, const std::string& where, int have,
                               int needed, const std::string& unit, const std::string& source,
                               const std::string& cure) {
  core::Check check = core::check_at_least(name, where, have, needed, unit, source, cure);
  if (!check.ok) check.use = 1 + static_cast<double>(needed - have) / needed;
  return check;
}

/// Adds a sentence once.
inline void say_once(std::vector<std::string>& sentences, const std::string& sentence) {
  if (std::find(sentences.begin(), sentences.end(), sentence) == sentences.end())
    sentences.push_back(sentence);
}

}  // namespace cellstow::restraint
