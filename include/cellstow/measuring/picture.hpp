#pragma once
/// A flat template read off one photograph in which at least four of its points are known.

#include <array>
#include <span>
#include <vector>

#include <tl/expected.hpp>

#include "cellstow/measuring/drawn_outline.hpp"

namespace cellstow::measuring {

/// u to the right and v down from the picture's upper left corner.
struct PicturePoint {
  double u_px = 0, v_px = 0;
};

struct KnownInPicture {
  PicturePoint px;
  DrawnPoint at;
};

/// Every give or take, put in or told, is the distance within which a point lies 19 times in 20, in whichever direction
/// it is worst.
struct PictureErrors {
  double click_px = 1;     ///< of every click
  double known_mm = 0.5;   ///< of the known points' own places
};

struct PictureCorner {
  DrawnPoint at;
  double give_or_take_mm = 0;
  bool outside_known = false;  ///< outside the polygon round the known points: a small error there grows
  bool seen = true;            ///< false: beyond the line where the template's plane vanishes, no place at all
};

struct PictureReading {
  /// Row by row: (u w, v w, w) = H (a, b, 1), w positive where the plane is seen.
  std::array<double, 9> to_picture{};
  std::vector<double> known_off_mm;  ///< how far each known point is off; all 0 with four
  /// Known points off by more than their give or take says, so all give or takes were made that much wider; 1 otherwise.
  double widened = 1;
  bool known_disagree = false;       ///< what they are off by happens less than once in 100 with errors as stated
  std::vector<PictureCorner> corners;
};

enum class PictureFaultKind {
  on_one_line,    ///< no four known points of which no three are on one line
  not_one_view    ///< no camera sees the known points where they are said to be: two are mixed up
};

struct PictureFault {
  PictureFaultKind kind;
  std::vector<std::size_t> points;  ///< the three on one line, or those that are mixed up, by their index in `known`
};

/// The plane-to-plane mapping by the normalised direct linear transformation, then least squares of what the known
/// points are off in the picture, each weighted by its click and its own place; corners by the mapping back, their give
/// or take by propagation of first order, the larger axis taken.
///
/// With more than four known points and more scatter than stated, the covariance is scaled up to what was seen, never down.
///
/// @pre   at least 4 known points; click_px > 0
/// Source: Hartley and Zisserman, Multiple View Geometry, 2nd ed. (2004): algorithm 4.2 (DLT), 4.2.3 and 4.3 (the error
///         in one picture), 5.2 (covariance of the mapping and of points carried over) (from memory)
tl::expected<PictureReading, PictureFault> read_picture(std::span<const KnownInPicture> known,
                                                        std::span<const PicturePoint> corners,
                                                        const PictureErrors& errors);

}  // namespace cellstow::measuring
