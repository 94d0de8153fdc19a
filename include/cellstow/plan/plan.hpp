#pragma once
/// The whole job, stage after stage, and the few loops between them.

#include <atomic>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "cellstow/balance/load_state.hpp"
#include "cellstow/box/box.hpp"
#include "cellstow/fabrication/sheet_work.hpp"
#include "cellstow/limits/fit.hpp"
#include "cellstow/limits/limits.hpp"
#include "cellstow/limits/trust.hpp"
#include "cellstow/packing/layout.hpp"
#include "cellstow/restraint/load_path.hpp"
#include "cellstow/restraint/mounting.hpp"
#include "cellstow/restraint/strap.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"
#include "cellstow/way_in/way_in.hpp"
#include "cellstow/wiring/box_exits.hpp"
#include "cellstow/wiring/cabling.hpp"
#include "cellstow/wiring/string_window.hpp"
#include "cellstow/wiring/wiring.hpp"

namespace cellstow::plan {

/// Slack between the outside of a box (or its lid, or floor) and one wall, roof, floor or keep-out.
struct Gap {
  std::string what;              ///< "cavity wall", "filler neck"
  std::string where;             ///< "box TW, front wall"
  core::Point3 at;               ///< point of the box where it is least
  double gap_mm = 0;             ///< clear distance there
  double needed_mm = 0;          ///< what the rules ask
};

/// One box with what holds it.
struct BoxPlan {
  box::Box box;
  restraint::StrapPlan straps;
  restraint::Mounting mounting;
  fabrication::SheetWork sheet{};          ///< construction, parts to cut and fold
  std::optional<limits::Fit> fit{};        ///< empty without an outline, or when only packing was asked for
  restraint::HoldDownPlan hold_downs{};
  std::vector<fabrication::SheetPart> holding{};  ///< end plates, straps and hold-down bars as parts to make
  restraint::LoadPath load_path{};         ///< from the cells to the car's own metal; the weakest link named
};

struct CavityPlan {
  std::string name, mark;
  packing::CavityPacking packing;          ///< as built: what the string needs of it
  int most_cells = 0;                      ///< what it could hold
  int bound = 0;
  bool proven = false;
  packing::ReadingComparison readings;
  std::optional<limits::TrustList> trust;  ///< which measurements the count stands on; empty when only packing was asked for
  std::optional<limits::CavityLimits> limits;  ///< of the cavity filled as far as it goes; empty when only packing was asked for
  std::vector<Gap> tightest;               ///< least slack first
  std::vector<BoxPlan> boxes;
  std::vector<way_in::BoxWay> way_in;      ///< one a box; empty without openings
  std::vector<core::Check> checks;         ///< cells wanted, fittings without place, ...
};

/// One way of sharing the string among the cavities.
struct Split {
  std::vector<int> cells;                  ///< per cavity, job order
  int boxes = 0;
  std::optional<double> front_share;       ///< as_driven
  bool meets_target = false;
  bool chosen = false;
};

struct Totals {
  int cells = 0, series = 0, parallel = 1;
  int spare_places = 0;          ///< places the cavities have that the string does not use
  int boxes = 0;
  double nominal_v = 0, energy_kwh = 0, mass_added_kg = 0;
  std::optional<double> range_km;
};

struct Plan {
  Totals totals;
  limits::CellWorth per_cell;
  std::vector<CavityPlan> cavities;
  std::vector<Split> splits;               ///< chosen first, then by rank; at most 12
  std::optional<wiring::StringResult> string;
  std::optional<wiring::Wiring> wiring;    ///< order of the cells and what joins them; empty when it could not be told
  std::optional<wiring::Cabling> cabling;  ///< fuse and cable; empty without a continuous current
  std::optional<wiring::Exits> exits;      ///< ways out of the boxes; empty without wiring or cabling
  std::optional<balance::Balance> balance;
  std::vector<core::Check> checks;         ///< every check of every stage, worst first
  std::vector<std::string> cautions;
  std::vector<core::LeftOut> left_out;
};

/// Called now and then, from one thread at a time, with what is being done: also most cells so far and what is not ruled
/// out, cavity by cavity. May be empty; never changes the answer.
using Progress = std::function<void(const std::string&)>;

/// The whole job. Pure: same job and catalogue, same plan.
///
/// @param stop  set to true from another thread or a signal to end the searches soon: the plan is made of the best found until then
Plan make_plan(const survey::Job& job, const survey::Catalogue& catalogue,
               const Progress& progress = {}, const std::atomic<bool>* stop = nullptr);

/// Only the packing of every cavity, each filled with as many cells as it holds or wants.
Plan make_packing_only(const survey::Job& job, const Progress& progress = {},
                       const std::atomic<bool>* stop = nullptr);

}  // namespace cellstow::plan
