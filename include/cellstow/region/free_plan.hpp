#pragma once
/// The free region: where in plan a box that spans given heights may stand.

#include <string>
#include <vector>

#include "cellstow/core/frame.hpp"
#include "cellstow/geometry/wall.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::region {

using core::Um;
using geometry::PointUm;
using geometry::SpanUm;
using geometry::Wall;

/// Heights a box takes up: underside of its floor to top of its lid.
struct HeightSpan {
  Um bottom = 0, top = 0;
};

/// Direction of the strips in which a plan is read.
enum class Strips { along_x, along_y };

/// Everything that keeps a box of one height span away, as walls in the plan.
///
/// A box outline is legal in plan exactly when it meets no wall's blocked set: the clearances
/// are in the walls' reach. Wall::source() is an index into names().
class FreePlan {
 public:
  FreePlan(std::vector<Wall> walls, std::vector<std::string> names);

  /// Free spans of the strip t_low < t < t_high: s is x and t is y for strips along x, and the
  /// other way round for strips along y. Ends are whole um, rounded inward.
  void free_spans(Strips strips, Um t_low, Um t_high, std::vector<SpanUm>& free) const;

  /// True when the open rectangle meets no wall.
  bool covers(Um x_low, Um x_high, Um y_low, Um y_high) const;

  /// True when the outline keeps every wall's reach, encloses none and lies in none. Exact; for outlines of any shape.
  /// @pre the outline is simple and broader than a tenth of a millimetre
  bool admits(const geometry::Loop& outline) const;

  /// The same plan in the frame of a box turned by `heading`: x and y are the box's u and v. Errs on the tight
  /// side: an outline that is legal here, turned back into the car and rounded to the whole um, is legal in this plan.
  /// At most 3.5 um are given away. Unchanged when the heading is square.
  FreePlan turned(core::Heading heading) const;

  /// The same plan in the frame of a turned box, every reach taken back by `by`, for bounds: what keeps every reach
  /// in this plan is legal there. Corners move by less than corner_move_um when they are rounded; `by` has to cover that.
  /// @pre 0 <= by <= least_reach()
  FreePlan turned_loosely(core::Heading heading, Um by) const;
  static constexpr Um corner_move_um = 1;

  /// Smallest distance that any wall asks for.
  Um least_reach() const;

  /// Range of t in which anything can be free.
  SpanUm extent(Strips strips) const;

  /// Values of t at which some wall begins, bends or ends (reach included): where the free spans
  /// of a strip can jump. Sorted, without repeats; empty when there would be more than `most`.
  std::vector<Um> levels(Strips strips, std::size_t most) const;

  const std::vector<Wall>& walls(Strips strips) const {
    return strips == Strips::along_x ? walls_x_ : walls_y_;
  }
  const std::vector<std::string>& names() const { return names_; }
  /// What reading one strip costs, in units of a plain cavity's: the measure of work in budgets.
  long long weight() const { return weight_; }

 private:
  FreePlan turned_by(core::Heading heading, Um more_reach) const;

  std::vector<Wall> walls_x_, walls_y_;
  std::vector<std::string> names_;
  long long weight_ = 1;
};

/// How the space between two measured sections is read.
using Reading = survey::Between;

/// Lengths the region needs from the rules.
struct Clearances {
  Um body = 0, lid = 0;
  /// Added to every clearance in plan: the metal and liner around contents when these may
  /// stand askew to a wall (outline "any"); 0 else.
  Um extra = 0;
};

/// The free plan of a box that spans `span`.
///
///   column: bottom - body clearance < z < top + lid clearance, all of it inside the cavity
///   plan distance to every point without a free column >= body clearance
///   a keep-out counts when it meets bottom - c < z < top + c, c its clearance; plan distance >= c
///
/// `common` between two sections: free is what lies in both outlines; decided exactly.
/// `straight`: the ruled walls between matched vertices; nothing is counted free that is not, and at
/// most 0.1 mm of free space, square to the wall, is given away.
/// @pre for `straight`: can_read_straight(cavity.sections)
FreePlan free_plan(const survey::Cavity& cavity, const Clearances& clearances, Reading reading,
                   HeightSpan span);

/// Do all sections have the same number of corners, hole by hole?
bool can_read_straight(const survey::Sections& sections);

/// Lowest floor underside and highest lid top that the sections allow at all.
HeightSpan height_limits(const survey::Cavity& cavity, const Clearances& clearances);

/// Floor heights (undersides) at which the free plan of a box of the given height can change its
/// shape: a section plane, corner or keep-out comes into or leaves the box's span. Sorted; within the limits.
///
/// Between two of them the free plan stays the same, or (plan_varies_between) changes little by little.
std::vector<Um> critical_floors(const survey::Cavity& cavity, const Clearances& clearances,
                                Um box_height);

/// Can the free plan change between critical floors? Only where walls lean: sections across x or y with slanting
/// edges, the straight reading of unlike sections, slanted or level cylinders.
bool plan_varies_between(const survey::Cavity& cavity, Reading reading);

}  // namespace cellstow::region
