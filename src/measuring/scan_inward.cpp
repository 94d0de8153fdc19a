#include "cellstow/measuring/scan_inward.hpp"

#include <cmath>
#include <optional>

#include "cellstow/geometry/segment.hpp"
#include "scan_exact.hpp"
#include "scan_reduce.hpp"
#include "scan_refine.hpp"

namespace cellstow::measuring::scan {
namespace {

// ---- spikes ----------------------------------------------------------------

/// A spike is at least this many times as long round as it is wide where it leaves; shallower ones are roughness.
constexpr double long_round = 4;
/// Farther round than this many widths is not looked: it would be a chamber, not a spike.
constexpr double farthest_round = 200;

double distance(PointUm p, PointUm q) {
  return std::hypot(static_cast<double>(q.s - p.s), static_cast<double>(q.t - p.t));
}

bool chord_is_free(const Loop& loop, std::size_t i, std::size_t j, const std::vector<WallPiece>& others) {
  const std::size_t n = loop.size();
  const PointUm a = loop[i], b = loop[j];
  for (std::size_t k = 0; k < n; ++k) {
    const std::size_t l = (k + 1) % n;
    const PointUm p = loop[k], q = loop[l];
    if (!boxes_meet(a, b, p, q)) continue;
    if (k == i || k == j || l == i || l == j) {
      // shares an end with the chord: must not lie along it
      const PointUm end = k == i || l == i ? a : b, other_end = end == a ? b : a, far = p == end ? q : p;
      if (far != other_end && doubles_back(far, end, other_end)) return false;
      continue;
    }
    if (share_a_point(a, b, p, q)) return false;
  }
  return std::none_of(others.begin(), others.end(),
                      [&](const WallPiece& other) { return share_a_point(a, b, other.from, other.to); });
}

/// The last corner to which a chord from corner i cuts off a spike.
std::optional<std::size_t> spike_end(const Loop& loop, std::size_t i, Um width, const std::vector<WallPiece>& others) {
  std::optional<std::size_t> end;
  double way = 0, area2 = 0;
  for (std::size_t k = i + 1; k < loop.size() && way < farthest_round * static_cast<double>(width); ++k) {
    way += distance(loop[k - 1], loop[k]);
    area2 += static_cast<double>(cross(loop[i], loop[k - 1], loop[k]));
    const double chord = distance(loop[i], loop[k]);
    if (chord > static_cast<double>(width) || way < long_round * std::max(chord, static_cast<double>(width) / 2)) continue;
    if (area2 > 0 && chord_is_free(loop, i, k, others)) end = k;
  }
  return end;
}

Loop cut_spikes(Loop loop, Um width, const std::vector<WallPiece>& others, std::vector<Spike>& spikes) {
  for (std::size_t i = 0; width > 0 && i < loop.size(); ++i) {
    const auto end = spike_end(loop, i, width, others);
    if (!end || loop.size() - (*end - i - 1) < 3) continue;
    Spike spike{{(loop[i].s + loop[*end].s) / 2, (loop[i].t + loop[*end].t) / 2}, 0};
    for (std::size_t k = i + 1; k < *end; ++k)
      spike.deep_um = std::max(spike.deep_um, distance_to(loop[k], loop[i], loop[*end]));
    spikes.push_back(spike);
    loop.erase(loop.begin() + static_cast<std::ptrdiff_t>(i) + 1, loop.begin() + static_cast<std::ptrdiff_t>(*end));
  }
  std::sort(spikes.begin(), spikes.end(), [](const Spike& a, const Spike& b) {
    return std::pair(-a.deep_um, a.at) < std::pair(-b.deep_um, b.at);
  });
  return loop;
}

// ---- few corners -----------------------------------------------------------

void append(std::vector<WallPiece>& edges, const Loop& loop) {
  const auto more = edges_of(loop);
  edges.insert(edges.end(), more.begin(), more.end());
}

/// Each hole in turn, kept off the outline and off the others as they then are.
std::vector<Loop> simple_holes(const Loop& outline, std::vector<Loop> holes, std::size_t corners) {
  for (std::size_t h = 0; h < holes.size(); ++h) {
    if (holes[h].size() <= corners) continue;
    std::vector<WallPiece> others = edges_of(outline);
    for (std::size_t k = 0; k < holes.size(); ++k)
      if (k != h) append(others, holes[k]);
    holes[h] = reduce(holes[h], corners, others);
  }
  // one hole may have grown round another
  std::vector<Loop> apart;
  for (std::size_t h = 0; h < holes.size(); ++h) {
    bool swallowed = false;
    for (std::size_t k = 0; k < holes.size() && !swallowed; ++k)
      swallowed = k != h && geometry::is_inside(holes[k], holes[h][0]);
    if (!swallowed) apart.push_back(holes[h]);
  }
  return apart;
}

/// Corners are moved until steps of a twentieth of a millimetre gain nothing; between stages until those of a millimetre.
constexpr double last_step_um = 50, between_step_um = 1000;

/// Fewer corners in stages, moved outward after each; fewer stages where that leaves more.
Loop few_corners(const Loop& scanned, const std::vector<Loop>& holes, std::size_t corners) {
  std::vector<WallPiece> hole_edges;
  for (const Loop& hole : holes) append(hole_edges, hole);
  // what is left is found against forty corners for each that stays, then moved against all of the wall
  const Loop fine = reduce(scanned, 40 * corners, hole_edges);
  const Room room(fine, holes);
  const std::vector<std::vector<std::size_t>> ways = {
      {corners}, {corners + 1, corners}, {2 * corners, corners + 4, corners + 2, corners + 1, corners}};
  Loop best;
  for (const auto& stages : ways) {
    Loop loop = fine;
    for (const std::size_t stage : stages) {
      if (loop.size() <= stage && stage != corners) continue;
      loop = reduce(loop, stage, hole_edges);
      loop = refine(std::move(loop), room, stage == corners && fine.size() == scanned.size() ? last_step_um : between_step_um);
    }
    const auto rank = [&](const Loop& l) { return std::pair(std::max(l.size(), corners), -signed_area2(l)); };
    if (best.empty() || rank(loop) < rank(best)) best = std::move(loop);
  }
  return fine.size() == scanned.size() ? best : refine(std::move(best), Room(scanned, holes), last_step_um);
}

// ---- what it cost ----------------------------------------------------------

constexpr double sample_every_um = 200;

double area2_between(const Loop& outline, const std::vector<Loop>& holes) {
  double area2 = signed_area2(outline);
  for (const Loop& hole : holes) area2 += signed_area2(hole);  // clockwise: negative
  return area2;
}

void note_depth(Inward& inward, const std::vector<WallPiece>& left, PointUm a, PointUm b) {
  const double length = distance(a, b);
  const auto parts = static_cast<Um>(std::ceil(length / sample_every_um));
  for (Um i = 0; i < std::max<Um>(parts, 1); ++i) {
    const PointUm at{a.s + (b.s - a.s) * i / std::max<Um>(parts, 1), a.t + (b.t - a.t) * i / std::max<Um>(parts, 1)};
    double least = 1e18;
    for (const WallPiece& edge : left) {
      least = std::min(least, distance_to(at, edge.from, edge.to));
      if (least <= inward.deepest_um) break;
    }
    if (least > inward.deepest_um) {
      inward.deepest_um = least;
      inward.deepest_at = at;
    }
  }
}

/// The boundary of what was given, step by step; what lies between two steps is added on.
void note_loss(Inward& inward, const FreeSpace& space, const Loop& without_spikes) {
  inward.free_um2 = area2_between(space.outline, space.holes) / 2;
  inward.lost_um2 = std::max(0.0, inward.free_um2 - area2_between(inward.outline, inward.holes) / 2);
  std::vector<WallPiece> left = edges_of(inward.outline);
  for (const Loop& hole : inward.holes) append(left, hole);
  for (const auto& [a, b] : edges_of(without_spikes)) note_depth(inward, left, a, b);
  for (const Loop& hole : space.holes)
    for (const auto& [a, b] : edges_of(hole)) note_depth(inward, left, a, b);
  // less than the grid is nothing
  if (inward.deepest_um < 1) inward.deepest_um = 0;
  else inward.deepest_um += sample_every_um / 2 + 2;
}

Loop from_lowest(Loop loop) {
  std::rotate(loop.begin(), std::min_element(loop.begin(), loop.end()), loop.end());
  return loop;
}

}  // namespace

Inward simplify_inward(const FreeSpace& space, const InwardRules& rules) {
  Inward inward;
  std::vector<WallPiece> hole_edges;
  for (const Loop& hole : space.holes) append(hole_edges, hole);
  const Loop fine = cut_spikes(space.outline, rules.spike_um, hole_edges, inward.spikes);
  inward.holes = simple_holes(fine, space.holes, rules.corners_max);
  inward.outline = from_lowest(few_corners(fine, inward.holes, rules.corners_max));
  // a hole that the outline has closed out is no longer inside
  std::erase_if(inward.holes, [&](const Loop& hole) { return !geometry::is_inside(inward.outline, hole[0]); });
  for (Loop& hole : inward.holes) hole = from_lowest(std::move(hole));
  std::sort(inward.holes.begin(), inward.holes.end());
  note_loss(inward, space, fine);
  return inward;
}

}  // namespace cellstow::measuring::scan
