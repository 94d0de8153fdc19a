#include "entries.hpp"

#include "promises.hpp"

namespace cellstow::fuzz {

void list(std::string_view bytes) {
  for (const core::Axis across : {core::Axis::x, core::Axis::y, core::Axis::z}) {
    check(survey::outline_from_csv(bytes, "list.csv", {across, {}, {}, {}}));
    check(survey::outline_from_csv(bytes, "list.csv", {across, "330", "mm", core::Length::from_um(3'000)}));
  }
}

}  // namespace cellstow::fuzz
