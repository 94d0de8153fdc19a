#include "cellstow/packing/layout.hpp"

#include <algorithm>
#include <cctype>

namespace cellstow::packing {

bool is_fuse(const PlacedFitting& fitting) {
  std::string name = fitting.name;
  std::transform(name.begin(), name.end(), name.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return name.find("fuse") != std::string::npos;
}

}  // namespace cellstow::packing
