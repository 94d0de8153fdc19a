#include "layouts.hpp"

namespace cellstow::wiring::testing {
namespace {

Length mm(double value) { return Length::from_mm(value); }

packing::Cuboid body(double u, double v, double z, double along_u, double along_v, double up) {
  return {{mm(u), mm(v), mm(z)}, {mm(u + along_u), mm(v + along_v), mm(z + up)}};
}

}  // namespace

survey::Cell a_cell() {
  survey::Cell cell;
  cell.name = "test cell";
  cell.thickness = mm(70), cell.width = mm(180), cell.height = mm(250), cell.terminal_top = mm(270);
  cell.terminal_offset = mm(60);
  cell.growth_percent = 3;
  cell.voltage = survey::VoltageWindow{core::Volt::of(2.5), core::Volt::of(3.2), core::Volt::of(3.65)};
  return cell;
}

survey::StringSpec a_string(int parallel) {
  survey::StringSpec string;
  string.parallel = parallel;
  return string;
}

BoxLayout layout_of(const survey::Cell& cell, const std::vector<BlockSpec>& blocks) {
  BoxLayout layout;
  const double t = cell.thickness.mm(), w = cell.width.mm(), h = cell.height.mm();
  for (const BlockSpec& spec : blocks) {
    const int id = static_cast<int>(layout.blocks.size()) + 1;
    const double along = spec.stance == Stance::flat ? w : t;
    const double across = spec.stance == Stance::upright ? w : h;
    const double up = spec.stance == Stance::upright ? h : spec.stance == Stance::on_edge ? w : t;
    const bool u = spec.runs == Run::u;
    layout.blocks.push_back({id, spec.cells, spec.runs, spec.stance,
                             body(spec.u, spec.v, spec.z, u ? spec.cells * along : across, u ? across : spec.cells * along, up)});
    for (int i = 0; i < spec.cells; ++i) {
      layout.cells.push_back({body(spec.u + (u ? i * along : 0), spec.v + (u ? 0 : i * along), spec.z, u ? along : across, u ? across : along, up),
                              spec.stance, id, i + 1});
    }
  }
  return layout;
}

BoxLayout snake(const survey::Cell& cell, int rows, int cells, double pitch) {
  std::vector<BlockSpec> blocks;
  for (int row = 0; row < rows; ++row) blocks.push_back({0, row * pitch, 0, Run::u, cells, Stance::upright});
  return layout_of(cell, blocks);
}

Wiring wire(const survey::Cell& cell, const std::vector<BoxLayout>& layouts, int parallel, double open_link_max_v) {
  std::vector<BoxOfCells> boxes;
  for (std::size_t i = 0; i < layouts.size(); ++i) boxes.push_back({"B" + std::to_string(i + 1), &layouts[i]});
  survey::Rules rules;
  rules.open_link_max = core::Volt::of(open_link_max_v);
  return wire_string(cell, a_string(parallel), rules, boxes);
}

int whole(std::mt19937_64& random, int low, int high) {
  return low + static_cast<int>(random() % static_cast<std::uint64_t>(high - low + 1));
}

std::vector<BlockSpec> scattered(std::mt19937_64& random, int blocks, int most_cells) {
  std::vector<BlockSpec> out;
  double v = 0;
  for (int i = 0; i < blocks; ++i) {
    BlockSpec spec;
    spec.runs = whole(random, 0, 2) == 0 ? Run::v : Run::u;
    spec.cells = whole(random, 1, most_cells);
    spec.u = 10.0 * whole(random, 0, 8) + (whole(random, 0, 3) == 0 ? 400 : 0);
    spec.v = v;
    v += (spec.runs == Run::u ? 180 : spec.cells * 70) + whole(random, 5, 25);
    out.push_back(spec);
  }
  return out;
}

}  // namespace cellstow::wiring::testing
