#include "bay_cuts.hpp"

#include <algorithm>
#include <numeric>

namespace cellstow::packing {
namespace {

/// Cuts one inside the other before a part has to be a rectangle or an L-shape.
constexpr int deepest = 3;
constexpr Um most_units = 30'000;
/// Making a pair of regions takes about as long as looking at so many pairs of pieces.
constexpr long long cost_of_a_cut = 10;

}  // namespace

bool BayCuts::too_fine(Um longest, Um long_side, Um short_side) {
  return longest / std::gcd(long_side, short_side) > most_units;
}

BayCuts::BayCuts(Um longest, Um long_side, Um short_side)
    : unit_(std::gcd(long_side, short_side)),
      small_{static_cast<int>(longest / unit_), static_cast<int>(longest / unit_), static_cast<int>(long_side / unit_),
             static_cast<int>(short_side / unit_)},
      reach_(small_, small_.length), pieces_(small_) {}

CutPiece BayCuts::in_units(const CutPiece& piece) const {
  const auto units = [&](int length) { return static_cast<int>(length / unit_); };
  return {units(piece.length), units(piece.width), units(piece.arm_x), units(piece.arm_y)};
}

Um BayCuts::widest_fill(Um length) const { return reach_.floor(static_cast<int>(length / unit_)) * unit_; }

/// By area, each line across the region filled as far as sums of cell sides go; the less of both directions.
int BayCuts::ruled_out_above(const BayRegion& region) const {
  Um along_x = 0, along_y = 0;
  for (std::size_t row = 0; row < region.rows(); ++row) {
    for (std::size_t i = 0, from = 0; i < region.columns(); ++i) {
      if (!region.is_free(i, row)) { from = i + 1; continue; }
      if (i + 1 < region.columns() && region.is_free(i + 1, row)) continue;
      along_x += widest_fill(region.x[i + 1] - region.x[from]) * (region.y[row + 1] - region.y[row]);
    }
  }
  for (std::size_t column = 0; column < region.columns(); ++column) {
    for (std::size_t j = 0, from = 0; j < region.rows(); ++j) {
      if (!region.is_free(column, j)) { from = j + 1; continue; }
      if (j + 1 < region.rows() && region.is_free(column, j + 1)) continue;
      along_y += widest_fill(region.y[j + 1] - region.y[from]) * (region.x[column + 1] - region.x[column]);
    }
  }
  return static_cast<int>(std::min(along_x, along_y) / (small_.cell_area() * unit_ * unit_));
}

std::size_t BayCuts::id_of(const BayRegion& region) {
  const auto [found, added] = ids_.try_emplace(region.key(), known_.size());
  if (!added) return found->second;
  Known entry;
  entry.region = region;
  entry.piece = as_piece(region);
  entry.possible = ruled_out_above(region);
  if (entry.piece) entry.possible = std::min(entry.possible, pieces_.possible(in_units(entry.piece->piece)));
  known_.push_back(std::move(entry));
  return known_.size() - 1;
}

/// Where a cut can be of use: whole sums of cell sides away from an edge.
std::vector<Um> BayCuts::lines(const std::vector<Um>& edges) const {
  std::vector<Um> lines;
  for (const Um edge : edges) {
    for (const int sum : reach_.sums()) {
      lines.push_back(edge + sum * unit_);
      lines.push_back(edge - sum * unit_);
    }
  }
  std::sort(lines.begin(), lines.end());
  lines.erase(std::unique(lines.begin(), lines.end()), lines.end());
  std::erase_if(lines, [&](Um line) { return line <= edges.front() || line >= edges.back(); });
  return lines;
}

void BayCuts::list_cuts(std::size_t id) {
  known_[id].has_cuts = true;
  const BayRegion region = known_[id].region;
  std::vector<std::pair<Part, Part>> cuts;
  for (const bool swapped : {false, true}) {
    for (const Um at : lines(swapped ? region.y : region.x)) {
      for (const auto& [one, other] : cut_along(region, at, swapped)) {
        left_ -= cost_of_a_cut;
        cuts.push_back({{id_of(one.region), one.x, one.y}, {id_of(other.region), other.x, other.y}});
      }
    }
  }
  // Rectangles and L-shapes first.
  const auto pieces = [&](const std::pair<Part, Part>& cut) {
    return known_[cut.first.id].piece.has_value() + known_[cut.second.id].piece.has_value();
  };
  std::stable_sort(cuts.begin(), cuts.end(), [&](const auto& a, const auto& b) { return pieces(a) > pieces(b); });
  known_[id].cuts = std::move(cuts);
}

bool BayCuts::try_cut(std::size_t id, std::size_t cut, int cells, int depth) {
  --left_;
  const auto [one, other] = known_[id].cuts[cut];
  while (left_ > 0 && known_[one.id].possible + known_[other.id].possible >= cells) {
    if (!reach(one.id, cells - known_[other.id].possible, depth)) continue;
    if (!reach(other.id, cells - known_[one.id].reached, depth)) continue;
    known_[id].reached = known_[one.id].reached + known_[other.id].reached;
    known_[id].best_cut = cut;
    return true;
  }
  return false;
}

bool BayCuts::reach(std::size_t id, int cells, int depth) {
  if (known_[id].reached >= cells) return true;
  if (known_[id].possible < cells || left_ <= 0) return false;
  bool found = false;
  if (known_[id].piece) {
    const CutPiece piece = in_units(known_[id].piece->piece);
    long long spent = 0;
    const Answer answer = pieces_.reach(piece, cells, left_, spent);
    left_ -= spent;
    known_[id].reached = pieces_.reached(piece);
    found = answer == Answer::reached;
  } else if (depth < deepest) {
    if (!known_[id].has_cuts) list_cuts(id);
    for (std::size_t cut = 0; cut < known_[id].cuts.size() && !found && left_ > 0; ++cut) {
      found = try_cut(id, cut, cells, depth + 1);
    }
  }
  if (!found && left_ > 0) known_[id].possible = cells - 1;
  return found;
}

bool BayCuts::reach(const BayRegion& region, int cells, long long budget, long long& steps) {
  left_ = budget;
  const bool found = reach(id_of(region), cells, 0);
  steps += budget - left_;
  return found;
}

int BayCuts::reached(const BayRegion& region) { return known_[id_of(region)].reached; }
int BayCuts::possible(const BayRegion& region) { return known_[id_of(region)].possible; }

std::vector<PalletCell> BayCuts::cells(const BayRegion& region) {
  std::vector<PalletCell> cells;
  place(id_of(region), 0, 0, cells);
  return cells;
}

void BayCuts::place(std::size_t id, Um x, Um y, std::vector<PalletCell>& cells) {
  if (!known_[id].piece) {
    if (known_[id].cuts.empty() || known_[id].reached == 0) return;
    const auto [one, other] = known_[id].cuts[known_[id].best_cut];
    place(one.id, x + one.x, y + one.y, cells);
    place(other.id, x + other.x, y + other.y, cells);
    return;
  }
  const PlacedCutPiece& piece = *known_[id].piece;
  for (const SmallCell& cell : pieces_.cells(in_units(piece.piece))) {
    const int u = static_cast<int>(unit_);
    const int along = (cell.along_length ? small_.long_side : small_.short_side) * u;
    const int across = (cell.along_length ? small_.short_side : small_.long_side) * u;
    const auto [ax, ay] = piece.frame.point(cell.x * u, cell.y * u);
    const auto [bx, by] = piece.frame.point(cell.x * u + along, cell.y * u + across);
    cells.push_back({x + std::min(ax, bx), y + std::min(ay, by), cell.along_length});
  }
}

}  // namespace cellstow::packing
