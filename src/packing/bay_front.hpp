#pragma once
/// Is there room for so many cells in a right-angled region? Internal to packing.

#include <limits>
#include <string>
#include <unordered_set>
#include <vector>

#include "bay_lines.hpp"
#include "pallet.hpp"
#include "pallet_pieces.hpp"

namespace cellstow::packing {

/// Fills a right-angled region from its low side, always at the low end of the lowest stretch of the front: a cell one way round, a cell the
/// other way round, or nothing. What is not free rises by itself, and so does what no cell can begin on. Where nothing goes, area is wasted up to the
/// next place where a cell can begin (bay_lines.hpp), and there is only so much to waste.
///
/// Cell by cell, all fronts with as many cells behind them are led on together. Where only the widest so many are kept (those with few stretches and most left to waste beyond
/// what lines must waste), this finds; where none had to go, a refusal is sure.
/// Source: as FrontSearch (pallet_front.hpp), with walls; keeping the best of every layer: beam search, as in the textbooks.
class BayFrontSearch {
 public:
  /// @param lines  outlives the search
  BayFrontSearch(const BayLines& lines, Um long_side, Um short_side);

  static constexpr std::size_t any_width = std::numeric_limits<std::size_t>::max();

  /// @param cells   wanted, at least 1
  /// @param width   fronts with one number of cells behind them that are kept
  /// @param budget  fronts to look at
  Answer run(int cells, std::size_t width, long long budget, long long& steps);
  /// After `reached`.
  const std::vector<PalletCell>& cells() const { return reached_; }

 private:
  struct Stretch { Line end, height; };
  /// A cell, and the index of the one placed before it.
  struct Placed { PalletCell cell; std::int32_t before; };
  struct Front {
    std::size_t begin, size;   ///< of its stretches in the layer
    std::int32_t last;         ///< index of the last cell
    Um to_waste, promise;      ///< promise: what may be wasted beyond what lines must waste, less for every stretch
  };
  /// All fronts with one number of cells behind them.
  struct Layer {
    std::vector<Front> fronts;
    std::vector<Stretch> stretches;
  };

  bool first_front(int cells);
  void lead_on(const Front& from);
  void keep(std::int32_t before, const PalletCell& cell, Line low, Line high);
  bool narrow(std::size_t width);
  void tell_cells(std::int32_t last);

  bool settle(Line low, Line high);
  void absorb(Line low, Line high);
  bool rise_over_wall(std::size_t at);
  bool waste(std::size_t at, Line x_high, Line y_high);
  void raise(std::size_t at, Line x_high, Line to);
  bool begins(Line x, Line x_high, Line y, bool along) const;
  Line first_begin(std::size_t at) const;
  Um must_waste();
  Um must_waste_up_to(Line highest);
  Um left_between_stretches(Line level) const;
  std::size_t lowest() const;
  Line low_end(std::size_t at) const { return at == 0 ? 0 : front_[at - 1].end; }

  const BayLines& lines_;
  Um long_side_, short_side_;
  long long left_ = 0;
  bool last_cell_ = false;           ///< the next cell is the last one wanted
  std::vector<Stretch> front_;       ///< the front being changed
  Um to_waste_ = 0;                  ///< by it
  Layer layer_, next_;
  std::unordered_set<std::u32string> seen_;   ///< fronts of the next layer
  std::vector<Placed> placed_;       ///< of all layers
  std::vector<Line> levels_;
  std::vector<PalletCell> reached_;
};

}  // namespace cellstow::packing
