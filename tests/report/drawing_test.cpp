#include <doctest/doctest.h>

#include <cmath>

#include "report/cavity_view.hpp"
#include "report/drawing.hpp"
#include "report/fixture.hpp"
#include "report/look.hpp"
#include "report/svg.hpp"

namespace {

using namespace cellstow::report;

std::vector<Drawing> drawings(const fixture::Case& c) {
  std::vector<Drawing> out;
  for (std::size_t i = 0; i < c.plan.cavities.size(); ++i) {
    for (Drawing& view : cavity_views(c.job, c.job.cavities[i], c.plan.cavities[i])) {
      out.push_back(std::move(view));
    }
  }
  return out;
}

bool inside(const Drawing& drawing, const Spot& spot) {
  return std::isfinite(spot.x) && std::isfinite(spot.y) && spot.x >= 0 && spot.y >= 0 &&
         spot.x <= drawing.width && spot.y <= drawing.height;
}

void check_inside(const Drawing& drawing) {
  for (const Item& item : drawing.items) {
    if (const auto* stroke = std::get_if<Stroke>(&item)) {
      for (const Spot& spot : stroke->points) {
        CAPTURE(spot.x);
        CAPTURE(spot.y);
        CHECK(inside(drawing, spot));
      }
    } else if (const auto* ring = std::get_if<Ring>(&item)) {
      CHECK(inside(drawing, {ring->centre.x - ring->radius, ring->centre.y - ring->radius}));
      CHECK(inside(drawing, {ring->centre.x + ring->radius, ring->centre.y + ring->radius}));
    } else {
      const Label& label = std::get<Label>(item);
      const Patch patch = text_patch(label);
      CAPTURE(label.text);
      CHECK(inside(drawing, {patch.left, patch.top}));
      CHECK(inside(drawing, {patch.right, patch.bottom}));
    }
  }
}

void check_no_overlap(const Drawing& drawing) {
  std::vector<const Label*> labels;
  for (const Item& item : drawing.items) {
    if (const auto* label = std::get_if<Label>(&item)) labels.push_back(label);
  }
  CHECK(labels.size() > 5);
  for (std::size_t i = 0; i < labels.size(); ++i) {
    for (std::size_t j = i + 1; j < labels.size(); ++j) {
      if (!text_patch(*labels[i]).overlaps(text_patch(*labels[j]))) continue;
      FAIL_CHECK("\"" << labels[i]->text << "\" lies on \"" << labels[j]->text << "\"");
    }
  }
}

}  // namespace

TEST_CASE("drawings: everything lies on the paper and no lettering on other lettering") {
  for (const fixture::Case& c : {fixture::two_cavities(), fixture::nasty_names(), fixture::loose_cells()}) {
    for (const Drawing& drawing : drawings(c)) {
      CAPTURE(drawing.title);
      check_inside(drawing);
      check_no_overlap(drawing);
    }
  }
}
