#pragma once
/// One cavity from packing to mounting. Internal to plan.

#include <mutex>

#include "cellstow/plan/plan.hpp"

namespace cellstow::plan {

/// Passes on what cavities that are packed side by side have to tell, one at a time.
class Running {
 public:
  Running(const Progress& progress, const std::atomic<bool>* stop) : stop(stop), progress_(progress) {}

  void tell(const std::string& what) const {
    if (!progress_) return;
    const std::lock_guard lock(mutex_);
    progress_(what);
  }

  const std::atomic<bool>* stop;

 private:
  const Progress& progress_;
  mutable std::mutex mutex_;
};

/// Packing of a cavity, and the boxes for what it holds.
///
/// @param enough  cells the string needs here; empty: as many as fit
CavityPlan plan_cavity(const survey::Job& job, const survey::Cavity& cavity,
                       const std::string& mark, std::optional<int> enough, const Running& running);

/// The cavity where the string needs none of its cells: no box, and every fitting asked for there without a place.
CavityPlan without_box(const survey::Cavity& cavity, CavityPlan fullest);

/// Adds straps, mounting and gaps to the boxes of a cavity.
void hold_boxes(const survey::Job& job, const survey::Cavity& cavity,
                const survey::Catalogue& catalogue, CavityPlan& plan);

/// Adds how each box gets into the car, where openings were measured.
void add_way_in(const survey::Job& job, const survey::Cavity& cavity, CavityPlan& plan);

}  // namespace cellstow::plan
