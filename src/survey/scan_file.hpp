#pragma once
/// Scans as files: STL (text, binary), OBJ, PLY (text, binary). Strict: a file that is not what it says is refused, with the place.

#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "cellstow/measuring/scan.hpp"

namespace cellstow::survey {

/// What is wrong with a scan file, in the words of a core::Problem.
struct ScanFileFault {
  std::string title, found, expected, hint;
};

using ScanFile = tl::expected<measuring::scan::Scan, ScanFileFault>;

/// @param bytes  the whole file
/// @param name   its last letters say what it is: .stl, .obj or .ply, in capitals or not
/// @return points in the order of the file; faces of four corners as two triangles
/// Sources: M. Burns, Automated Fabrication (1993), section 6.5 (STL), Wavefront's appendix B1 to the Advanced Visualizer manual
/// (OBJ), G. Turk, The PLY Polygon File Format (1994); all from memory
ScanFile read_scan_file(std::string_view bytes, std::string_view name);

ScanFile read_stl(std::string_view bytes);
ScanFile read_obj(std::string_view bytes);
ScanFile read_ply(std::string_view bytes);

/// Words of a text file one after the other, with the line they stand on.
class ScanWords {
 public:
  explicit ScanWords(std::string_view text) : text_(text) {}

  /// The next word; empty at the end of the text.
  std::string_view next();
  /// The next word on this line; empty at its end.
  std::string_view next_on_line();
  /// Goes to the start of the next line; false at the end of the text.
  bool next_line();
  /// What is left of this line.
  std::string_view rest_of_line();

  std::size_t line() const { return line_; }
  std::size_t at() const { return at_; }
  /// "line 12: vertex 1 2", for a fault; at most 60 letters of the line, printable.
  std::string here() const;

 private:
  std::string_view text_;
  std::size_t at_ = 0, line_ = 1, line_start_ = 0;
};

/// A whole word as a finite number; a leading + is allowed.
bool to_number(std::string_view word, double& value);
bool to_whole(std::string_view word, long long& value);

/// The faults all formats share.
ScanFileFault scan_damaged(std::string found, std::string expected, std::string hint = {});
ScanFileFault scan_ends_early(std::string expected);
ScanFileFault scan_without_faces(std::string found);

/// Adds a face of three or four corners. @return what is wrong with it, or nothing
std::string add_face(measuring::scan::Scan& scan, const long long* corners, std::size_t count, std::size_t points);

/// Most points, and most triangles, of a scan.
inline constexpr std::size_t most_scan_parts = 20'000'000;

}  // namespace cellstow::survey
