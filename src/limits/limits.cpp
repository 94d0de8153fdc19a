#include "cellstow/limits/limits.hpp"

#include <map>
#include <tuple>

#include "cellstow/wiring/string_window.hpp"
#include "search.hpp"

namespace cellstow::limits {

int fullest_row(const packing::CavityPacking& packing) {
  int most = 0;
  for (const packing::BoxLayout& box : packing.boxes) {
    std::map<std::tuple<packing::Run, Length, Length>, int> rows;
    for (const packing::Block& block : box.blocks) {
      const core::Point3& low = block.body.low;
      most = std::max(most, rows[{block.runs, block.runs == packing::Run::u ? low.y : low.x, low.z}] += block.cells);
    }
  }
  return most;
}

CellWorth cell_worth(const survey::Cell& cell, const std::optional<survey::StringSpec>& string) {
  CellWorth worth;
  worth.kg = cell.mass.value();
  if (cell.voltage && cell.capacity) worth.kwh = cell.voltage->nominal.value() * cell.capacity->value() / 1000;
  if (worth.kwh && string && string->consumption) worth.km = wiring::usable_low * *worth.kwh * 1000 / string->consumption->value();
  return worth;
}

CavityLimits what_limits(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
                         const packing::CavityPacking& packing, const LimitsOptions& options) {
  return Search(cavity, cell, rules, packing, options).run();
}

}  // namespace cellstow::limits
