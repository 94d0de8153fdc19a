#include "cellstow/measuring/scan_free_space.hpp"

#include <CGAL/Arr_naive_point_location.h>
#include <CGAL/Arr_segment_traits_2.h>
#include <CGAL/Arrangement_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Polygon_set_2.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <variant>

#include "cellstow/geometry/segment.hpp"
#include "scan_bridges.hpp"
#include "scan_exact.hpp"

namespace cellstow::measuring::scan {
namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Exact = Kernel::Point_2;
using Traits = CGAL::Arr_segment_traits_2<Kernel>;
using Arrangement = CGAL::Arrangement_2<Traits>;
using Halfedge = Arrangement::Halfedge_const_handle;
using Face = Arrangement::Face_const_handle;
using Ring = std::vector<Exact>;
using Polygon = CGAL::Polygon_2<Kernel>;
using Faulty = tl::unexpected<FreeFault>;

Faulty fault(FreeTrouble trouble, Bridge gap = {}, std::size_t count = 0) {
  return tl::unexpected(FreeFault{trouble, gap, count});
}

Exact exact(PointUm point) { return {static_cast<double>(point.s), static_cast<double>(point.t)}; }

Arrangement lay_out(const std::vector<WallPiece>& pieces) {
  std::vector<Traits::X_monotone_curve_2> lines;
  for (const WallPiece& piece : pieces) lines.emplace_back(exact(piece.from), exact(piece.to));
  Arrangement plane;
  CGAL::insert(plane, lines.begin(), lines.end());
  return plane;
}

/// The face that holds the point; nothing when it lies on a line.
std::optional<Face> face_at(const Arrangement& plane, PointUm inside) {
  const CGAL::Arr_naive_point_location<Arrangement> locate(plane);
  const auto found = locate.locate(exact(inside));
  const Face* face = boost::get<Face>(&found);
  return face ? std::optional(*face) : std::nullopt;
}

bool is_closed(const std::vector<WallPiece>& pieces, PointUm inside) {
  const Arrangement plane = lay_out(pieces);
  const auto face = face_at(plane, inside);
  return !face || !(*face)->is_unbounded();
}

// ---- what goes in ----------------------------------------------------------

/// Each piece once, its lower end first.
std::vector<WallPiece> each_once(std::span<const WallPiece> pieces) {
  std::vector<WallPiece> once;
  for (const WallPiece& piece : pieces)
    if (piece.from != piece.to) once.push_back({std::min(piece.from, piece.to), std::max(piece.from, piece.to)});
  std::sort(once.begin(), once.end());
  once.erase(std::unique(once.begin(), once.end()), once.end());
  return once;
}

void widen(Extent& extent, PointUm point) {
  extent.low = {std::min(extent.low.s, point.s), std::min(extent.low.t, point.t)};
  extent.high = {std::max(extent.high.s, point.s), std::max(extent.high.t, point.t)};
}

Um larger_side(const Extent& extent) { return std::max(extent.high.s - extent.low.s, extent.high.t - extent.low.t); }

/// Takes loose pieces smaller than dirt_um out of `pieces`.
std::vector<Extent> take_out_dirt(std::vector<WallPiece>& pieces, Um dirt_um) {
  if (dirt_um <= 0) return {};
  const PieceGraph graph = graph_of(pieces);
  std::map<std::size_t, Extent> extents;
  for (std::size_t i = 0; i < graph.points.size(); ++i)
    widen(extents.try_emplace(graph.component[i], Extent{graph.points[i], graph.points[i]}).first->second, graph.points[i]);
  std::vector<WallPiece> kept;
  for (std::size_t i = 0; i < pieces.size(); ++i)
    if (larger_side(extents.at(graph.component[graph.edges[i][0]])) >= dirt_um) kept.push_back(pieces[i]);
  pieces = std::move(kept);
  std::vector<Extent> dirt;
  for (const auto& [component, extent] : extents)
    if (larger_side(extent) < dirt_um) dirt.push_back(extent);
  return dirt;
}

std::vector<WallPiece> with_bridges(std::vector<WallPiece> pieces, std::span<const PossibleBridge> bridges) {
  for (const PossibleBridge& bridge : bridges) pieces.push_back({bridge.line.from, bridge.line.to});
  return each_once(pieces);
}

/// The widest of the gaps that have to be closed, shortest first, until there is wall all round.
FreeFault explain_open(const std::vector<WallPiece>& pieces, const PieceGraph& graph, PointUm inside) {
  const auto bridges = possible_bridges(graph, 1e12);
  const std::span all(bridges);
  if (!is_closed(with_bridges(pieces, all), inside)) return {FreeTrouble::outside, {}, 0};
  std::size_t open = 0, closed = bridges.size();
  while (closed - open > 1) {
    const std::size_t middle = (open + closed) / 2;
    (is_closed(with_bridges(pieces, all.first(middle)), inside) ? closed : open) = middle;
  }
  return {FreeTrouble::open, bridges[closed - 1].line, 0};
}

// ---- the boundary of the face ----------------------------------------------

/// What bounds the face: rings with the free side on their left, and the corners of all that hangs loose in it.
struct Boundary {
  Ring outline;
  std::vector<Ring> holes;
  std::vector<std::vector<Exact>> loose;
};

bool hangs_in(Halfedge edge) { return edge->face() == edge->twin()->face(); }

/// One boundary of the face without the edges that have the face on both sides, cut where it passes a corner twice.
std::vector<Ring> rings_of(Arrangement::Ccb_halfedge_const_circulator start) {
  std::vector<Ring> rings;
  std::vector<Halfedge> way;
  std::map<const void*, std::size_t> passed;
  const auto close = [&](std::size_t from) {
    Ring ring;
    for (std::size_t i = from; i < way.size(); ++i) {
      ring.push_back(way[i]->source()->point());
      passed.erase(&*way[i]->source());
    }
    way.resize(from);
    if (!ring.empty()) rings.push_back(std::move(ring));
  };
  auto edge = start;
  do {
    // Before an edge that hangs in too: it may lead away from a body that hangs on it, once round.
    if (const auto met = passed.find(&*edge->source()); met != passed.end()) close(met->second);
    if (hangs_in(edge)) continue;
    passed.emplace(&*edge->source(), way.size());
    way.push_back(edge);
  } while (++edge != start);
  close(0);
  return rings;
}

CGAL::Orientation run_of(const Ring& ring) {
  return CGAL::orientation_2(ring.begin(), ring.end(), Kernel());
}

/// Edges that hang in the face, gathered where they hang together.
std::vector<std::vector<Exact>> loose_in(const Arrangement& plane, Face face) {
  std::map<Exact, std::size_t> number;
  std::vector<std::size_t> parent;
  const auto root = [&](std::size_t i) {
    while (parent[i] != i) i = parent[i] = parent[parent[i]];
    return i;
  };
  const auto number_of = [&](const Exact& point) {
    const auto [found, is_new] = number.try_emplace(point, parent.size());
    if (is_new) parent.push_back(parent.size());
    return found->second;
  };
  for (auto edge = plane.edges_begin(); edge != plane.edges_end(); ++edge) {
    const Halfedge half = edge;
    if (half->face() != face || half->twin()->face() != face) continue;
    const std::size_t a = root(number_of(half->source()->point())), b = root(number_of(half->target()->point()));
    parent[std::max(a, b)] = std::min(a, b);
  }
  std::map<std::size_t, std::vector<Exact>> gathered;
  for (const auto& [point, i] : number) gathered[root(i)].push_back(point);
  std::vector<std::vector<Exact>> loose;
  for (auto& [first, points] : gathered) loose.push_back(std::move(points));
  return loose;
}

Boundary boundary_of(const Arrangement& plane, Face face) {
  Boundary boundary{{}, {}, loose_in(plane, face)};
  for (Ring& ring : rings_of(face->outer_ccb()))
    (run_of(ring) == CGAL::COUNTERCLOCKWISE ? boundary.outline : boundary.loose.emplace_back()) = std::move(ring);
  for (auto hole = face->inner_ccbs_begin(); hole != face->inner_ccbs_end(); ++hole) {
    std::vector<Ring> rings = rings_of(*hole);
    auto& into = rings.size() == 1 ? boundary.holes : boundary.loose;  // rings that touch count as one body
    if (rings.size() > 1)
      for (std::size_t i = 1; i < rings.size(); ++i) rings[0].insert(rings[0].end(), rings[i].begin(), rings[i].end());
    if (!rings.empty()) into.push_back(std::move(rings[0]));
  }
  return boundary;
}

/// Bridges along which the face lies; one that hangs loose in it bounds nothing.
std::vector<Bridge> bridges_on(const Arrangement& plane, Face face, std::span<const PossibleBridge> bridges) {
  std::vector<Bridge> told;
  for (auto bridge = bridges.rbegin(); bridge != bridges.rend(); ++bridge) {
    const Kernel::Segment_2 line(exact(bridge->line.from), exact(bridge->line.to));
    const bool bounds = std::any_of(plane.edges_begin(), plane.edges_end(), [&](const auto& edge) {
      const Halfedge half(&edge);
      if ((half->face() == face) == (half->twin()->face() == face)) return false;
      return line.has_on(half->source()->point()) && line.has_on(half->target()->point());
    });
    if (bounds) told.push_back(bridge->line);
  }
  return told;
}

// ---- what hangs loose is cut out -------------------------------------------

/// Room round a loose edge: far less than any scan sees, far more than the grid needs.
constexpr Um round_loose_um = 100;

Loop hull_round(const std::vector<Exact>& points) {
  std::vector<PointUm> around;
  for (const Exact& point : points) {
    const double s = CGAL::to_double(point.x()), t = CGAL::to_double(point.y());
    for (const Um out_s : {-round_loose_um, round_loose_um})
      for (const Um out_t : {-round_loose_um, round_loose_um})
        around.push_back({std::llround(s) + out_s, std::llround(t) + out_t});
  }
  return geometry::convex_hull(std::move(around));
}

Polygon polygon_of(const Ring& ring) {
  Polygon polygon(ring.begin(), ring.end());
  if (polygon.is_clockwise_oriented()) polygon.reverse_orientation();
  return polygon;
}

Ring ring_of(const Polygon& polygon) { return {polygon.vertices_begin(), polygon.vertices_end()}; }

/// The boundary without the regions round loose edges; nothing when the inside point is in one of them.
std::optional<Boundary> cut_out_loose(const Boundary& whole, PointUm inside) {
  CGAL::Polygon_set_2<Kernel> space(polygon_of(whole.outline));
  for (const Ring& hole : whole.holes) space.difference(polygon_of(hole));
  for (const std::vector<Exact>& loose : whole.loose) {
    Ring hull;
    for (const PointUm corner : hull_round(loose)) hull.push_back(exact(corner));
    space.difference(polygon_of(hull));
  }
  std::vector<CGAL::Polygon_with_holes_2<Kernel>> parts;
  space.polygons_with_holes(std::back_inserter(parts));
  for (const auto& part : parts) {
    if (part.outer_boundary().bounded_side(exact(inside)) != CGAL::ON_BOUNDED_SIDE) continue;
    Boundary rest{ring_of(part.outer_boundary()), {}, {}};
    bool is_free = true;
    for (auto hole = part.holes_begin(); hole != part.holes_end(); ++hole) {
      is_free = is_free && hole->bounded_side(exact(inside)) == CGAL::ON_UNBOUNDED_SIDE;
      rest.holes.push_back(ring_of(*hole));
    }
    if (is_free) return rest;
  }
  return {};
}

// ---- back to whole micrometres ---------------------------------------------

std::optional<PointUm> whole(const Exact& point) {
  const PointUm nearest{std::llround(CGAL::to_double(point.x())), std::llround(CGAL::to_double(point.y()))};
  return exact(nearest) == point ? std::optional(nearest) : std::nullopt;
}

/// The nearest whole point on the free side of both edges that meet in `corner`.
std::optional<PointUm> tight_whole(const Exact& before, const Exact& corner, const Exact& after) {
  constexpr Um reach = 8;
  const Um s = std::llround(CGAL::to_double(corner.x())), t = std::llround(CGAL::to_double(corner.y()));
  std::vector<std::pair<Um, PointUm>> near;
  for (Um ds = -reach; ds <= reach; ++ds)
    for (Um dt = -reach; dt <= reach; ++dt) near.push_back({ds * ds + dt * dt, {s + ds, t + dt}});
  std::sort(near.begin(), near.end());
  for (const auto& [distance, point] : near)
    if (CGAL::orientation(before, corner, exact(point)) != CGAL::RIGHT_TURN &&
        CGAL::orientation(corner, after, exact(point)) != CGAL::RIGHT_TURN)
      return point;
  return {};
}

/// The same ring from its lowest corner.
Loop from_lowest(Loop loop) {
  std::rotate(loop.begin(), std::min_element(loop.begin(), loop.end()), loop.end());
  return loop;
}

std::optional<Loop> whole_loop(const Ring& ring) {
  Loop loop;
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    auto corner = whole(ring[i]);
    if (!corner) corner = tight_whole(ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
    if (!corner) return {};
    if (loop.empty() || loop.back() != *corner) loop.push_back(*corner);
  }
  while (loop.size() > 1 && loop.back() == loop.front()) loop.pop_back();
  if (loop.size() < 3) return {};
  return from_lowest(std::move(loop));
}

std::vector<Extent> extents_of(const std::vector<std::vector<Exact>>& loose) {
  std::vector<Extent> extents;
  for (const auto& points : loose) {
    const auto at = [](const Exact& p) {
      return PointUm{std::llround(CGAL::to_double(p.x())), std::llround(CGAL::to_double(p.y()))};
    };
    Extent extent{at(points.front()), at(points.front())};
    for (const Exact& point : points) widen(extent, at(point));
    extents.push_back(extent);
  }
  return extents;
}

void sort_largest_first(std::vector<Extent>& extents) {
  std::sort(extents.begin(), extents.end(), [](const Extent& a, const Extent& b) {
    return std::pair(-larger_side(a), a) < std::pair(-larger_side(b), b);
  });
}

tl::expected<FreeSpace, FreeFault> in_whole_um(const Boundary& boundary) {
  FreeSpace space;
  const auto outline = whole_loop(boundary.outline);
  if (!outline) return fault(FreeTrouble::tangled);
  space.outline = *outline;
  for (const Ring& ring : boundary.holes) {
    const auto hole = whole_loop(ring);
    if (!hole) return fault(FreeTrouble::tangled);
    space.holes.push_back(*hole);
  }
  std::sort(space.holes.begin(), space.holes.end());
  return space;
}

}  // namespace

tl::expected<FreeSpace, FreeFault> free_space(std::span<const WallPiece> given, PointUm inside,
                                              const FreeRules& rules) {
  std::vector<WallPiece> pieces = each_once(given);
  std::vector<Extent> dirt = take_out_dirt(pieces, rules.dirt_um);
  if (pieces.empty()) return fault(FreeTrouble::no_wall);
  const PieceGraph graph = graph_of(pieces);
  std::size_t open_ends = 0;
  for (std::size_t i = 0; i < graph.points.size(); ++i) open_ends += graph.is_open_end(i);
  if (open_ends > most_open_ends) return fault(FreeTrouble::torn, {}, open_ends);
  const auto bridges = possible_bridges(graph, static_cast<double>(rules.close_um));
  const Arrangement plane = lay_out(with_bridges(pieces, bridges));
  const auto face = face_at(plane, inside);
  if (!face) return fault(FreeTrouble::on_the_wall);
  if ((*face)->is_unbounded()) return tl::unexpected(explain_open(pieces, graph, inside));
  Boundary boundary = boundary_of(plane, *face);
  std::vector<Extent> loose = extents_of(boundary.loose);
  if (!boundary.loose.empty()) {
    auto rest = cut_out_loose(boundary, inside);
    if (!rest) return fault(FreeTrouble::on_the_wall);
    boundary = std::move(*rest);
  }
  auto space = in_whole_um(boundary);
  if (!space) return space;
  // corners may have moved by a few micrometres; no wall may have come in by that
  if (!is_simple(space->outline) || !is_clear(space->outline, space->holes, pieces)) return fault(FreeTrouble::tangled);
  space->bridges = bridges_on(plane, *face, bridges);
  space->loose = std::move(loose);
  for (const Extent& extent : dirt)
    if (geometry::is_inside(space->outline, extent.low) || geometry::is_inside(space->outline, extent.high))
      space->dirt.push_back(extent);
  sort_largest_first(space->loose);
  sort_largest_first(space->dirt);
  return space;
}

}  // namespace cellstow::measuring::scan
