#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>

#include "checks.hpp"

namespace cellstow::audit {
namespace {

/// Something inside a box that has to keep off its walls.
struct Content { std::string where; Body body; };

/// Blocks, fittings but for pods on the wall, and cells that stick out of their block.
std::vector<Content> contents_of(const BoxContext& context, const CavityJob& job) {
  std::vector<Content> out;
  const Box& box = context.box;
  for (const Block& block : box.blocks) out.push_back({block_name(context, block.id), block.body});
  for (const Fitting& fitting : box.fittings) {
    if (place_of(fitting, job) != FittingPlace::wall) out.push_back({fitting_name(context, fitting), fitting.body});
  }
  for (const Cell& cell : box.cells) {
    const bool covered = std::any_of(box.blocks.begin(), box.blocks.end(),
                                     [&](const Block& block) { return is_within(cell.body, block.body); });
    if (!covered) out.push_back({cell_name(context, cell), cell.body});
  }
  return out;
}

bool has_plan(const Body& body) { return body.size(0) > 0 && body.size(1) > 0; }

void check_inside(const BoxContext& context, const Content& content, Findings& findings) {
  findings.looked_at(Rule::inside_walls);
  const Tick needed = context.rules.flange + context.rules.wall + context.rules.liner;
  const Tick decided = std::max<Tick>(0, needed - context.box.slack);
  const auto found = ring_conflict(ring_of(content.body), context.box.outline_uv, Side::outside, decided);
  if (!found) return;
  const std::string where = fmt::format("at u {}, v {}", told_mm(found->at_a_mm), told_mm(found->at_b_mm));
  findings.violated(Rule::inside_walls, content.where,
                    found->depth_mm > 0
                        ? fmt::format("sticks out of the box outline by {} {}; flange, wall and liner take {}", told_mm(found->depth_mm), where, told(needed))
                        : fmt::format("{} from the box outline {}, flange, wall and liner take {}: {} short",
                                      told_mm(found->gap_mm), where, told(needed), told_mm(found->short_mm)));
}

void check_height(const BoxContext& context, const Content& content, Findings& findings) {
  const Tick lowest = context.box.height.low + context.rules.floor + context.rules.liner;
  findings.looked_at(Rule::above_floor);
  if (content.body.low[2] < lowest) {
    findings.violated(Rule::above_floor, content.where,
                      fmt::format("base at z = {}, floor and liner reach to {}: {} short", told(content.body.low[2]),
                                  told(lowest), told(lowest - content.body.low[2])));
  }
  const Tick underside = context.box.height.high - context.rules.lid;
  if (content.body.high[2] > underside) {
    findings.violated(Rule::headroom, content.where,
                      fmt::format("top at z = {}, lid's underside at {}: {} short", told(content.body.high[2]),
                                  told(underside), told(content.body.high[2] - underside)));
  }
}

void check_live_metal(const BoxContext& context, const std::string& where, Stance stance, Tick base, Findings& findings) {
  findings.looked_at(Rule::headroom);
  // Without a box the plan gives the span of the contents, and headroom is kept to the cavity itself (R4).
  const Tick needed = context.rules.outline == OutlineKind::loose ? 0 : context.rules.headroom;
  const Tick top = live_top(context.cell, stance, base);
  const Tick room = context.box.height.high - context.rules.lid - top;
  if (room >= needed) return;
  findings.violated(Rule::headroom, where,
                    fmt::format("live metal at z = {}, {} under the lid, needs {}: {} short", told(top), told(room),
                                told(needed), told(needed - room)));
}

int sign(Tick number) { return (number > 0) - (number < 0); }

/// The square kept free in a right-angled inside corner: from the metal's inside corner along both walls.
Body relief_square(Spot corner, int along_a, int along_b, const Rules& rules) {
  const Tick metal = rules.flange + rules.wall;
  const Tick from_a = corner.a + along_a * metal, from_b = corner.b + along_b * metal;
  const Tick to_a = from_a + along_a * rules.corner_relief, to_b = from_b + along_b * rules.corner_relief;
  Body out;
  out.low = {std::min(from_a, to_a), std::min(from_b, to_b), 0};
  out.high = {std::max(from_a, to_a), std::max(from_b, to_b), 0};
  return out;
}

Tick twice_area(const Ring& ring) {
  Tick sum = 0;
  const Spot origin = ring.front();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Spot from = ring[i], to = ring[(i + 1) % ring.size()];
    sum += (from.a - origin.a) * (to.b - origin.b) - (from.b - origin.b) * (to.a - origin.a);
  }
  return sum;
}

std::vector<Body> relief_squares(const BoxContext& context, Findings& findings) {
  std::vector<Body> out;
  const Ring& ring = context.box.outline_uv;
  const int turn = sign(twice_area(ring));
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Spot before = ring[(i + ring.size() - 1) % ring.size()], here = ring[i], after = ring[(i + 1) % ring.size()];
    const Spot in{here.a - before.a, here.b - before.b}, on{after.a - here.a, after.b - here.b};
    const int bend = sign(in.a * on.b - in.b * on.a);
    if (bend != turn) continue;
    // Corners of a turned box were rounded: its walls may seem askew by as much.
    const auto none = [&](Tick length) { return std::abs(length) <= context.box.slack; };
    const bool square_with_box = (none(in.a) && none(on.b)) || (none(in.b) && none(on.a));
    if (!square_with_box) {
      findings.not_checked("corner relief in corners that are not right angles square with the box");
      continue;
    }
    out.push_back(relief_square(here, sign(on.a - in.a), sign(on.b - in.b), context.rules));
  }
  return out;
}

void check_relief(const BoxContext& context, const std::vector<Content>& contents, Findings& findings) {
  if (context.rules.corner_relief == 0) return;
  for (const Body& square : relief_squares(context, findings)) {
    findings.looked_at(Rule::corner_relief);
    for (const Content& content : contents) {
      const Tick gap = std::max(gap_along(square, content.body, 0), gap_along(square, content.body, 1));
      if (gap >= -context.box.slack) continue;
      findings.violated(Rule::corner_relief, content.where,
                        fmt::format("reaches {} into the corner kept free from u {}, v {} to u {}, v {}", told(-gap),
                                    told(square.low[0]), told(square.low[1]), told(square.high[0]), told(square.high[1])));
    }
  }
}

// ---- fittings --------------------------------------------------------------------

bool same_size(const Body& body, const Spot3& size, Tick slack) {
  const auto close = [slack](Tick left, Tick right) { return left - right <= slack && right - left <= slack; };
  if (!close(body.size(2), size[2])) return false;
  return (close(body.size(0), size[0]) && close(body.size(1), size[1])) ||
         (close(body.size(0), size[1]) && close(body.size(1), size[0]));
}

void check_fitting_sizes(const CavityPlan& cavity, const FittingWish& wish, Findings& findings) {
  for (const Box& box : cavity.boxes) {
    for (const Fitting& fitting : box.fittings) {
      if (!is_named(fitting.name, wish.name) || same_size(fitting.body, wish.size, 0)) continue;
      findings.violated(Rule::fittings_present, cavity.name + ", " + box.name + ", " + fitting.name,
                        fmt::format("{} x {} x {}; the job gives {} x {} x {}", told(fitting.body.size(0)),
                                    told(fitting.body.size(1)), told(fitting.body.size(2)), told(wish.size[0]),
                                    told(wish.size[1]), told(wish.size[2])));
    }
  }
}

void check_apart(const BoxContext& context, const Fitting& fitting, const Block& block, Findings& findings) {
  findings.looked_at(Rule::fittings_clear);
  const Tick aside = std::max(gap_along(fitting.body, block.body, 0), gap_along(fitting.body, block.body, 1));
  Body live = block.body;
  live.high[2] = std::max(live.high[2], live_top(context.cell, stance_of(block, context), live.low[2]));
  const Tick needed = context.rules.between_blocks;
  const Tick gap = std::max(aside + context.box.slack, gap_along(fitting.body, live, 2));
  if (gap >= needed) return;
  findings.violated(Rule::fittings_clear, fitting_name(context, fitting),
                    fmt::format("{} from block {}, needs {}: {} short", told(std::max<Tick>(gap, 0)), block.id, told(needed),
                                told(needed - gap)));
}

void check_pair(const BoxContext& context, const Fitting& left, const Fitting& right, Findings& findings) {
  findings.looked_at(Rule::fittings_clear);
  Tick gap = gap_along(left.body, right.body, 0);
  for (int axis = 1; axis < 3; ++axis) gap = std::max(gap, gap_along(left.body, right.body, axis));
  if (gap >= -context.box.slack) return;
  findings.violated(Rule::fittings_clear, fitting_name(context, left),
                    fmt::format("overlaps {} by {}", right.name, told(-gap)));
}

bool is_main_fuse(const std::string& name) {
  std::string lower;
  for (const char letter : name) lower += static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  return lower.find("main fuse") != std::string::npos;
}

/// With the lid off, nothing may stand over the fuse.
void check_fuse(const BoxContext& context, const Fitting& fuse, Findings& findings) {
  findings.looked_at(Rule::fuse_reach);
  const auto check = [&](const Body& other, const std::string& name) {
    const bool over = gap_along(fuse.body, other, 0) < -context.box.slack && gap_along(fuse.body, other, 1) < -context.box.slack;
    if (over && other.low[2] >= fuse.body.high[2]) {
      findings.violated(Rule::fuse_reach, fitting_name(context, fuse), name + " stands over it");
    }
  };
  for (const Block& block : context.box.blocks) check(block.body, fmt::format("block {}", block.id));
  for (const Fitting& other : context.box.fittings) check(other.body, other.name);
}

}  // namespace

void check_contents_in_box(const BoxContext& context, const CavityJob& job, Findings& findings) {
  const std::vector<Content> contents = contents_of(context, job);
  const bool has_walls = context.rules.outline != OutlineKind::loose;
  for (const Content& content : contents) {
    if (has_walls && has_plan(content.body)) check_inside(context, content, findings);
    check_height(context, content, findings);
  }
  for (const Block& block : context.box.blocks) {
    check_live_metal(context, block_name(context, block.id), stance_of(block, context), block.body.low[2], findings);
  }
  if (has_walls) check_relief(context, contents, findings);
}

void check_fittings_present(const Plan& plan, const CavityPlan& cavity, Findings& findings) {
  for (const FittingWish& wish : plan.job_cavities[static_cast<std::size_t>(cavity.job_index)].fittings) {
    findings.looked_at(Rule::fittings_present);
    int found = 0;
    for (const Box& box : cavity.boxes) {
      found += static_cast<int>(std::count_if(box.fittings.begin(), box.fittings.end(),
                                              [&](const Fitting& fitting) { return is_named(fitting.name, wish.name); }));
    }
    check_fitting_sizes(cavity, wish, findings);
    if (found > wish.count || (found < wish.count && !failing_check_mentions(plan, wish.name))) {
      findings.violated(Rule::fittings_present, cavity.name,
                        fmt::format("{}: {} placed, {} wanted, and no failing check says so", wish.name, found, wish.count));
    }
  }
}

void check_fittings_clear(const BoxContext& context, const CavityJob& job, Findings& findings) {
  const std::vector<Fitting>& fittings = context.box.fittings;
  for (std::size_t i = 0; i < fittings.size(); ++i) {
    if (place_of(fittings[i], job) == FittingPlace::wall) continue;
    for (const Block& block : context.box.blocks) check_apart(context, fittings[i], block, findings);
    for (std::size_t j = i + 1; j < fittings.size(); ++j) {
      if (place_of(fittings[j], job) != FittingPlace::wall) check_pair(context, fittings[i], fittings[j], findings);
    }
    if (is_main_fuse(fittings[i].name)) check_fuse(context, fittings[i], findings);
  }
}

}  // namespace cellstow::audit
