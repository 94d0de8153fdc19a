#include "cellstow/choosing/offer.hpp"

namespace cellstow::choosing {

int step_for(const std::vector<Offer>& offers, int parallel, double most_ways) {
  const auto ways = [&](int step) {
    double product = 1;
    for (std::size_t i = 0; i + 1 < offers.size(); ++i) product *= offers[i].most / step + 2;
    return product;
  };
  int step = parallel;
  while (ways(step) > most_ways && step < 1'000'000) step += parallel;
  return step;
}

}  // namespace cellstow::choosing
