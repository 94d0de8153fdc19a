#pragma once
/// From the opening to the place: is the way through the cavity free?

#include <string>
#include <vector>

#include "cellstow/region/free_plan.hpp"
#include "cellstow/way_in/pass.hpp"

namespace cellstow::way_in {

/// A cavity as a body meets it on its way in: the measured roof (or floor, or last section) towards the
/// opening is the shut lid, not a wall.
///
///   sections across the opening's own axis: the section nearest the opening goes on as far as the opening
///   sections across x or y, opening across z: in each section the roof that is reached from its highest corner over edges no
///   steeper than 45 degrees is lifted to the opening; roofs beyond a steeper edge are overhangs and stay
///   else: which wall is the lid cannot be told; walls_known is false
struct OpenCavity {
  survey::Cavity cavity;               ///< keep-outs without their clearances: on the way in, touching is allowed
  region::Reading reading = region::Reading::common;
  bool walls_known = true;
  std::vector<std::string> notes;
};
OpenCavity opened(const survey::Cavity& cavity, const survey::WayIn& way);

enum class Room {
  free,              ///< nothing in the way
  after_taking_out,  ///< only what can be taken out or tied back is in the way
  blocked,
  not_decided,       ///< cannot be told from what was measured
};

struct InTheWay {
  std::string what;            ///< "cavity wall", or a keep-out's name
  bool comes_out = false;      ///< a keep-out of kind removable or soft
  double by_mm = 0;            ///< how deep the two lie in one another, at least
};

struct Passage {
  Room room = Room::free;
  std::vector<InTheWay> in_the_way;    ///< deepest first
  std::optional<double> gap_mm;        ///< least gap to what is not in the way
  std::string gap_to;
  double given_away_mm = 0;            ///< a slanting move is followed in steps: room up to this may be overlooked
  std::vector<std::string> notes;
};

/// The way of a body that has passed this opening to its place.
///
/// Upright: along the move from the opening to its place; when it had to pass shifted, along the move to a height at which it can go
/// over sideways (just under the opening, or at its place's own height), then on. The whole space swept is held
/// against the free plan without clearances. Turned: with room to turn back just under the opening. Tilted: with room under the opening to
/// be set down about its lower end. The last two are tests that suffice; when they fail the answer is not_decided.
/// @pre pass.manner is not blocked
Passage passage_to_place(const Body& body, const Pass& pass, const survey::WayIn& way,
                         const OpenCavity& cavity);

/// Does an upright column over this plan stand free of everything between the heights? What is in its way is added to the passage.
void look_along(const OpenCavity& cavity, const geometry::Loop& plan, region::HeightSpan span,
                Passage& passage);

/// Sets room from in_the_way, deepest first.
void conclude(Passage& passage);

}  // namespace cellstow::way_in
