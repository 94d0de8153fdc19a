/// Any bytes as a scan: refused in words, or read, placed, cut and simplified without a wall inside what is called free.
///
/// The first byte says as which kind of file the rest is read.

#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "cellstow/measuring/scan_inward.hpp"
#include "cellstow/measuring/scan_placing.hpp"
#include "cellstow/measuring/scan_slice.hpp"
#include "scan_file.hpp"

namespace {

namespace scan = cellstow::measuring::scan;

constexpr std::string_view names[] = {"scan.stl", "scan.obj", "scan.ply"};

/// More is only slower.
constexpr std::size_t most_triangles = 2000;

void demand(bool holds) {
  if (!holds) std::abort();
}

void cut(const scan::PlacedScan& placed, cellstow::core::Axis across) {
  const scan::Um stations[] = {0, 1, 500, 333'333};
  for (const scan::Slice& slice : scan::slice(placed, across, stations)) {
    const auto space = scan::free_space(slice.pieces, {10, 10}, {5'000, 50});
    if (!space) continue;
    const auto all = [](const scan::Loop& loop) {
      std::vector<scan::WallPiece> edges;
      for (std::size_t i = 0; i < loop.size(); ++i) edges.push_back({loop[i], loop[(i + 1) % loop.size()]});
      return edges;
    };
    const scan::Inward inward = scan::simplify_inward(*space, {8, 100});
    demand(scan::is_clear(inward.outline, inward.holes, all(space->outline)));
    for (const scan::Loop& hole : space->holes) demand(scan::is_clear(inward.outline, inward.holes, all(hole)));
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 1) return 0;
  const std::string_view bytes(reinterpret_cast<const char*>(data) + 1, size - 1);
  const auto read = cellstow::survey::read_scan_file(bytes, names[data[0] % 3]);
  if (!read) {
    demand(!read.error().title.empty() && !read.error().found.empty() && !read.error().expected.empty());
    return 0;
  }
  demand(!read->triangles.empty());
  for (const auto& triangle : read->triangles)
    for (const auto corner : triangle) demand(corner < read->points.size());
  if (read->triangles.size() > most_triangles) return 0;
  scan::Placing still;
  still.turn = {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  const auto placed = scan::placed(*read, still, 1);
  if (!placed) return 0;
  for (const auto across : {cellstow::core::Axis::x, cellstow::core::Axis::z}) cut(*placed, across);
  return 0;
}
