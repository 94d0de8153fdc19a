#pragma once
/// A sheet part laid out flat, in true size: what a laser cuts and etches and where a brake bends.
///
/// All lengths in mm on the drawn face: a to the right, b up, lowest corner of the cut outline at (0, 0).

#include <string>
#include <vector>

namespace cellstow::fabrication {

struct FlatPoint {
  double a = 0, b = 0;
};

/// A corner of a path and the way to the next corner: bulge = tan(sweep / 4), 0 a straight line, above 0 an
/// arc that turns counter-clockwise, 1 half a circle. The same number as in a DXF polyline.
struct PathPoint {
  double a = 0, b = 0, bulge = 0;
};

/// Closed, first corner not repeated. Outlines run counter-clockwise, cut-outs clockwise or either way.
using Path = std::vector<PathPoint>;

enum class HoleKind { round, slot, contour };

/// A hole through the sheet. round: centre and diameter. slot: round ends of `diameter`, `length` over all, its
/// long way turned by `angle_deg` from a towards b. contour: any closed path, centre its middle.
struct FlatHole {
  HoleKind kind = HoleKind::round;
  FlatPoint centre;
  double diameter = 0, length = 0, angle_deg = 0;
  Path contour;
  std::string what;  ///< "drain", "lid screw M5": may be printed
};

FlatHole round_hole(FlatPoint centre, double diameter, std::string what);

/// One fold. The line is where the bend's middle lies on the flat, from one end of the bend to the other.
struct BendLine {
  FlatPoint from, to;
  bool up = true;             ///< towards who looks at the drawn face
  double angle_deg = 90;      ///< bent through: 90 makes a square corner
  double inside_radius = 0;
  double allowance = 0;       ///< flat length that the bend takes up
  double deduction = 0;       ///< outside legs added up, less this, is the flat length
  double k_factor = 0;
  std::string what;           ///< "wall, front 1": what it folds up
};

struct EtchLine {
  FlatPoint from, to;
};

/// Single-line lettering, lower left corner at `at`, turned by angle_deg from a towards b.
struct EtchText {
  std::string text;
  FlatPoint at;
  double height = 0, angle_deg = 0;
};

struct FlatPattern {
  Path outline;
  std::vector<FlatHole> holes;
  std::vector<BendLine> bends;
  std::vector<EtchLine> etch_lines;
  std::vector<EtchText> etch_texts;
};

struct FlatExtent {
  FlatPoint low, high;
  double width() const { return high.a - low.a; }
  double height() const { return high.b - low.b; }
};

/// The edge of any hole as a closed path, clockwise for round holes and slots.
Path hole_path(const FlatHole& hole);

/// Corners only: each arc replaced by chords that stay within `sag` of it.
std::vector<FlatPoint> straightened(const Path& path, double sag = 0.01);

/// Even-odd rule; on an edge either way.
bool inside(FlatPoint p, const std::vector<FlatPoint>& corners);

/// Enclosed area in mm2, arcs counted exactly; positive when counter-clockwise.
double signed_area(const Path& path);

/// Outline less holes, mm2.
double sheet_area(const FlatPattern& flat);

/// Smallest upright rectangle round the outline, arcs counted exactly.
FlatExtent extent_of(const Path& path);

/// Length to cut: outline and holes, mm.
double cut_length(const FlatPattern& flat);

}  // namespace cellstow::fabrication
