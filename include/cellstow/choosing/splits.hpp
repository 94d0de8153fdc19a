#pragma once
/// One cell's count shared among the cavities in every way, and what else could set the balance right.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/choosing/moves.hpp"
#include "cellstow/choosing/offer.hpp"
#include "cellstow/core/finding.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/change_limits.hpp"

namespace cellstow::choosing {

/// One way of sharing, weighed.
struct SplitRow {
  std::vector<int> cells;                ///< per cavity, job order
  int total = 0;
  int boxes = 0;
  double boxes_kg = 0;
  double front_share = 0;                ///< as driven
  std::optional<double> cg_height_mm;    ///< car as driven
  double front_full_kg = 0, rear_full_kg = 0;   ///< all seats taken
  std::optional<double> axle_in_hand_kg; ///< least under an axle limit in any state; negative when over
  bool meets_target = true, within_limits = true;
  bool chosen = false;                   ///< as planned
  bool best = false;                     ///< nothing beats it in limits, target, cells, boxes, height
};

/// Moving one cell from one cavity to another.
struct PerCell { std::size_t from = 0, to = 0; double share_points = 0; };

/// What the plate leaves in one load state.
struct LoadLeft { std::string state; double kg = 0; int people = 0; };   ///< people of 75 kg

/// What the changed ride heights do to the attitude of the car.
struct Attitude {
  double front_mm = 0, rear_mm = 0;      ///< nobody in the car; positive: higher
  double nose_up_deg = 0;
  double beam_mm_at_10_m = 0;            ///< headlamp beam, positive: higher
};

struct SplitStudy {
  std::vector<std::string> cavities;
  std::vector<Offer> offers;
  std::vector<SplitRow> rows;            ///< most cells first, then cells of the first cavity falling
  std::vector<PerCell> per_cell;         ///< pairs with from before to
  int cells = 0, step = 1;               ///< as planned; splits in steps of so many
  ShiftWindow window;                    ///< of the split as planned
  std::vector<Move> moves;
  std::vector<LoadLeft> load_left;
  std::optional<Attitude> attitude;
  std::vector<core::Check> change_checks;   ///< each "if this rule applies"
  std::vector<std::string> change_status;   ///< how well each rule is known, in the order of the checks
  std::vector<std::string> notes;
  std::optional<survey::ShareTarget> target;
  double wheelbase_mm = 0;
};

/// What is shared, and what of it stands already.
struct SplitInput {
  std::vector<Offer> offers;             ///< one a cavity of the job
  std::vector<int> chosen;               ///< cells per cavity as planned
  int parallel = 1;
  std::vector<balance::Lump> boxes;      ///< boxes of the split as planned
  int fewest = 0;                        ///< cells that the drive needs at least; 0: only the count as planned is split
};

/// The study for a weighed car; nothing without wheelbase or weighing, or when there are no cells.
///
/// Masses of a partly filled cavity are in proportion to its cells, at the place of the fuller box: an estimate, exact for the split as planned when
/// the offers were made from its boxes. Weigh again after planning.
std::optional<SplitStudy> study_splits(const survey::Job& job, const SplitInput& input, const std::vector<survey::ChangeLimit>& limits);

/// The same for a plan: offers from its boxes; a cavity left empty is packed anew, in rows and with little work, to know where its cells would be.
std::optional<SplitStudy> study_splits(const survey::Job& job, const plan::Plan& plan, const std::vector<survey::ChangeLimit>& limits);

/// Frontmost and rearmost x of any box.
struct BoxReach { double front_x_mm = 0, rear_x_mm = 0; };

/// Each row of the table against the car; rows that the job cannot answer are told in `notes` instead.
///
/// @param boxes  for the rules on place; nothing when there are no boxes
void add_change_checks(const survey::Car& car, const balance::Balance& balance, const std::optional<BoxReach>& boxes,
                       const std::vector<survey::ChangeLimit>& limits, SplitStudy& study);

/// Beam and nose from the ride heights, nobody in the car.
///
///   nose up = atan((front rise - rear rise) / wheelbase);  beam at 10 m = 10 m x tan(nose up) + rise at the front axle
///
/// Source: geometry of the level road; lamps taken as above the front axle.
Attitude attitude_of(const balance::RideChange& ride, double wheelbase_mm);

}  // namespace cellstow::choosing
