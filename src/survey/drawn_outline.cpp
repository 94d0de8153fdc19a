#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "dxf_drawing.hpp"
#include "given_outline.hpp"

namespace cellstow::survey {
namespace {

using measuring::DrawnLoop;
using measuring::DrawnPiece;
using measuring::DrawnPoint;
using measuring::JoinedPieces;

std::string place_in_words(const DrawnPoint& point) { return fmt::format("({:.1f}, {:.1f})", point.a_mm + 0.0, point.b_mm + 0.0); }

std::string lines_in_words(const std::vector<int>& lines) {
  constexpr std::size_t most_told = 10;
  std::string text;
  for (std::size_t i = 0; i < std::min(lines.size(), most_told); ++i) text += fmt::format("{}{}", text.empty() ? "" : ", ", lines[i]);
  return text + (lines.size() > most_told ? fmt::format(" and {} more", lines.size() - most_told) : "");
}

// ---- unit ------------------------------------------------------------------

/// $INSUNITS of the header. Source: DXF reference, header variables (from memory)
std::optional<double> mm_of_unit_code(int code) {
  switch (code) {
    case 1: return 25.4;
    case 2: return 304.8;
    case 4: return 1;
    case 5: return 10;
    case 6: return 1000;
    default: return {};
  }
}

std::optional<double> unit_of_drawing(const DxfDrawing& drawing, const DrawingWanted& wanted, ProblemLog& log) {
  const int code = drawing.unit_code.value_or(0);
  const std::optional<double> told = mm_of_unit_code(code);
  if (code != 0 && !told) {
    log.add("E231", "", "no unit", fmt::format("$INSUNITS {} in its header", code), "mm, cm, m, in or ft (4, 5, 6, 1, 2)",
            "set the drawing's unit and save it again");
    return {};
  }
  if (told && wanted.unit_mm && *told != *wanted.unit_mm) {
    log.add("E231", "", "two units for one drawing", fmt::format("a unit of {} mm in its header, of {} mm in the job", *told, *wanted.unit_mm),
            "the same unit in both", "leave \"unit\" out of the job when the header is right");
    return {};
  }
  if (told || wanted.unit_mm) return told ? told : wanted.unit_mm;
  log.add("E231", "", "no unit", "no unit in the drawing's header, and none in the job", "\"unit\": \"mm\", \"cm\", \"m\", \"in\" or \"ft\"",
          "measure a length you know in the drawing: is it told in mm or in inches?");
  return {};
}

// ---- joined ----------------------------------------------------------------

bool same(const DrawnPoint& p, const DrawnPoint& q) { return p.a_mm == q.a_mm && p.b_mm == q.b_mm; }

/// Two ends that are nearest to one another are told once.
bool told_before(const std::vector<measuring::OpenEnd>& open, std::size_t i) {
  return std::any_of(open.begin(), open.begin() + static_cast<std::ptrdiff_t>(i), [&](const measuring::OpenEnd& earlier) {
    return same(earlier.at, open[i].nearest) && same(earlier.nearest, open[i].at);
  });
}

void tell_open(const JoinedPieces& joined, double gap_mm, ProblemLog& log) {
  constexpr std::size_t most_told = 8;
  std::string ends;
  std::size_t told = 0;
  for (std::size_t i = 0; i < joined.open.size(); ++i) {
    const measuring::OpenEnd& end = joined.open[i];
    if (told_before(joined.open, i) || told++ >= most_told) continue;
    ends += fmt::format("{}{} (line {}), {:.2f} mm from {} (line {})", ends.empty() ? "" : "; ", place_in_words(end.at), end.line, end.distance_mm,
                        place_in_words(end.nearest), end.nearest_line);
  }
  if (told > most_told) ends += fmt::format("; and {} more", told - most_told);
  log.add("E234", "", "outline is open", fmt::format("{} ends that nothing joins: {}", joined.open.size(), ends),
          fmt::format("ends no farther apart than {} mm", gap_mm), "draw the missing piece, or allow a wider \"gap_mm\"");
}

void tell_twice(const JoinedPieces& joined, ProblemLog& log) {
  constexpr std::size_t most_told = 8;
  std::string pairs;
  for (std::size_t i = 0; i < std::min(joined.twice.size(), most_told); ++i)
    pairs += fmt::format("{}{} and {}", i == 0 ? "" : "; ", joined.twice[i].first, joined.twice[i].second);
  if (joined.twice.size() > most_told) pairs += fmt::format("; and {} more", joined.twice.size() - most_told);
  log.add("E235", "", "lines that make no one outline", fmt::format("the same piece twice, in lines {} of the file", pairs), "each piece once",
          "delete one of each two");
}

bool check_joined(const JoinedPieces& joined, double gap_mm, ProblemLog& log) {
  if (!joined.twice.empty()) tell_twice(joined, log);
  if (joined.twice.empty())
    for (const measuring::Fork& fork : joined.forks)
      log.add("E235", "", "lines that make no one outline",
              fmt::format("more than two ends meet at {} mm, drawn in line {} of the file", place_in_words(fork.at), lines_in_words(fork.lines)),
              "two ends at every corner", "move what is no wall to another layer");
  if (joined.twice.empty() && joined.forks.empty() && !joined.open.empty()) tell_open(joined, gap_mm, log);
  return joined.twice.empty() && joined.forks.empty() && joined.open.empty();
}

// ---- rings -----------------------------------------------------------------

/// On the grid, without corners that fall on the one before, starting at the lowest.
std::optional<Ring> ring_of(const std::vector<DrawnPoint>& corners, ProblemLog& log) {
  Ring ring;
  for (const DrawnPoint& corner : corners) {
    const auto point = on_grid(corner, "a corner", {nullptr, "", &log});
    if (!point) return {};
    if (ring.empty() || *point != ring.back()) ring.push_back(*point);
  }
  while (ring.size() > 1 && ring.back() == ring.front()) ring.pop_back();
  std::rotate(ring.begin(), std::min_element(ring.begin(), ring.end()), ring.end());
  Ring sorted = ring;
  std::sort(sorted.begin(), sorted.end());
  const auto twice = std::adjacent_find(sorted.begin(), sorted.end());
  if (twice != sorted.end()) {
    log.add("E235", "", "lines that make no one outline", fmt::format("the outline touches itself at ({}, {}) mm", in_mm(twice->a), in_mm(twice->b)),
            "an outline that passes each place once", "leave a little room between the two, or draw a hole");
    return {};
  }
  if (ring.size() <= most_vertices) return ring;
  log.add("E117", "", "more than any outline holds", fmt::format("{} corners", ring.size()), fmt::format("at most {}", most_vertices));
  return {};
}

bool lies_inside(const Ring& outline, const Ring& hole) {
  return std::all_of(hole.begin(), hole.end(), [&](const core::Point2& point) { return encloses(outline, point); });
}

/// The loop with the largest area is the outline, whatever lies in it a hole.
std::optional<GivenOutline> rings_of(const std::vector<DrawnLoop>& loops, ProblemLog& log) {
  const auto smaller = [](const DrawnLoop& p, const DrawnLoop& q) { return std::abs(measuring::loop_area_mm2(p)) < std::abs(measuring::loop_area_mm2(q)); };
  const auto largest = std::max_element(loops.begin(), loops.end(), smaller);
  GivenOutline given;
  for (const DrawnLoop& loop : loops) {
    const bool outer = &loop == &*largest;
    const auto side = outer ? measuring::FreeSide::inside : measuring::FreeSide::outside;
    auto ring = ring_of(measuring::tight_corners(loop, side, chord_within_mm), log);
    if (!ring) return {};
    if (outer)
      given.outline = std::move(*ring);
    else
      given.holes.push_back(std::move(*ring));
  }
  for (const Ring& hole : given.holes) {
    if (hole.empty() || lies_inside(given.outline, hole) || meeting_of(hole, given.outline)) continue;
    log.add("E235", "", "lines that make no one outline",
            fmt::format("a second outline beside the first, with a corner at ({}, {}) mm", in_mm(hole[0].a), in_mm(hole[0].b)),
            "one outline a layer, and in it the holes", "put each section on a layer of its own");
    return {};
  }
  const std::size_t before = log.size();
  check_given(given, log);
  return log.size() == before ? std::optional(std::move(given)) : std::nullopt;
}

// ---- its place -------------------------------------------------------------

DrawnPoint in_mm_as_seen(const DrawnPoint& drawn, double unit_mm, bool mirrored) {
  return {drawn.a_mm * unit_mm * (mirrored ? -1 : 1), drawn.b_mm * unit_mm};
}

/// Known points with their drawn places in mm, as seen from this side.
std::vector<measuring::KnownPair> known_in_mm(const DrawingWanted& wanted, double unit_mm) {
  std::vector<measuring::KnownPair> known = wanted.known;
  for (measuring::KnownPair& pair : known) pair.drawn = in_mm_as_seen(pair.drawn, unit_mm, wanted.mirrored);
  return known;
}

struct Placed {
  measuring::DrawingPlacing placing;
  double worst_mm = 0;
};

std::optional<Placed> place_of_drawing(const DrawingWanted& wanted, double unit_mm, const Node& told_at) {
  if (wanted.known.empty()) return Placed{};
  const std::vector<measuring::KnownPair> known = known_in_mm(wanted, unit_mm);
  const measuring::DrawingPlacing placing = measuring::place_drawing(known);
  const std::vector<double> off = measuring::off_by_mm(placing, known);
  const auto worst = std::max_element(off.begin(), off.end());
  if (*worst <= wanted.known_within_mm) return Placed{placing, *worst};
  std::string found;
  for (std::size_t i = 0; i < off.size(); ++i) found += fmt::format("{}point {} off by {:.1f} mm", i == 0 ? "" : ", ", i, off[i]);
  told_at.log->add("E238", told_at.pointer, "known points do not fit", found + " (counted from 0)",
                   fmt::format("off by at most {} mm (\"known_within_mm\")", wanted.known_within_mm),
                   "a slipped number, two points mixed up, another unit, or a drawing seen from the other side (\"mirrored\")");
  return {};
}

void move(std::vector<DrawnPiece>& pieces, const DrawingWanted& wanted, double unit_mm, const measuring::DrawingPlacing& placing) {
  for (DrawnPiece& piece : pieces) {
    piece.from = measuring::placed(placing, in_mm_as_seen(piece.from, unit_mm, wanted.mirrored));
    piece.to = measuring::placed(placing, in_mm_as_seen(piece.to, unit_mm, wanted.mirrored));
    if (wanted.mirrored) piece.bulge = -piece.bulge;
  }
}

// ---- remarks ---------------------------------------------------------------

std::string gaps_in_words(const std::vector<measuring::ClosedGap>& gaps) {
  const auto widest = std::max_element(gaps.begin(), gaps.end(), [](const auto& p, const auto& q) { return p.width_mm < q.width_mm; });
  if (gaps.size() == 1) return fmt::format("1 gap of {:.2f} mm closed, at {}", widest->width_mm, place_in_words(widest->at));
  return fmt::format("{} gaps up to {:.2f} mm closed, the largest at {}", gaps.size(), widest->width_mm, place_in_words(widest->at));
}

std::vector<std::string> remarks_on(const LayerPieces& layer, const JoinedPieces& joined, const DrawingWanted& wanted, const Placed& placed) {
  std::vector<std::string> remarks;
  if (!joined.gaps.empty()) remarks.push_back(gaps_in_words(joined.gaps));
  if (!wanted.known.empty())
    remarks.push_back(fmt::format("drawing placed by {} known points, off by up to {:.1f} mm", wanted.known.size(), placed.worst_mm));
  if (wanted.mirrored) remarks.push_back("drawn as seen from the other side, turned over here");
  if (layer.arcs > 0)
    remarks.push_back(fmt::format("{} round piece{} laid out in straight ones, at most {} mm on the tight side", layer.arcs, layer.arcs == 1 ? "" : "s", chord_within_mm));
  if (!joined.without_length.empty())
    remarks.push_back(fmt::format("{} piece{} without length left out (line {})", joined.without_length.size(), joined.without_length.size() == 1 ? "" : "s",
                                  lines_in_words(joined.without_length)));
  if (!layer.left_aside.empty()) {
    std::string aside;
    for (const std::string& kind : layer.left_aside) aside += (aside.empty() ? "" : ", ") + kind;
    remarks.push_back("left aside on the layer: " + aside);
  }
  return remarks;
}

std::optional<GivenOutline> outline_of_layer(const DxfDrawing& drawing, const std::string& layer, const DrawingWanted& wanted,
                                             const std::optional<double>& unit_mm, ProblemLog& log, const Node* known_at) {
  std::optional<LayerPieces> found = pieces_on_layer(drawing, layer, log);
  const auto placed = unit_mm ? place_of_drawing(wanted, *unit_mm, known_at ? *known_at : Node{nullptr, "", &log}) : std::nullopt;
  if (!found || !placed) return {};
  move(found->pieces, wanted, *unit_mm, placed->placing);
  const JoinedPieces joined = measuring::join_pieces(found->pieces, wanted.gap_mm);
  if (!check_joined(joined, wanted.gap_mm, log)) return {};
  if (joined.loops.empty()) {
    log.add("E232", "", "nothing drawn on the layer", fmt::format("no piece of any length on layer {}", shown(Json(layer))), "a closed outline");
    return {};
  }
  std::optional<GivenOutline> given = rings_of(joined.loops, log);
  if (!given) return {};
  given->measured.by = MeasuredBy::drawing;
  given->measured.remarks = remarks_on(*found, joined, wanted, *placed);
  if (wanted.give_or_take) given->measured.corners.assign(given->outline.size(), {"", wanted.give_or_take});
  return given;
}

}  // namespace

std::optional<GivenOutline> outline_on_layer(const DxfDrawing& drawing, const std::string& layer, const DrawingWanted& wanted, ProblemLog& log,
                                             const Node* known_at) {
  const std::optional<double> unit_mm = unit_of_drawing(drawing, wanted, log);
  ProblemLog of_layer(log.file());
  std::optional<GivenOutline> given = outline_of_layer(drawing, layer, wanted, unit_mm, of_layer, known_at);
  core::Problems problems = of_layer.in_file_order();
  for (core::Problem& problem : problems) problem.pointer = below("", layer);
  log.add_from_file("", problems);
  return given;
}

core::Result<GivenOutline> outline_from_dxf(std::string_view bytes, const std::string& name, const std::string& layer, const DrawingWanted& wanted) {
  ProblemLog log(name);
  std::optional<GivenOutline> given;
  if (const auto drawing = parse_dxf(bytes, log)) given = outline_on_layer(*drawing, layer, wanted, log);
  if (given && log.empty()) return *given;
  return tl::unexpected(log.in_file_order());
}

}  // namespace cellstow::survey
