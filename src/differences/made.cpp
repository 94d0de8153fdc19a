#include "cellstow/differences/made.hpp"

#include <fmt/format.h>

namespace cellstow::differences {
namespace {

std::string three(const std::vector<double>& sides) {
  std::string text;
  for (const double side : sides) text += fmt::format("{}{:.10g}", text.empty() ? "" : " x ", side);
  return text;
}

std::vector<Value> values_of(const std::vector<MadeBox>& boxes) {
  std::vector<Value> out;
  for (const MadeBox& box : boxes) {
    const std::string group = box.cavity + ", box " + box.mark;
    out.push_back({group, "cells", std::to_string(box.cells)});
    if (!box.outside_mm.empty()) out.push_back({group, "outside, length x width x height, mm", three(box.outside_mm)});
    if (!box.inside_mm.empty()) out.push_back({group, "inside, mm", three(box.inside_mm)});
    out.push_back({group, "mass full, kg", fmt::format("{:.1f}", box.full_kg)});
  }
  return out;
}

/// Between what is told and what only decides.
constexpr char seam = '\x1f';

std::vector<Value> values_of(const std::vector<MadePart>& parts) {
  std::vector<Value> out;
  for (const MadePart& part : parts)
    out.push_back({part.mark, part.what, fmt::format("{} off, {}", part.quantity, part.size) + seam + part.exact});
  return out;
}

std::string told(const std::string& text) { return text.substr(0, text.find(seam)); }

}  // namespace

MadeDifferences compare_made(const Made& first, const Made& second) {
  MadeDifferences out;
  out.totals = compare_values(first.totals, second.totals);
  out.boxes = compare_values(values_of(first.boxes), values_of(second.boxes));
  for (const ValueDifference& part : compare_values(values_of(first.parts), values_of(second.parts))) {
    PartDifference difference{part.change, part.group, part.what, told(part.first), told(part.second)};
    if (difference.first == difference.second) difference.second += ", but corners, holes or bends elsewhere";
    out.parts.push_back(std::move(difference));
  }
  return out;
}

}  // namespace cellstow::differences
