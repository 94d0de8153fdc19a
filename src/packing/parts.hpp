#pragma once
/// Which pieces of a free plan hang together. Internal to packing.

#include <vector>

#include "cellstow/region/free_plan.hpp"
#include "strip_view.hpp"

namespace cellstow::packing {

/// The free plan cut into thin strips whose free runs are joined where they overlap by more than `neck`.
class Parts {
 public:
  Parts(const region::FreePlan& plan, Strips strips, Um neck);

  int count() const { return count_; }

  /// Keeps the runs of one part.
  class Only : public RunFilter {
   public:
    Only(const Parts& parts, int part) : parts_(parts), part_(part) {}
    bool keeps(const SpanUm& run, Um t_low, Um t_high) const override;

   private:
    const Parts& parts_;
    int part_;
  };

 private:
  struct Piece { SpanUm run; int part; };
  std::vector<Um> levels_;                     ///< slab i lies between levels i and i + 1
  std::vector<std::vector<Piece>> slabs_;
  int count_ = 0;
};

}  // namespace cellstow::packing
