#include "several.hpp"

#include <algorithm>
#include <map>

#include "cellstow/packing/nothing_packed.hpp"
#include "cellstow/region/free_plan.hpp"

namespace cellstow::packing {
namespace {

using core::Um;

/// Cuts nearer together than this are not told apart.
constexpr Um finest_cut_um = 4'000;
/// Cuts tried along one axis.
constexpr int most_cuts = 40;
constexpr Um beyond_um = 50'000'000;

struct Extent { Um low = geometry::far_um, high = -geometry::far_um; };

/// How far the cavity reaches along x (0) or y (1).
Extent extent_of(const survey::Cavity& cavity, int axis) {
  Extent extent;
  const auto add = [&](Length at) {
    extent.low = std::min(extent.low, at.um());
    extent.high = std::max(extent.high, at.um());
  };
  const int across = static_cast<int>(cavity.sections.across);
  for (const survey::Section& section : cavity.sections.at) {
    if (axis == across) add(section.station);
    for (const Point2& p : section.outline) {
      // Outline coordinates are the two axes other than the normal, in the order x, y, z.
      if (axis == 0 && across != 0) add(p.a);
      if (axis == 1 && across != 1) add(across == 0 ? p.a : p.b);
    }
  }
  return extent;
}

/// The cavity without what lies behind (or before) the cut.
survey::Cavity side_of(const survey::Cavity& cavity, int axis, Um cut, bool before, bool with_fittings) {
  const auto um = [](Um value) { return Length::from_um(value); };
  Point3 low{um(-beyond_um), um(-beyond_um), um(-beyond_um)}, high{um(beyond_um), um(beyond_um), um(beyond_um)};
  Length& end = axis == 0 ? (before ? low.x : high.x) : (before ? low.y : high.y);
  end = um(cut);
  survey::Cavity side = cavity;
  side.keep_outs.push_back({"the other box", survey::KeepOutKind::fixed, Length{}, survey::BoxShape{low, high}});
  if (!with_fittings) side.fittings.clear();
  return side;
}

class Cuts {
 public:
  Cuts(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
       const PackOptions& options, const CavityPacking& single, PackOne pack_one)
      : cavity_(cavity), cell_(cell), one_(rules), rest_(rules), options_(options), pack_one_(pack_one),
        most_(std::max(single.cells, options.more_than.value_or(0))), missing_(single.fittings_without_place.size()) {
    one_.boxes_per_cavity = 1;
    rest_.boxes_per_cavity = rules.boxes_per_cavity - 1;
    quick_ = options;
    quick_.mixed_budget = 0;
    quick_.heading_budget = 0;
    quick_.step_budget = options.step_budget / 32;
    quick_.more_than.reset();
    quick_.first_will_do = false;
    quick_.watch = nullptr;   // counts of one side are no news
  }

  CavityPacking best() {
    for (int axis = 0; axis < 2; ++axis) {
      for (const bool fittings_before : {true, false}) {
        if (!fittings_before && cavity_.fittings.empty()) break;
        known_.clear();
        const Extent extent = extent_of(cavity_, axis);
        tried_ = 0;
        search({axis, fittings_before}, extent.low, extent.high);
      }
    }
    if (cut_at_ == no_cut) return {};
    const CavityPacking found = put_together(way_, cut_at_, options_);
    return found.cells >= most_ ? found : put_together(way_, cut_at_, quick_);
  }

  long long steps() const { return steps_; }

 private:
  struct CutWay { int axis = 0; bool fittings_before = true; };
  static constexpr Um no_cut = geometry::far_um;

  CavityPacking packed(const CutWay& way, Um cut, bool before, const PackOptions& options) {
    const survey::Cavity side = side_of(cavity_, way.axis, cut, before, before == way.fittings_before);
    CavityPacking packing = pack_one_(side, cell_, before ? one_ : rest_, options);
    steps_ += packing.steps;
    return packing;
  }

  /// What one side of a cut holds, as far as was found, and what it certainly holds no more than.
  struct Count { int cells = 0, bound = 0; };

  Count known_count(const CutWay& way, Um cut, bool before) {
    const auto key = std::pair(cut, before);
    const auto found = known_.find(key);
    if (found != known_.end()) return found->second;
    const CavityPacking packing = packed(way, cut, before, quick_);
    const bool all_placed = packing.fittings_without_place.size() <= missing_;
    return known_[key] = all_placed ? Count{packing.cells, packing.bound} : Count{0, packing.bound};
  }

  int count(const CutWay& way, Um cut, bool before) { return known_count(way, cut, before).cells; }

  /// A side that holds with the nearer cut what bounds it with the farther one holds that with a cut between.
  int count_between(const CutWay& way, Um low, Um middle, Um high, bool before) {
    const int most = known_count(way, before ? high : low, before).bound;
    return most == count(way, before ? low : high, before) ? most : count(way, middle, before);
  }

  void search(const CutWay& way, Um low, Um high) {
    if (++tried_ > most_cuts || steps_ > options_.step_budget / 3) return;
    if (known_count(way, high, true).bound + known_count(way, low, false).bound <= most_) return;
    const Um middle = low + (high - low) / 2;
    const int here = count_between(way, low, middle, high, true) + count_between(way, low, middle, high, false);
    if (here > most_) {
      most_ = here;
      way_ = way;
      cut_at_ = middle;
    }
    if (high - low < finest_cut_um || most_ >= options_.enough.value_or(1'000'000)) return;
    search(way, low, middle);
    search(way, middle, high);
  }

  CavityPacking put_together(const CutWay& way, Um cut, PackOptions options) {
    options.more_than.reset();
    options.first_will_do = false;
    CavityPacking front = packed(way, cut, true, options);
    CavityPacking behind = nothing_packed(cavity_);
    if (!options.enough) {
      behind = packed(way, cut, false, options);
    } else if (const int left = *options.enough - front.cells; left > 0) {
      options.enough = left;
      behind = packed(way, cut, false, options);
      // Blocks have a least size: one too many here is one less in front.
      if (behind.cells > left && front.cells > behind.cells - left) {
        options.enough = front.cells - (behind.cells - left);
        front = packed(way, cut, true, options);
      }
      if (front.cells + behind.cells > *options_.enough) behind = nothing_packed(cavity_);
    }
    front.cells += behind.cells;
    front.boxes.insert(front.boxes.end(), behind.boxes.begin(), behind.boxes.end());
    front.shortfalls.insert(front.shortfalls.end(), behind.shortfalls.begin(), behind.shortfalls.end());
    const CavityPacking& with = way.fittings_before ? front : behind;
    front.fittings_without_place = with.fittings_without_place;
    return front;
  }

  const survey::Cavity& cavity_;
  const survey::Cell& cell_;
  survey::Rules one_, rest_;
  const PackOptions& options_;
  PackOptions quick_;
  PackOne pack_one_;
  int most_;
  std::size_t missing_;
  std::map<std::pair<Um, bool>, Count> known_;
  CutWay way_;
  Um cut_at_ = no_cut;
  int tried_ = 0;
  long long steps_ = 0;
};

}  // namespace

CavityPacking pack_several(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
                           const PackOptions& options, const CavityPacking& single, PackOne pack_one) {
  Cuts cuts(cavity, cell, rules, options, single, pack_one);
  CavityPacking best = cuts.best();
  best.steps = cuts.steps();
  return best;
}

}  // namespace cellstow::packing
