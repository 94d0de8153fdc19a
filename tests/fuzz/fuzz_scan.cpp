#include <cstddef>
#include <cstdint>

#include "entries.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  cellstow::fuzz::scan({reinterpret_cast<const char*>(bytes), size});
  return 0;
}
