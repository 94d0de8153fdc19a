#pragma once
/// Runs of neighbouring edges that make one wall of a section, and the section with that wall pushed out. Internal to limits.

#include <array>
#include <optional>
#include <vector>

#include "cellstow/geometry/wall.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::limits {

using core::Um;
using geometry::Loop;
using geometry::PointUm;

/// Edges first ... first + count - 1 of one loop (0: the outline, then the holes).
struct EdgeRun {
  std::size_t loop = 0, first = 0, count = 0;
  auto operator<=>(const EdgeRun&) const = default;
};

std::vector<Loop> loops_of(const survey::Section& section);

/// Ends of a run: its first and its last corner.
std::array<PointUm, 2> ends(const std::vector<Loop>& loops, const EdgeRun& run);

/// Unit vector out of the free space, square to the line from end to end.
std::array<double, 2> outward(const std::vector<Loop>& loops, const EdgeRun& run);

double length_um(const std::vector<Loop>& loops, const EdgeRun& run);

/// The loops cut into runs whose edges turn no more than 15 degrees from the first.
std::vector<EdgeRun> edge_runs(const std::vector<Loop>& loops);

/// How a wall that is pushed out meets its neighbour at one end.
enum class Meeting {
  pocket,     ///< the neighbour goes back from it: the old corner stays, a straight side leads out
  flush,      ///< the neighbour stands square to it: its line is drawn longer
  taken_down  ///< the neighbour protrudes beside it: what protrudes is cut to the same depth
};

Meeting meeting_before(const std::vector<Loop>& loops, const EdgeRun& run, std::array<double, 2> out);
Meeting meeting_after(const std::vector<Loop>& loops, const EdgeRun& run, std::array<double, 2> out);

/// The section with the run pushed out by `by`; empty where it would meet another wall or overtake its neighbour.
std::optional<std::vector<Loop>> pushed_out(const std::vector<Loop>& loops, const EdgeRun& run,
                                            std::array<double, 2> out, Meeting before, Meeting after,
                                            Um by);

}  // namespace cellstow::limits
