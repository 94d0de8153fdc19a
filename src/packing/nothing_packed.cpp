#include "cellstow/packing/nothing_packed.hpp"

namespace cellstow::packing {

CavityPacking nothing_packed(const survey::Cavity& cavity) {
  CavityPacking packing;
  for (const survey::Fitting& fitting : cavity.fittings)
    packing.fittings_without_place.insert(packing.fittings_without_place.end(), static_cast<std::size_t>(fitting.count), fitting.name);
  return packing;
}

}  // namespace cellstow::packing
