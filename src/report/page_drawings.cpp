#include "report/page_drawings.hpp"

#include "report/cavity_view.hpp"
#include "report/link_view.hpp"
#include "report/way_in_view.hpp"
#include "report/wired.hpp"

namespace cellstow::report {

const survey::Cavity* cavity_of(const survey::Job& job, const plan::CavityPlan& plan) {
  for (const survey::Cavity& cavity : job.cavities) {
    if (cavity.name == plan.name) return &cavity;
  }
  return nullptr;
}

std::vector<Drawing> all_drawings(const survey::Job& job, const plan::Plan& plan) {
  std::vector<Drawing> out;
  const auto take = [&](std::optional<Drawing> drawing) {
    if (drawing) out.push_back(std::move(*drawing));
  };
  take(car_drawing(job, plan));
  take(window_drawing(plan));
  for (const plan::CavityPlan& cavity : plan.cavities) {
    const survey::Cavity* measured = cavity_of(job, cavity);
    if (!measured) continue;
    for (Drawing& view : cavity_views(job, *measured, cavity)) out.push_back(std::move(view));
    for (const plan::BoxPlan& box : cavity.boxes) take(stack_drawing(box.box));
    for (const way_in::BoxWay& way : cavity.way_in) {
      for (Drawing& view : way_in_drawings(*measured, way)) out.push_back(std::move(view));
    }
  }
  for (std::size_t box = 0; plan.wiring && box < boxes_of(plan).size(); ++box) {
    for (Drawing& view : link_drawings(plan, static_cast<int>(box))) out.push_back(std::move(view));
  }
  for (Drawing& sheet : sheet_drawings(job, plan)) out.push_back(std::move(sheet));
  return out;
}

}  // namespace cellstow::report
