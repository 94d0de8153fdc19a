#include <fmt/format.h>

#include <cstdlib>

#include "checks.hpp"

namespace cellstow::audit {
namespace {

constexpr std::size_t most_corners_any = 8;

/// Corners left when those in line with both neighbours are dropped.
Ring true_corners(const Ring& ring) {
  Ring out;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Spot before = ring[(i + ring.size() - 1) % ring.size()], after = ring[(i + 1) % ring.size()];
    // Coordinates stay below 4e7 ticks, so the product of two differences stays below 7e15.
    const Tick turn = (ring[i].a - before.a) * (after.b - ring[i].b) - (ring[i].b - before.b) * (after.a - ring[i].a);
    if (turn != 0) out.push_back(ring[i]);
  }
  return out;
}

bool right_angles_only(const Ring& ring, Tick slack) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Spot to = ring[(i + 1) % ring.size()];
    if (std::abs(to.a - ring[i].a) > slack && std::abs(to.b - ring[i].b) > slack) return false;
  }
  return true;
}

void check_corners(const BoxContext& context, Findings& findings) {
  const OutlineKind kind = context.rules.outline;
  const std::size_t corners = context.box.slack == 0 ? true_corners(context.box.outline_uv).size() : context.box.outline.size();
  if (kind == OutlineKind::any && corners > most_corners_any) {
    findings.violated(Rule::outline_kind, context.where,
                      fmt::format("{} corners, at most {}: {} too many", corners, most_corners_any, corners - most_corners_any));
  }
  if (kind == OutlineKind::any) return;
  if (!right_angles_only(context.box.outline_uv, context.box.slack)) {
    findings.violated(Rule::outline_kind, context.where, "a wall that is not square with the box; right angles only are asked for");
  } else if (kind == OutlineKind::rectangle && corners != 4) {
    findings.violated(Rule::outline_kind, context.where, fmt::format("{} corners; a rectangle has 4", corners));
  }
}

void check_loose(const BoxContext& context, Findings& findings) {
  if (context.box.outline.empty()) return;
  findings.violated(Rule::outline_kind, context.where, "an outline is given, though cells go into the cavity without a box");
}

}  // namespace

bool check_outline(const BoxContext& context, Findings& findings) {
  const Box& box = context.box;
  findings.looked_at(Rule::outline_shape);
  findings.looked_at(Rule::outline_kind);
  if (context.rules.heading == HeadingRule::square && box.heading_deg != 0) {
    findings.violated(Rule::outline_kind, context.where,
                      fmt::format("turned by {:.4f} degrees; square with the car is asked for", box.heading_deg));
  }
  if (box.height.high <= box.height.low) {
    findings.violated(Rule::outline_shape, context.where,
                      fmt::format("top at {}, underside at {}", told(box.height.high), told(box.height.low)));
    return false;
  }
  if (context.rules.outline == OutlineKind::loose) {
    check_loose(context, findings);
    return true;
  }
  if (!is_simple_ring(box.outline)) {
    findings.violated(Rule::outline_shape, context.where,
                      box.outline.size() < 3 ? "fewer than three corners" : "outline crosses or touches itself");
    return false;
  }
  check_corners(context, findings);
  return true;
}

void check_boxes_together(const Plan& plan, const CavityPlan& cavity, Findings& findings) {
  findings.looked_at(Rule::box_count);
  const int boxes = static_cast<int>(cavity.boxes.size());
  if (boxes > plan.rules.boxes_per_cavity) {
    findings.violated(Rule::box_count, cavity.name, fmt::format("{} boxes, at most {}", boxes, plan.rules.boxes_per_cavity));
  }
  for (std::size_t i = 0; i < cavity.boxes.size(); ++i) {
    for (std::size_t j = i + 1; j < cavity.boxes.size(); ++j) {
      const Box &left = cavity.boxes[i], &right = cavity.boxes[j];
      if (!is_simple_ring(left.outline) || !is_simple_ring(right.outline)) continue;
      findings.looked_at(Rule::boxes_apart);
      if (left.height.low >= right.height.high || right.height.low >= left.height.high) continue;
      const auto found = ring_conflict(left.outline, right.outline, Side::inside, 0);
      if (!found) continue;
      findings.violated(Rule::boxes_apart, cavity.name + ", " + left.name + " and " + right.name,
                        fmt::format("reach into each other by {} or more at x {}, y {}", told_mm(found->depth_mm),
                                    told_mm(found->at_a_mm), told_mm(found->at_b_mm)));
    }
  }
}

}  // namespace cellstow::audit
