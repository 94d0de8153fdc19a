/// Any bytes as a scan: refused in words, or read, placed, cut and simplified without a wall inside what is called free.
///
/// The first byte says as which kind of file the rest is read.

#include "entries.hpp"

#include "cellstow/measuring/scan_inward.hpp"
#include "cellstow/measuring/scan_placing.hpp"
#include "cellstow/measuring/scan_slice.hpp"
#include "promises.hpp"
#include "scan_file.hpp"

namespace cellstow::fuzz {
namespace {

namespace cut_scan = measuring::scan;

constexpr std::string_view names[] = {"scan.stl", "scan.obj", "scan.ply"};

/// More is only slower.
constexpr std::size_t most_triangles = 2000;

void cut(const cut_scan::PlacedScan& placed, core::Axis across) {
  const cut_scan::Um stations[] = {0, 1, 500, 333'333};
  for (const cut_scan::Slice& slice : cut_scan::slice(placed, across, stations)) {
    const auto space = cut_scan::free_space(slice.pieces, {10, 10}, {5'000, 50});
    if (!space) continue;
    const auto all = [](const cut_scan::Loop& loop) {
      std::vector<cut_scan::WallPiece> edges;
      for (std::size_t i = 0; i < loop.size(); ++i) edges.push_back({loop[i], loop[(i + 1) % loop.size()]});
      return edges;
    };
    const cut_scan::Inward inward = cut_scan::simplify_inward(*space, {8, 100});
    promise(cut_scan::is_clear(inward.outline, inward.holes, all(space->outline)), "no wall inside what is called free");
    for (const cut_scan::Loop& hole : space->holes) promise(cut_scan::is_clear(inward.outline, inward.holes, all(hole)), "no hole inside what is called free");
  }
}

}  // namespace

void scan(std::string_view bytes) {
  if (bytes.empty()) return;
  const auto read = survey::read_scan_file(bytes.substr(1), names[static_cast<unsigned char>(bytes[0]) % 3]);
  if (!read) {
    promise(!read.error().title.empty() && !read.error().found.empty() && !read.error().expected.empty(), "a refusal says what, where and what instead");
    return;
  }
  promise(!read->triangles.empty(), "a scan has faces");
  for (const auto& triangle : read->triangles)
    for (const auto corner : triangle) promise(corner < read->points.size(), "faces between points of the file");
  if (read->triangles.size() > most_triangles) return;
  cut_scan::Placing still;
  still.turn = {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  const auto placed = cut_scan::placed(*read, still, 1);
  if (!placed) return;
  for (const auto across : {core::Axis::x, core::Axis::z}) cut(*placed, across);
}

}  // namespace cellstow::fuzz
