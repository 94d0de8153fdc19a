#pragma once
/// Lines and arcs of a drawing joined into closed loops, and arcs laid out in chords on the tight side.

#include <optional>
#include <vector>

namespace cellstow::measuring {

/// A place in the plane of a section or of a drawing, mm.
struct DrawnPoint {
  double a_mm = 0, b_mm = 0;
};

/// A straight or round piece of a drawing.
struct DrawnPiece {
  DrawnPoint from, to;
  /// tan(sweep / 4), positive when the piece turns to the left on its way; 0 when it is straight.
  /// Source: group code 42 of a drawing exchange file
  double bulge = 0;
  int line = 0;  ///< of the file, for the reader's eye
};

/// Pieces in order, each ending where the next starts, the last where the first starts.
using DrawnLoop = std::vector<DrawnPiece>;

/// Two ends that did not meet and were brought together.
struct ClosedGap {
  DrawnPoint at;
  double width_mm = 0;
};

/// An end that nothing joins, with the nearest other end that nothing joins.
struct OpenEnd {
  DrawnPoint at, nearest;
  int line = 0, nearest_line = 0;
  double distance_mm = 0;  ///< to the nearest
};

/// A place where it is not plain which end belongs to which.
struct Fork {
  DrawnPoint at;
  std::vector<int> lines;  ///< rising
};

struct JoinedPieces {
  std::vector<DrawnLoop> loops;    ///< in the order of their first pieces
  std::vector<ClosedGap> gaps;     ///< wider than 1 um
  std::vector<int> without_length; ///< lines of pieces that were left out: they start where they end
  std::vector<OpenEnd> open;
  std::vector<Fork> forks;
  std::vector<std::pair<int, int>> twice;  ///< lines of pieces drawn twice
};

/// Joins ends no farther apart than `gap_mm`, nearest first.
///
/// Where two straight pieces end a little apart or run past one another they are taken to where they cross; a straight
/// piece is taken to the end of an arc; two arcs, or two lines nearly in line, meet half way. No end moves farther than `gap_mm`.
///
/// @param  pieces  at most 2000, any order and direction
/// @return loops are to be used only when `open`, `forks` and `twice` are empty
JoinedPieces join_pieces(const std::vector<DrawnPiece>& pieces, double gap_mm);

/// Signed area, positive when the loop runs counter-clockwise: shoelace of the ends plus the circular segments
///
///   r^2 (sweep - sin sweep) / 2, with the sign of the bulge
double loop_area_mm2(const DrawnLoop& loop);

/// On which side of a loop the free space lies.
enum class FreeSide { inside, outside };

/// The loop as a polygon that never holds more free space than the loop itself, and nowhere leaves it by more than
/// `within_mm`: chords where an arc bulges out of the free space, tangents where it bulges into it.
///
///   chord: r (1 - cos(step / 2)) <= within;  tangents: r (1 / cos(step / 2) - 1) <= within
///
/// @return corners in order, free space on the left: counter-clockwise round it, clockwise round a hole
/// Source: sagitta of a chord; circumscribed polygon
std::vector<DrawnPoint> tight_corners(DrawnLoop loop, FreeSide free, double within_mm);

}  // namespace cellstow::measuring
