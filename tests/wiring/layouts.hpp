#pragma once
/// Small layouts to wire, built without the packer.

#include <random>
#include <string>
#include <vector>

#include "cellstow/wiring/wiring.hpp"

namespace cellstow::wiring::testing {

using core::Length;
using packing::BoxLayout;
using packing::Run;
using survey::Stance;

struct BlockSpec {
  double u = 0, v = 0, z = 0;  ///< low corner of its first cell, mm
  Run runs = Run::u;
  int cells = 1;
  Stance stance = Stance::upright;
};

/// Cells of 70 x 180 x 250 mm unless said otherwise, posts 60 mm from the middle, 3.65 V full.
survey::Cell a_cell();
survey::StringSpec a_string(int parallel = 1);

/// Blocks of touching cells; end plates and straps take no room here.
BoxLayout layout_of(const survey::Cell& cell, const std::vector<BlockSpec>& blocks);

/// `rows` blocks of `cells` side by side along v, `pitch` apart.
BoxLayout snake(const survey::Cell& cell, int rows, int cells, double pitch);

Wiring wire(const survey::Cell& cell, const std::vector<BoxLayout>& layouts, int parallel = 1, double open_link_max_v = 60);

/// The same whole number on every machine, low ... high.
int whole(std::mt19937_64& random, int low, int high);

/// Up to three blocks in a row or stacked either way, 1 to 3 cells each; never overlapping.
std::vector<BlockSpec> scattered(std::mt19937_64& random, int blocks, int most_cells);

}  // namespace cellstow::wiring::testing
