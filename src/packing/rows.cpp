#include "rows.hpp"

#include <algorithm>
#include <bit>
#include <limits>
#include <queue>

namespace cellstow::packing {
namespace {

struct Label {
  Filling filling;
  unsigned fittings = 0;
  Um end = 0;                 ///< first free t, the gap to the next strip not included
  int parent = -1;
  PlacedStrip strip;
};

/// Pieces of one kind, and from each on the best value still to come.
struct KindPieces {
  std::vector<Piece> pieces;
  std::vector<StripValue> best_from;
};

KindPieces prepare(std::vector<Piece> pieces) {
  KindPieces prepared{std::move(pieces), {}};
  prepared.best_from.resize(prepared.pieces.size());
  for (std::size_t i = prepared.pieces.size(); i-- > 0;) {
    StripValue best = prepared.pieces[i].value;
    if (i + 1 < prepared.pieces.size()) {
      for (std::size_t s = 0; s < best.size(); ++s) {
        const Filling& later = prepared.best_from[i + 1][s];
        if (later.better_than(best[s])) best[s] = later;
      }
    }
    prepared.best_from[i] = std::move(best);
  }
  return prepared;
}

class Search {
 public:
  Search(const StripView& view, const std::vector<StripKind>& kinds,
         const std::vector<FillTable>& tables, int enough, Um resolution, Rounding rounding)
      : view_(view), kinds_(kinds), enough_(enough) {
    for (std::size_t k = 0; k < kinds.size(); ++k) {
      pieces_.push_back(prepare(view.pieces(kinds[k], tables[k], resolution, rounding)));
    }
  }

  RowsAnswer run() {
    add({{}, 0, view_.extent().low + std::min<Um>(0, view_.shell_across()) - view_.gap(), -1, {}});
    while (!open_.empty()) {
      const int index = open_.top().second;
      open_.pop();
      if (!dropped_[index]) extend(index);
    }
    return answer();
  }

 private:
  Filling capped(Filling filling) const {
    filling.cells = std::min(filling.cells, enough_);
    return filling;
  }

  /// a makes b pointless: ends no later, holds no less, has placed every fitting b has.
  static bool dominates(const Label& a, const Label& b) {
    if (a.end > b.end || (a.fittings & b.fittings) != b.fittings) return false;
    return !b.filling.better_than(a.filling);
  }

  void add(Label label) {
    label.filling = capped(label.filling);
    for (std::size_t i = 0; i < labels_.size(); ++i) {
      if (!dropped_[i] && dominates(labels_[i], label)) return;
    }
    for (std::size_t i = 0; i < labels_.size(); ++i) {
      if (dominates(label, labels_[i])) dropped_[i] = true;
    }
    open_.push({-label.end, static_cast<int>(labels_.size())});
    labels_.push_back(label);
    dropped_.push_back(false);
  }

  void extend(int index) {
    const Label from = labels_[index];
    const Um start = from.end + view_.gap();
    for (std::size_t k = 0; k < kinds_.size(); ++k) {
      const auto& [pieces, best_from] = pieces_[k];
      auto piece = std::partition_point(pieces.begin(), pieces.end(),
                                        [&](const Piece& p) { return p.to < start; });
      StripValue seen(std::size_t{1} << view_.fittings().size(), impossible);
      seen[0] = {};
      for (; piece != pieces.end(); ++piece) {
        if (!extend_with(from, index, k, *piece, start, seen,
                         best_from[static_cast<std::size_t>(piece - pieces.begin())])) {
          break;
        }
      }
    }
  }

  /// Adds what this piece gives beyond all earlier ones; false when no later piece can give more.
  bool extend_with(const Label& from, int index, std::size_t k, const Piece& piece, Um start,
                   StripValue& seen, const StripValue& still_to_come) {
    bool hope = false;
    for (unsigned subset = 0; subset < seen.size(); ++subset) {
      if (subset & from.fittings) continue;
      if (!still_to_come[subset].better_than(seen[subset])) continue;
      hope = true;
      const Filling& filling = piece.value[subset];
      if (!filling.better_than(seen[subset])) continue;
      seen[subset] = filling;
      const Um t = std::max(piece.from, start);
      add({from.filling + filling, from.fittings | subset, t + kinds_[k].breadth, index,
           {k, t, filling, subset}});
    }
    return hope;
  }

  RowsAnswer answer() const {
    const auto worth = [&](const Label& a, const Label& b) {  // a is the worse answer
      const int placed_a = std::popcount(a.fittings), placed_b = std::popcount(b.fittings);
      if (placed_a != placed_b) return placed_a < placed_b;
      if (a.filling != b.filling) return b.filling.better_than(a.filling);
      return a.end > b.end;
    };
    const Label* best = &*std::max_element(labels_.begin(), labels_.end(), worth);
    RowsAnswer answer{{}, best->fittings, {}};
    for (; best->parent >= 0; best = &labels_[best->parent]) answer.strips.push_back(best->strip);
    std::reverse(answer.strips.begin(), answer.strips.end());
    for (const PlacedStrip& strip : answer.strips) answer.filling = answer.filling + strip.filling;
    return answer;
  }

  const StripView& view_;
  const std::vector<StripKind>& kinds_;
  int enough_;
  std::vector<KindPieces> pieces_;
  std::vector<Label> labels_;
  std::vector<bool> dropped_;
  std::priority_queue<std::pair<Um, int>> open_;   ///< earliest end first
};

}  // namespace

RowsAnswer best_rows(const StripView& view, const std::vector<StripKind>& kinds,
                     const std::vector<FillTable>& tables, int enough, Um resolution,
                     Rounding rounding) {
  return Search(view, kinds, tables, enough, resolution, rounding).run();
}

}  // namespace cellstow::packing
