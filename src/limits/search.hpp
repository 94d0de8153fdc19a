#pragma once
/// The order in which changes are looked at, and how far the work allowed goes. Internal to limits.

#include "probe.hpp"

namespace cellstow::limits {

/// Looks at every change at the floor height the box has now first: that is quick. Then, as far as the work
/// allowed goes, at all floor heights: what was not found at the one, and whether less would do at another.
class Search {
 public:
  Search(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
         const packing::CavityPacking& packing, const LimitsOptions& options);

  CavityLimits run();

 private:
  /// One change with what is known of it so far.
  struct Case {
    Change change;
    Answer seen;             ///< at `tried`
    Length tried;
    Limit limit;
    bool everywhere() const { return limit.looked == Looked::everywhere; }
  };
  using Indices = std::vector<std::size_t>;

  /// Shares of the work allowed after which looking at all heights, then keep-outs and fittings, then all else ends.
  bool work_left(double share = 1) const {
    if (options_.stop != nullptr && *options_.stop) return false;
    return static_cast<double>(result_.steps) < share * static_cast<double>(options_.step_budget);
  }
  void count(const Answer& answer);
  void add_hint(core::Um hint);
  std::size_t add(Change change);
  void take(Case& c, const Answer& answer, Looked looked);

  void gather();
  void look(const Indices& which, const std::optional<Length>& floor, double share);
  void look_together(const Indices& which);
  void look_everywhere();
  void closer(const Indices& which);
  void keep_outs_closer();
  void best_move(std::vector<Change> moves);
  void confirm();
  void fitting_places();
  void tell();

  struct Closer {
    std::optional<Enough> more, full_row;
    Answer work;
  };
  Closer look_closer(const Case& c) const;
  Enough enough_for(const Case& c, int more, Length fails, Length floor, Answer& work) const;
  Indices those(bool (*wanted)(const Case&)) const;

  const survey::Cavity& cavity_;
  const survey::Rules& rules_;
  const packing::CavityPacking& packing_;
  LimitsOptions options_;
  Prober prober_;
  bool rows_only_ = true;  ///< the shop's rules ask for no more than the probes look at
  std::optional<Length> here_;
  std::vector<core::Um> hints_;
  std::vector<Case> cases_;
  CavityLimits result_;
};

}  // namespace cellstow::limits
