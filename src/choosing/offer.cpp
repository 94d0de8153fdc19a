#include "cellstow/choosing/offer.hpp"

#include <algorithm>
#include <cmath>

namespace cellstow::choosing {
namespace {

void share(const std::vector<Offer>& offers, int left, int step, std::vector<int>& cells, const std::function<void(const std::vector<int>&)>& take) {
  const Offer& offer = offers[cells.size()];
  if (cells.size() + 1 == offers.size()) {
    if (left != 0 && (left < offer.least || left > offer.most)) return;
    if (left == 0 && offer.least > 0) return;
    cells.push_back(left);
    take(cells);
    cells.pop_back();
    return;
  }
  int here = std::min(left, offer.most);
  for (; here > 0 && here >= offer.least; here -= step) {
    cells.push_back(here);
    share(offers, left - here, step, cells, take);
    cells.pop_back();
  }
  if (offer.least > 0) return;
  cells.push_back(0);
  share(offers, left, step, cells, take);
  cells.pop_back();
}

}  // namespace

Offer offer_of(const std::vector<box::Box>& boxes, int cells) {
  Offer offer;
  offer.most = cells;
  offer.boxes = static_cast<int>(boxes.size());
  double kg = 0, x = 0, y = 0, z = 0;
  for (const box::Box& box : boxes) {
    const double mass_kg = box.mass_full.value();
    kg += mass_kg;
    x += mass_kg * box.centre_of_gravity.x.mm();
    y += mass_kg * box.centre_of_gravity.y.mm();
    z += mass_kg * box.centre_of_gravity.z.mm();
  }
  if (kg <= 0 || cells <= 0) return offer;
  offer.kg_per_cell = kg / cells;
  offer.x_mm = x / kg;
  offer.y_mm = y / kg;
  offer.z_mm = z / kg;
  return offer;
}

void for_each_split(const std::vector<Offer>& offers, int cells, int step, const std::function<void(const std::vector<int>&)>& take) {
  std::vector<int> chosen;
  if (!offers.empty()) share(offers, cells, step, chosen, take);
}

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
