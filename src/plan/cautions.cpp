#include "cautions.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cellstow::plan {
namespace {

void add_once(std::vector<std::string>& all, const std::vector<std::string>& more) {
  for (const std::string& caution : more) {
    if (std::find(all.begin(), all.end(), caution) == all.end()) all.push_back(caution);
  }
}

/// Hold for every battery box in a car. Common practice, no single source; voltage limit from UN R100 and ISO 6469-3.
const std::vector<std::string> always = {
    "Restraint and mounting figures are a first check for discussion with the certifier; the registering "
    "authority and a licensed engineer decide, and local codes come before anything printed here.",
    "A string above 60 V DC can kill and cannot be switched off at the cells: insulated tools, gloves, one hand, "
    "removable links out until last.",
    "Static g figures do not cover crush, rebound, fatigue or vibration; lock every fastener and re-torque after "
    "500 to 1000 km.",
    "Never carry a box on belt anchorages, seat, steering, brake or suspension fixings.",
    "Offer up a plywood mock-up with brackets on before metal is cut.",
};

/// Cells on edge or flat have their posts sideways; the rules of a block give them no room of their own.
std::vector<std::string> sideways_posts(const survey::Job& job, const Plan& plan) {
  const double out_mm = (job.cell.terminal_top - job.cell.height).mm();
  for (const CavityPlan& cavity : plan.cavities) {
    for (const BoxPlan& box : cavity.boxes) {
      for (const packing::Block& block : box.box.layout.blocks) {
        if (block.stance == survey::Stance::upright) continue;
        return {fmt::format("Box {}: cells not upright have live posts sideways, {:.1f} mm out of the case. Nothing here "
                            "keeps room for them or their links: enter the height over posts as the case height, "
                            "or give it in the space between blocks, and insulate; check the cell maker allows the stance.",
                            box.box.mark, out_mm)};
      }
    }
  }
  return {};
}

/// Cavities with a box and no opening measured, where others have one.
void add_openings_missing(const survey::Job& job, Plan& plan) {
  std::string missing;
  for (std::size_t i = 0; i < plan.cavities.size(); ++i) {
    if (plan.cavities[i].boxes.empty() || !job.cavities[i].way_in.empty()) continue;
    missing += (missing.empty() ? "" : ", ") + job.cavities[i].name;
  }
  if (!missing.empty()) plan.left_out.push_back({"way in", "no opening was measured for: " + missing});
}

}  // namespace

void add_cautions(const survey::Job& job, Plan& plan) {
  for (const CavityPlan& cavity : plan.cavities) {
    for (const BoxPlan& box : cavity.boxes) {
      add_once(plan.cautions, box.box.cautions);
      add_once(plan.cautions, box.sheet.cautions);
      add_once(plan.cautions, box.straps.cautions);
      add_once(plan.cautions, box.mounting.cautions);
      add_once(plan.cautions, box.hold_downs.cautions);
      add_once(plan.cautions, box.load_path.cautions);
    }
    for (const way_in::BoxWay& way : cavity.way_in) add_once(plan.cautions, way.cautions);
  }
  add_once(plan.cautions, sideways_posts(job, plan));
  if (plan.string) add_once(plan.cautions, plan.string->cautions);
  if (plan.wiring) add_once(plan.cautions, plan.wiring->cautions);
  if (plan.cabling) add_once(plan.cautions, plan.cabling->cautions);
  if (plan.balance) add_once(plan.cautions, plan.balance->cautions);
  add_once(plan.cautions, always);
  add_openings_missing(job, plan);
}

}  // namespace cellstow::plan
