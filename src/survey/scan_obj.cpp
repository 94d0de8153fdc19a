#include <fmt/format.h>

#include <algorithm>

#include "scan_file.hpp"

namespace cellstow::survey {
namespace {

using measuring::scan::Scan;
using Fault = tl::unexpected<ScanFileFault>;

/// Says nothing about where the wall is: directions, pictures, names, groups, bare points and lines.
constexpr std::string_view passed_over[] = {"vn", "vt", "vp", "g", "o", "s", "mg", "usemtl", "mtllib", "l", "p"};

class ObjReader {
 public:
  explicit ObjReader(std::string_view text) : words_(text) {}

  ScanFile read() {
    do {
      if (!read_line(words_.next_on_line())) return Fault(fault_);
    } while (words_.next_line());
    // corners may be named before their points stand in the file
    for (const auto& [corners, count, line] : faces_)
      if (const std::string what = add_face(scan_, corners.data(), count, scan_.points.size()); !what.empty())
        return Fault(scan_damaged(fmt::format("line {}: {}", line, what), "faces of 3 or 4 corners among the points of the file"));
    if (scan_.triangles.empty()) return Fault(scan_without_faces(fmt::format("{} points", scan_.points.size())));
    return std::move(scan_);
  }

 private:
  struct Face {
    std::array<long long, 4> corners;
    std::size_t count, line;
  };

  bool read_line(std::string_view key) {
    if (key.empty() || key[0] == '#') return true;
    if (key == "v") return read_point();
    if (key == "f") return read_face();
    if (std::find(std::begin(passed_over), std::end(passed_over), key) != std::end(passed_over)) return true;
    return wrong("lines that begin with v or f, and what can be passed over: vn, vt, g, o, s, usemtl, mtllib, l, p, #");
  }

  bool read_point() {
    std::array<double, 3> point{};
    for (double& coordinate : point)
      if (!to_number(words_.next_on_line(), coordinate)) return wrong("v and three numbers");
    double more = 0;                           // a weight, or a colour
    std::string_view word = words_.next_on_line();
    for (int i = 0; i < 4 && !word.empty() && word[0] != '#'; ++i, word = words_.next_on_line())
      if (!to_number(word, more)) return wrong("v and three numbers, then at most a colour");
    if (!word.empty() && word[0] != '#') return wrong("v and three numbers, then at most a colour");
    if (scan_.points.size() >= most_scan_parts) return wrong(fmt::format("at most {} points", most_scan_parts));
    scan_.points.push_back(point);
    return true;
  }

  /// f a b c, f a/t b/t c/t, f a//n ..., counted from 1, or from the last point so far backwards from -1.
  bool read_face() {
    Face face{{}, 0, words_.line()};
    for (std::string_view word = words_.next_on_line(); !word.empty() && word[0] != '#'; word = words_.next_on_line()) {
      long long number = 0;
      if (!to_whole(word.substr(0, word.find('/')), number) || number == 0)
        return wrong("f and the numbers of its corners, counted from 1");
      if (face.count == 4) return wrong("faces of 3 or 4 corners");
      face.corners[face.count++] = number > 0 ? number - 1 : static_cast<long long>(scan_.points.size()) + number;
    }
    if (face.count < 3) return wrong("faces of 3 or 4 corners");
    if (faces_.size() >= most_scan_parts) return wrong(fmt::format("at most {} faces", most_scan_parts));
    faces_.push_back(face);
    return true;
  }

  bool wrong(std::string expected) {
    fault_ = scan_damaged(words_.here(), std::move(expected));
    return false;
  }

  ScanWords words_;
  Scan scan_;
  std::vector<Face> faces_;
  ScanFileFault fault_;
};

}  // namespace

ScanFile read_obj(std::string_view bytes) { return ObjReader(bytes).read(); }

}  // namespace cellstow::survey
