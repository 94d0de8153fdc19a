/// A scan of a million triangles: read, placed, cut, made into outlines; beside a general mesh library's reader and slicer.

#include <benchmark/benchmark.h>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_slicer.h>
#include <CGAL/Surface_mesh.h>

#include <cmath>
#include <cstring>
#include <list>
#include <numbers>
#include <sstream>
#include <string>

#include "cellstow/measuring/scan_inward.hpp"
#include "cellstow/measuring/scan_placing.hpp"
#include "cellstow/measuring/scan_slice.hpp"
#include "scan_file.hpp"

namespace {

namespace scan = cellstow::measuring::scan;
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;

/// A closed, dented, waisted surface about 800 mm across of 2 * n * n triangles, as a binary STL file.
std::string stl_of(int n) {
  const auto at = [n](int i, int j) {
    const double a = 2 * std::numbers::pi * (j % n) / n, b = std::numbers::pi * i / n;
    const double r = 400 + 30 * std::cos(3 * a) * std::sin(b) + 2 * std::sin(97 * a) * std::sin(61 * b);
    return std::array<float, 3>{static_cast<float>(r * std::sin(b) * std::cos(a)), static_cast<float>(r * std::sin(b) * std::sin(a)),
                                static_cast<float>(r * std::cos(b))};
  };
  std::string bytes(80, ' ');
  std::uint32_t count = 0;
  std::string facets;
  const auto add = [&](const std::array<float, 3>& a, const std::array<float, 3>& b, const std::array<float, 3>& c) {
    if (a == b || b == c || a == c) return;
    char facet[50] = {};
    std::memcpy(facet + 12, a.data(), 12);
    std::memcpy(facet + 24, b.data(), 12);
    std::memcpy(facet + 36, c.data(), 12);
    facets.append(facet, 50);
    ++count;
  };
  // the poles are one point each
  const auto point = [&](int i, int j) { return i == 0 ? at(0, 0) : i == n ? std::array<float, 3>{0, 0, -400} : at(i, j); };
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j) {
      add(point(i, j), point(i + 1, j), point(i + 1, j + 1));
      add(point(i, j), point(i + 1, j + 1), point(i, j + 1));
    }
  bytes.append(reinterpret_cast<const char*>(&count), 4);
  return bytes + facets;
}

const std::string& million() {
  static const std::string bytes = stl_of(708);
  return bytes;
}

std::vector<scan::Um> stations() {
  std::vector<scan::Um> at;
  for (scan::Um i = -4; i <= 5; ++i) at.push_back(i * 70'000 + 13);
  return at;
}

scan::Placing still() {
  scan::Placing placing;
  placing.turn = {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  return placing;
}

void read_place_slice(benchmark::State& state) {
  std::size_t pieces = 0;
  for (auto _ : state) {
    const auto read = cellstow::survey::read_scan_file(million(), "scan.stl");
    const auto placed = scan::placed(*read, still(), 1);
    const auto slices = scan::slice(*placed, cellstow::core::Axis::z, stations());
    pieces = 0;
    for (const auto& slice : slices) pieces += slice.pieces.size();
    benchmark::DoNotOptimize(pieces);
  }
  state.counters["pieces"] = static_cast<double>(pieces);
}
BENCHMARK(read_place_slice)->Unit(benchmark::kMillisecond);

void slice_alone(benchmark::State& state) {
  const auto placed = scan::placed(*cellstow::survey::read_scan_file(million(), "scan.stl"), still(), 1);
  for (auto _ : state) benchmark::DoNotOptimize(scan::slice(*placed, cellstow::core::Axis::z, stations()));
}
BENCHMARK(slice_alone)->Unit(benchmark::kMillisecond);

void free_space_of_ten(benchmark::State& state) {
  const auto placed = scan::placed(*cellstow::survey::read_scan_file(million(), "scan.stl"), still(), 1);
  const auto slices = scan::slice(*placed, cellstow::core::Axis::z, stations());
  for (auto _ : state)
    for (const auto& slice : slices) benchmark::DoNotOptimize(scan::free_space(slice.pieces, {0, 0}, {10'000, 0}));
}
BENCHMARK(free_space_of_ten)->Unit(benchmark::kMillisecond);

void twelve_corners_of_ten(benchmark::State& state) {
  const auto placed = scan::placed(*cellstow::survey::read_scan_file(million(), "scan.stl"), still(), 1);
  std::vector<scan::FreeSpace> spaces;
  for (const auto& slice : scan::slice(*placed, cellstow::core::Axis::z, stations()))
    spaces.push_back(*scan::free_space(slice.pieces, {0, 0}, {10'000, 0}));
  double lost = 0, all = 0;
  for (auto _ : state) {
    lost = all = 0;
    for (const auto& space : spaces) {
      const auto inward = scan::simplify_inward(space, {12, 5'000});
      lost += inward.lost_um2;
      all += inward.free_um2;
    }
  }
  state.counters["lost_percent"] = 100 * lost / all;
}
BENCHMARK(twelve_corners_of_ten)->Unit(benchmark::kMillisecond);

Mesh mesh_of(const std::string& bytes) {
  std::istringstream stream(bytes);
  std::vector<Kernel::Point_3> points;
  std::vector<std::vector<std::size_t>> faces;
  CGAL::IO::read_STL(stream, points, faces, CGAL::parameters::use_binary_mode(true));
  Mesh mesh;
  CGAL::Polygon_mesh_processing::polygon_soup_to_polygon_mesh(points, faces, mesh);
  return mesh;
}

void general_read(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(mesh_of(million()).number_of_faces());
}
BENCHMARK(general_read)->Unit(benchmark::kMillisecond);

void general_slice(benchmark::State& state) {
  const Mesh mesh = mesh_of(million());
  std::size_t lines = 0;
  for (auto _ : state) {
    CGAL::Polygon_mesh_slicer<Mesh, Kernel> slicer(mesh);
    std::list<std::vector<Kernel::Point_3>> cut;
    for (const scan::Um at : stations()) slicer(Kernel::Plane_3(0, 0, 1, -static_cast<double>(at) / 1000), std::back_inserter(cut));
    lines = 0;
    for (const auto& line : cut) lines += line.size() - 1;
  }
  state.counters["pieces"] = static_cast<double>(lines);
}
BENCHMARK(general_slice)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
