#include "cellstow/plan/offer.hpp"

#include <algorithm>

namespace cellstow::plan {
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

balance::Lump lump_of(const box::Box& box) {
  return {"box " + box.mark, box.mass_full, box.centre_of_gravity.x.mm(),
          box.centre_of_gravity.y.mm(), box.centre_of_gravity.z.mm()};
}

Offer offer_of(const std::vector<balance::Lump>& boxes, int cells) {
  Offer offer;
  offer.most = cells;
  offer.boxes = static_cast<int>(boxes.size());
  double kg = 0, x = 0, y = 0, z = 0;
  for (const balance::Lump& box : boxes) {
    const double mass_kg = box.mass.value();
    kg += mass_kg;
    x += mass_kg * box.x_mm;
    y += mass_kg * box.y_mm;
    z += mass_kg * box.z_mm;
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

}  // namespace cellstow::plan
