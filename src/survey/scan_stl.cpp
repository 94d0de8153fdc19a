#include <fmt/format.h>

#include <bit>
#include <cmath>
#include <cstring>

#include "scan_file.hpp"

namespace cellstow::survey {
namespace {

using measuring::scan::Scan;
using Fault = tl::unexpected<ScanFileFault>;

static_assert(std::endian::native == std::endian::little, "STL files are little-endian");

constexpr std::size_t header_bytes = 80, facet_bytes = 50;

template <class T>
T value_at(std::string_view bytes, std::size_t at) {
  T value;
  std::memcpy(&value, bytes.data() + at, sizeof value);
  return value;
}

void add_triangle(Scan& scan) {
  const auto last = static_cast<std::uint32_t>(scan.points.size());
  scan.triangles.push_back({last - 3, last - 2, last - 1});
}

ScanFile read_binary(std::string_view bytes, std::size_t count) {
  if (count == 0) return Fault(scan_without_faces("0 triangles"));
  if (count > most_scan_parts)
    return Fault(scan_damaged(fmt::format("{} triangles", count), fmt::format("at most {} triangles", most_scan_parts)));
  Scan scan;
  scan.points.reserve(3 * count);
  scan.triangles.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    std::size_t at = header_bytes + 4 + i * facet_bytes + 12;  // past the facet's normal
    for (int corner = 0; corner < 3; ++corner) {
      std::array<double, 3> point{};
      for (double& coordinate : point) {
        coordinate = static_cast<double>(value_at<float>(bytes, at));
        at += 4;
        if (!std::isfinite(coordinate))
          return Fault(scan_damaged(fmt::format("triangle {}, counted from 1, has a corner that is not a number", i + 1),
                                    "numbers"));
      }
      scan.points.push_back(point);
    }
    add_triangle(scan);
  }
  return scan;
}

/// solid name / facet normal x y z / outer loop / vertex x y z (three) / endloop / endfacet / ... / endsolid name
class TextReader {
 public:
  explicit TextReader(std::string_view text) : words_(text) {}

  ScanFile read() {
    std::string_view word = words_.next();
    while (word == "solid") {
      words_.next_line();
      if (!read_facets()) return Fault(fault_);
      words_.next_line();                      // the name after endsolid
      word = words_.next();
    }
    if (!word.empty()) return Fault(scan_damaged(words_.here(), "solid, or the end of the file"));
    if (scan_.triangles.empty()) return Fault(scan_without_faces("no facet"));
    return std::move(scan_);
  }

 private:
  bool read_facets() {
    while (true) {
      const std::string_view word = words_.next();
      if (word == "endsolid") return true;
      if (word != "facet") return wrong(word, "facet or endsolid");
      if (!read_facet()) return false;
    }
  }

  bool read_facet() {
    if (scan_.triangles.size() >= most_scan_parts) return wrong("facet", fmt::format("at most {} facets", most_scan_parts));
    if (!expect("normal")) return false;
    for (int i = 0; i < 3; ++i)                // not used, and often not a number where a facet has no area
      if (const auto word = words_.next(); word.empty()) return wrong(word, "three numbers of the normal");
    if (!expect("outer") || !expect("loop")) return false;
    for (int i = 0; i < 3; ++i)
      if (!read_vertex()) return false;
    add_triangle(scan_);
    return expect("endloop") && expect("endfacet");
  }

  bool read_vertex() {
    if (!expect("vertex")) return false;
    std::array<double, 3> point{};
    for (double& coordinate : point)
      if (const auto word = words_.next(); !to_number(word, coordinate)) return wrong(word, "vertex and three numbers");
    scan_.points.push_back(point);
    return true;
  }

  bool expect(std::string_view expected) {
    const std::string_view word = words_.next();
    return word == expected || wrong(word, std::string(expected));
  }

  bool wrong(std::string_view word, std::string expected) {
    fault_ = word.empty() ? scan_ends_early(std::move(expected)) : scan_damaged(words_.here(), std::move(expected));
    return false;
  }

  ScanWords words_;
  Scan scan_;
  ScanFileFault fault_;
};

}  // namespace

ScanFile read_stl(std::string_view bytes) {
  const bool has_count = bytes.size() >= header_bytes + 4;
  const std::size_t count = has_count ? value_at<std::uint32_t>(bytes, header_bytes) : 0;
  // some programs begin binary files with "solid" too, so the size is asked first
  if (has_count && bytes.size() == header_bytes + 4 + count * facet_bytes) return read_binary(bytes, count);
  if (ScanWords(bytes).next() == "solid") return TextReader(bytes).read();
  if (!has_count) return Fault(scan_ends_early("an STL file: text that begins with solid, or 84 bytes and more"));
  return Fault(scan_damaged(fmt::format("{} bytes, but {} triangles in the head of the file", bytes.size(), count),
                            fmt::format("{} bytes for them", header_bytes + 4 + count * facet_bytes),
                            "copy it from the scanner again"));
}

}  // namespace cellstow::survey
