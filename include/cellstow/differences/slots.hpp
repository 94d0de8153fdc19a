#pragma once
/// Holes of brackets that serve two cars.

#include <array>
#include <map>
#include <string>
#include <vector>

#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::differences {

/// One fixing that both cars have, and the hole of the bracket that goes to it. Lengths in the plane across the
/// fixing's axis; the box stands in the second car so that the round hole fits both.
struct SharedHole {
  std::string fixing;
  bool round = false;              ///< the one hole of the cavity that is not slotted
  double width_mm = 0;             ///< clearance hole of the thread; of the larger where they differ
  double length_mm = 0;            ///< overall; equal to the width for the round one
  std::array<double, 3> along{};   ///< unit direction of the slot, in the car
  core::Point3 centre;             ///< of the hole with the box as it stands in the first car
  double shim_mm = 0;              ///< how much farther along its axis the second car's fixing lies; negative: nearer
  std::string why_not;             ///< empty: it serves both
  std::vector<std::string> remarks;
};

struct SharedHoles {
  std::string cavity;
  std::vector<SharedHole> holes;          ///< fixings both have and neither marks never, in the order of the first job
  std::array<double, 3> moved_mm{};       ///< how the box stands in the second car against the first
};

/// The shortest slots that take both cars' fixings of a cavity. The rule is that of the brackets (restraint/bracket.hpp):
///
///   length = hole + 2 (tape_error + car_scatter) + what is left of the distance between the two cars' fixings
///
/// along the line between them. One hole is round, as on every box: the one with which most holes serve, and then the slots
/// are shortest in all.
///
/// @param longest  a slot longer than this does not serve: the washer no longer bears on both sides
SharedHoles shared_holes(const survey::Cavity& first, const survey::Cavity& second, const survey::Rules& rules,
                         const std::map<std::string, survey::Thread>& threads, core::Length longest);

}  // namespace cellstow::differences
