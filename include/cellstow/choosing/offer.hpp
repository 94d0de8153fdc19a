#pragma once
/// What each cavity offers, as planning has it, and how finely its ways of sharing are looked at.

#include "cellstow/plan/offer.hpp"

namespace cellstow::choosing {

using plan::for_each_split;
using plan::Offer;
using plan::offer_of;

/// A step, a multiple of `parallel`, that keeps the ways to share out to about `most_ways`.
int step_for(const std::vector<Offer>& offers, int parallel, double most_ways);

}  // namespace cellstow::choosing
