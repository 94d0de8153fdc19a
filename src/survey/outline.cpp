#include "outline.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cellstow::survey {
namespace {

using core::Point2;

std::int64_t cross(const Point2& from, const Point2& to, const Point2& point) {
  return (to.a - from.a).um() * (point.b - from.b).um() -
         (to.b - from.b).um() * (point.a - from.a).um();
}

int side(const Point2& from, const Point2& to, const Point2& point) {
  const std::int64_t turn = cross(from, to, point);
  return turn > 0 ? 1 : turn < 0 ? -1 : 0;
}

/// For a point on the line through the two ends: whether it lies between them, ends included.
bool between_ends(const Point2& from, const Point2& to, const Point2& point) {
  return std::min(from.a, to.a) <= point.a && point.a <= std::max(from.a, to.a) &&
         std::min(from.b, to.b) <= point.b && point.b <= std::max(from.b, to.b);
}

bool share_a_point(const Point2& p, const Point2& q, const Point2& r, const Point2& s) {
  const int pqr = side(p, q, r), pqs = side(p, q, s), rsp = side(r, s, p), rsq = side(r, s, q);
  if (pqr * pqs < 0 && rsp * rsq < 0) return true;
  return (pqr == 0 && between_ends(p, q, r)) || (pqs == 0 && between_ends(p, q, s)) ||
         (rsp == 0 && between_ends(r, s, p)) || (rsq == 0 && between_ends(r, s, q));
}

/// Neighbouring edges p-q-r share q and nothing else, unless the second turns back along the first.
bool doubles_back(const Point2& p, const Point2& q, const Point2& r) {
  if (side(p, q, r) != 0) return false;
  const std::int64_t along =
      (q.a - p.a).um() * (r.a - q.a).um() + (q.b - p.b).um() * (r.b - q.b).um();
  return along < 0;
}

const Point2& after(const Ring& ring, std::size_t i) {
  return ring[i + 1 == ring.size() ? 0 : i + 1];
}

std::string in_words(const Point2& point) {
  return fmt::format("({}, {})", in_mm(point.a), in_mm(point.b));
}

std::string edge_in_words(const Ring& ring, std::size_t i) {
  return fmt::format("edge {}-{} {}-{}", i, i + 1 == ring.size() ? 0 : i + 1, in_words(ring[i]),
                     in_words(after(ring, i)));
}

/// Roughly where two edges meet, for the reader's eye only.
std::string near_point(const Ring& ring, const Ring& other, const Meeting& meeting) {
  const Point2 &p = ring[meeting.first], &q = after(ring, meeting.first);
  const Point2 &r = other[meeting.second], &s = after(other, meeting.second);
  const double from_r = static_cast<double>(cross(p, q, r)),
               from_s = static_cast<double>(cross(p, q, s));
  const double share = from_r == from_s ? 0 : from_r / (from_r - from_s);
  const double a_mm = r.a.mm() + share * (s.a - r.a).mm(),
               b_mm = r.b.mm() + share * (s.b - r.b).mm();
  return fmt::format("near ({:.1f}, {:.1f})", a_mm + 0.0, b_mm + 0.0);
}

bool check_repeated(const Node& node, const Ring& ring) {
  bool fine = true;
  for (std::size_t j = 1; j < ring.size(); ++j) {
    const auto earlier =
        std::find(ring.begin(), ring.begin() + static_cast<std::ptrdiff_t>(j), ring[j]);
    const auto i = static_cast<std::size_t>(earlier - ring.begin());
    if (i == j) continue;
    const bool closing = i == 0 && j + 1 == ring.size();
    node.log->add("E202", below(node.pointer, j), "vertex repeated",
                  fmt::format("vertex {} {} is also vertex {}", j, in_words(ring[j]), i),
                  "each vertex once, the outline not closed",
                  closing ? "leave out the last vertex: the outline closes by itself" : "");
    fine = false;
  }
  return fine;
}

bool check_crossings(const Node& node, const Ring& ring) {
  const std::vector<Meeting> meetings = self_meetings(ring);
  if (meetings.empty()) return true;
  const Meeting& first = meetings.front();
  std::string found = fmt::format("{} mm meets {} mm {}", edge_in_words(ring, first.first),
                                  edge_in_words(ring, first.second), near_point(ring, ring, first));
  if (meetings.size() > 1) found += fmt::format(", and {} more", meetings.size() - 1);
  node.log->add("E203", node.pointer, "outline crosses or touches itself", std::move(found),
                "a simple outline: vertices in order round the wall (counted from 0)",
                "a pair of vertices may be listed out of order; compare with the sketch");
  return false;
}

bool on_one_line(const Ring& ring) {
  return std::all_of(ring.begin(), ring.end(),
                     [&](const Point2& point) { return side(ring[0], ring[1], point) == 0; });
}

}  // namespace

bool check_ring(const Node& node, const Ring& ring) {
  if (ring.size() < 3) {
    node.log->add("E201", node.pointer, "fewer than 3 vertices", std::to_string(ring.size()),
                  "3 or more vertices [a, b]");
    return false;
  }
  if (!check_repeated(node, ring)) return false;
  if (on_one_line(ring)) {
    node.log->add("E204", node.pointer, "outline without area",
                  fmt::format("{} vertices on one line", ring.size()),
                  "an outline that encloses space");
    return false;
  }
  return check_crossings(node, ring);
}

std::int64_t twice_area_um2(const Ring& ring) {
  std::int64_t sum = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point2 &p = ring[i], &q = after(ring, i);
    sum += p.a.um() * q.b.um() - q.a.um() * p.b.um();
  }
  return sum;
}

std::vector<Meeting> self_meetings(const Ring& ring) {
  std::vector<Meeting> meetings;
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      const Point2 &p = ring[i], &q = after(ring, i), &r = ring[j], &s = after(ring, j);
      const bool meets = j == i + 1             ? doubles_back(p, q, s)
                         : i == 0 && j == n - 1 ? doubles_back(r, p, q)
                                                : share_a_point(p, q, r, s);
      if (meets) meetings.push_back({i, j});
    }
  }
  return meetings;
}

std::optional<Meeting> meeting_of(const Ring& ring, const Ring& other) {
  for (std::size_t i = 0; i < ring.size(); ++i)
    for (std::size_t j = 0; j < other.size(); ++j)
      if (share_a_point(ring[i], after(ring, i), other[j], after(other, j))) return Meeting{i, j};
  return {};
}

bool encloses(const Ring& ring, const Point2& point) {
  bool inside = false;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point2 &p = ring[i], &q = after(ring, i);
    // an edge counts when it passes the point's height; half-open, so a vertex counts once
    if ((p.b > point.b) == (q.b > point.b)) continue;
    const bool upward = q.b > p.b;
    if ((side(p, q, point) > 0) == upward) inside = !inside;
  }
  return inside;
}

void reverse_keeping_first(Ring& ring) { std::reverse(ring.begin() + 1, ring.end()); }

std::optional<Ring> read_ring(const Node& node) {
  const auto nodes = read_list(node, 0, most_vertices, "vertices [a, b]");
  if (!nodes) return {};
  std::optional<Ring> ring = read_each<Point2>(*nodes, read_point2);
  if (!ring || !check_ring(node, *ring)) return {};
  return ring;
}

std::optional<Ring> read_outline(const Node& node) {
  std::optional<Ring> ring = read_ring(node);
  if (ring && twice_area_um2(*ring) < 0) reverse_keeping_first(*ring);
  return ring;
}

void check_holes(const Ring& outline, const std::vector<Ring>& holes,
                 const std::vector<Node>& nodes) {
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const Ring& hole = holes[i];
    if (const auto meeting = meeting_of(hole, outline))
      nodes[i].log->add(
          "E205", nodes[i].pointer, "hole not inside its outline",
          fmt::format("{} mm meets the outline {}", edge_in_words(hole, meeting->first),
                      near_point(hole, outline, *meeting)),
          "a hole wholly inside, touching nothing", "what reaches the wall belongs to the outline");
    else if (!encloses(outline, hole[0]))
      nodes[i].log->add("E205", nodes[i].pointer, "hole not inside its outline",
                        fmt::format("vertex 0 {} mm lies outside", in_words(hole[0])),
                        "a hole wholly inside, touching nothing");
    for (std::size_t j = 0; j < i; ++j) {
      const auto meeting = meeting_of(hole, holes[j]);
      if (!meeting && !encloses(hole, holes[j][0]) && !encloses(holes[j], hole[0])) continue;
      nodes[i].log->add(
          "E206", nodes[i].pointer, "two holes meet",
          meeting ? fmt::format("{} mm meets hole {} {}", edge_in_words(hole, meeting->first), j,
                                near_point(hole, holes[j], *meeting))
                  : fmt::format("hole {} and hole {} lie one in the other", j, i),
          "holes apart from one another", "make one hole of the two");
    }
  }
}

}  // namespace cellstow::survey
