#pragma once
/// The string's links in the words and numbers of the reader. Internal to report.

#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"
#include "report/tables.hpp"

namespace cellstow::report {

/// Boxes of the plan in the order that wiring counts them.
std::vector<const plan::BoxPlan*> boxes_of(const plan::Plan& plan);

/// All that is cut from sheet or plate for a box: its sheet parts, then the end plates.
std::vector<const fabrication::SheetPart*> cut_from_sheet(const plan::BoxPlan& box);

/// What a meter shows between the negative end and the positive post of a link's first cell.
struct Volts {
  bool known = false;
  double piece_nominal = 0;       ///< from the start of the piece, every cell at its nominal voltage
  double string_nominal = 0, string_max = 0;
};
Volts running_volts(const survey::Job& job, const wiring::Connection& link);

/// Every link in string order: number, from, to, join, kind, distance, removable, running volts, box, what to mind.
Table link_list(const survey::Job& job, const plan::Plan& plan);
/// The same, of one box (index as wiring counts them); a cable stands with the box it leaves.
Table link_list(const survey::Job& job, const plan::Plan& plan, int box);
Table link_kinds(const plan::Plan& plan);

inline const char* sign(wiring::Pole pole) { return pole == wiring::Pole::plus ? "+" : "-"; }

inline const char* word(wiring::Facing facing) {
  switch (facing) {
    case wiring::Facing::up: return "up";
    case wiring::Facing::rising: return "rising";
    case wiring::Facing::falling: return "falling";
  }
  return "";
}

inline const char* word(wiring::Join join) {
  switch (join) {
    case wiring::Join::link: return "link";
    case wiring::Join::jumper: return "jumper";
    case wiring::Join::cable: return "cable";
  }
  return "";
}

}  // namespace cellstow::report
