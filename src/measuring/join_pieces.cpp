#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <tuple>

#include "cellstow/measuring/drawn_outline.hpp"

namespace cellstow::measuring {
namespace {

constexpr double same_place_mm = 0.001;  // the grid on which lengths are held
constexpr std::size_t nothing = static_cast<std::size_t>(-1);

/// Ends are counted through: 2 i is where piece i starts, 2 i + 1 where it ends.
using End = std::size_t;

std::size_t piece_of(End end) { return end / 2; }
End other_end(End end) { return end ^ 1; }

const DrawnPoint& place(const std::vector<DrawnPiece>& pieces, End end) {
  return end % 2 == 0 ? pieces[piece_of(end)].from : pieces[piece_of(end)].to;
}

DrawnPoint& place(std::vector<DrawnPiece>& pieces, End end) {
  return end % 2 == 0 ? pieces[piece_of(end)].from : pieces[piece_of(end)].to;
}

double distance_mm(const DrawnPoint& p, const DrawnPoint& q) {
  return std::hypot(p.a_mm - q.a_mm, p.b_mm - q.b_mm);
}

struct Pair {
  double width_mm;
  End first, second;
};

/// Ends of different pieces no farther apart than the gap, nearest first.
std::vector<Pair> near_pairs(const std::vector<DrawnPiece>& pieces, double gap_mm) {
  std::vector<End> along(2 * pieces.size());
  std::iota(along.begin(), along.end(), End{0});
  std::sort(along.begin(), along.end(), [&](End p, End q) {
    return std::tuple(place(pieces, p).a_mm, p) < std::tuple(place(pieces, q).a_mm, q);
  });
  std::vector<Pair> pairs;
  for (std::size_t i = 0; i < along.size(); ++i)
    for (std::size_t j = i + 1; j < along.size(); ++j) {
      const DrawnPoint &p = place(pieces, along[i]), &q = place(pieces, along[j]);
      if (q.a_mm - p.a_mm > gap_mm) break;
      if (piece_of(along[i]) == piece_of(along[j])) continue;
      const double width = distance_mm(p, q);
      if (width <= gap_mm) pairs.push_back({width, std::min(along[i], along[j]), std::max(along[i], along[j])});
    }
  std::sort(pairs.begin(), pairs.end(), [](const Pair& p, const Pair& q) {
    return std::tie(p.width_mm, p.first, p.second) < std::tie(q.width_mm, q.first, q.second);
  });
  return pairs;
}

/// What belongs to what: for each end the end it is joined to, and how wide the gap was.
struct Partners {
  std::vector<End> of;
  std::vector<double> width_mm;
};

Partners nearest_first(std::size_t ends, const std::vector<Pair>& pairs) {
  Partners partners{std::vector<End>(ends, nothing), std::vector<double>(ends, 0)};
  for (const Pair& pair : pairs) {
    if (partners.of[pair.first] != nothing || partners.of[pair.second] != nothing) continue;
    partners.of[pair.first] = pair.second;
    partners.of[pair.second] = pair.first;
    partners.width_mm[pair.first] = partners.width_mm[pair.second] = pair.width_mm;
  }
  return partners;
}

/// Keeps the numbers rising, each once.
void put_in(std::vector<int>& rising, int number) {
  const auto at = std::lower_bound(rising.begin(), rising.end(), number);
  if (at == rising.end() || *at != number) rising.insert(at, number);
}

/// A pair that was passed over though it is no wider than what one of its ends was joined by: the choice was a draw.
std::vector<Fork> forks_in(const std::vector<DrawnPiece>& pieces, const std::vector<Pair>& pairs,
                           const Partners& partners) {
  std::vector<Fork> forks;
  const auto drawn = [&](const Pair& pair, End end) {
    return partners.of[end] != nothing && pair.width_mm <= partners.width_mm[end] + same_place_mm;
  };
  for (const Pair& pair : pairs) {
    if (partners.of[pair.first] == pair.second) continue;
    if (!drawn(pair, pair.first) && !drawn(pair, pair.second)) continue;
    const DrawnPoint at = place(pieces, pair.first);
    auto fork = std::find_if(forks.begin(), forks.end(),
                             [&](const Fork& known) { return distance_mm(known.at, at) <= 10 * same_place_mm; });
    if (fork == forks.end()) fork = forks.insert(forks.end(), {at, {}});
    for (const End end : {pair.first, pair.second, partners.of[pair.first], partners.of[pair.second]})
      if (end != nothing) put_in(fork->lines, pieces[piece_of(end)].line);
  }
  return forks;
}

std::vector<OpenEnd> open_ends(const std::vector<DrawnPiece>& pieces, const Partners& partners) {
  std::vector<End> open;
  for (End end = 0; end < partners.of.size(); ++end)
    if (partners.of[end] == nothing) open.push_back(end);
  std::vector<OpenEnd> told;
  for (const End end : open) {
    const DrawnPoint at = place(pieces, end);
    End nearest = nothing;
    for (const End other : open)
      if (other != end && (nearest == nothing || distance_mm(at, place(pieces, other)) < distance_mm(at, place(pieces, nearest))))
        nearest = other;
    const DrawnPoint there = place(pieces, nearest);  // open ends come in twos
    told.push_back({at, there, pieces[piece_of(end)].line, pieces[piece_of(nearest)].line, distance_mm(at, there)});
  }
  return told;
}

/// Where two straight pieces cross when they are made longer; nothing when they are nearly in line.
std::optional<DrawnPoint> crossing(const DrawnPiece& p, const DrawnPiece& q) {
  const double pa = p.to.a_mm - p.from.a_mm, pb = p.to.b_mm - p.from.b_mm;
  const double qa = q.to.a_mm - q.from.a_mm, qb = q.to.b_mm - q.from.b_mm;
  const double turn = pa * qb - pb * qa;
  if (std::abs(turn) < 0.01 * std::hypot(pa, pb) * std::hypot(qa, qb)) return {};
  const double share = ((q.from.a_mm - p.from.a_mm) * qb - (q.from.b_mm - p.from.b_mm) * qa) / turn;
  return DrawnPoint{p.from.a_mm + share * pa, p.from.b_mm + share * pb};
}

DrawnPoint meeting_place(const std::vector<DrawnPiece>& pieces, End first, End second, double gap_mm) {
  const DrawnPiece &p = pieces[piece_of(first)], &q = pieces[piece_of(second)];
  const DrawnPoint at = place(pieces, first), there = place(pieces, second);
  if (p.bulge != 0 && q.bulge == 0) return at;
  if (p.bulge == 0 && q.bulge != 0) return there;
  if (p.bulge == 0)
    if (const auto cross = crossing(p, q);
        cross && distance_mm(*cross, at) <= gap_mm && distance_mm(*cross, there) <= gap_mm)
      return *cross;
  return {(at.a_mm + there.a_mm) / 2, (at.b_mm + there.b_mm) / 2};
}

/// The pieces with joined ends at one place.
std::vector<DrawnPiece> brought_together(const std::vector<DrawnPiece>& pieces, const Partners& partners,
                                         double gap_mm, std::vector<ClosedGap>& gaps) {
  std::vector<DrawnPiece> moved = pieces;
  for (End end = 0; end < partners.of.size(); ++end) {
    const End partner = partners.of[end];
    if (partner == nothing || partner < end) continue;
    const DrawnPoint at = meeting_place(pieces, end, partner, gap_mm);
    place(moved, end) = place(moved, partner) = at;
    if (partners.width_mm[end] > same_place_mm) gaps.push_back({at, partners.width_mm[end]});
  }
  return moved;
}

DrawnPiece run_from(const std::vector<DrawnPiece>& pieces, End start) {
  DrawnPiece piece = pieces[piece_of(start)];
  if (start % 2 == 0) return piece;
  std::swap(piece.from, piece.to);
  piece.bulge = -piece.bulge;
  return piece;
}

/// @pre every end has a partner
std::vector<DrawnLoop> loops_of(const std::vector<DrawnPiece>& pieces, const Partners& partners) {
  std::vector<DrawnLoop> loops;
  std::vector<bool> used(pieces.size(), false);
  for (std::size_t first = 0; first < pieces.size(); ++first) {
    if (used[first]) continue;
    DrawnLoop loop;
    for (End start = 2 * first; !used[piece_of(start)]; start = partners.of[other_end(start)]) {
      used[piece_of(start)] = true;
      loop.push_back(run_from(pieces, start));
    }
    loops.push_back(std::move(loop));
  }
  return loops;
}

/// A piece as whole micrometres with its lower end first, so that two that lie on one another are equal.
std::array<double, 5> as_drawn(const DrawnPiece& piece) {
  const auto whole = [](double mm) { return std::round(mm / same_place_mm); };
  const std::array<double, 2> from{whole(piece.from.a_mm), whole(piece.from.b_mm)};
  const std::array<double, 2> to{whole(piece.to.a_mm), whole(piece.to.b_mm)};
  const double bulge = std::round(piece.bulge * 1e6) + 0.0;
  if (to < from) return {to[0], to[1], from[0], from[1], -bulge};
  return {from[0], from[1], to[0], to[1], bulge};
}

std::vector<std::pair<int, int>> drawn_twice(const std::vector<DrawnPiece>& pieces) {
  std::vector<std::pair<std::array<double, 5>, int>> drawn;
  for (const DrawnPiece& piece : pieces) drawn.emplace_back(as_drawn(piece), piece.line);
  std::sort(drawn.begin(), drawn.end());
  std::vector<std::pair<int, int>> twice;
  for (std::size_t i = 1; i < drawn.size(); ++i)
    if (drawn[i].first == drawn[i - 1].first) twice.emplace_back(drawn[i - 1].second, drawn[i].second);
  std::sort(twice.begin(), twice.end());
  return twice;
}

}  // namespace

JoinedPieces join_pieces(const std::vector<DrawnPiece>& pieces, double gap_mm) {
  JoinedPieces joined;
  std::vector<DrawnPiece> with_length;
  for (const DrawnPiece& piece : pieces) {
    if (distance_mm(piece.from, piece.to) > same_place_mm)
      with_length.push_back(piece);
    else
      joined.without_length.push_back(piece.line);
  }
  joined.twice = drawn_twice(with_length);
  const std::vector<Pair> pairs = near_pairs(with_length, gap_mm);
  const Partners partners = nearest_first(2 * with_length.size(), pairs);
  joined.forks = forks_in(with_length, pairs, partners);
  joined.open = open_ends(with_length, partners);
  if (!joined.open.empty() || !joined.forks.empty() || !joined.twice.empty()) return joined;
  joined.loops = loops_of(brought_together(with_length, partners, gap_mm, joined.gaps), partners);
  return joined;
}

}  // namespace cellstow::measuring
