#include "read_parts.hpp"

namespace cellstow::survey {
namespace {

constexpr Range volt_range = at_least_zero(2000);
constexpr Range current_range = above_zero(10'000);

std::optional<Volt> read_volts(const Node& node) {
  return read_as<Volt>(node, Kind::voltage, volt_range);
}

std::optional<Ampere> read_current(const Node& node) {
  return read_as<Ampere>(node, Kind::current, current_range);
}

void read_window(const Fields& fields, VoltRange& range) {
  const std::size_t before = fields.node().log->size();
  set_needed(fields, "min_v", range.min, read_volts);
  set_needed(fields, "max_v", range.max, read_volts);
  if (fields.node().log->size() == before)
    check_order(fields.node(), "min_v", range.min.value(), "max_v", range.max.value(), "V");
}

std::optional<VoltRange> read_volt_range(const Node& node) {
  const auto fields = Fields::of(node, "volt_range");
  if (!fields) return {};
  VoltRange range;
  read_window(*fields, range);
  return range;
}

std::optional<Controller> read_controller(const Node& node) {
  const auto fields = Fields::of(node, "controller");
  if (!fields) return {};
  Controller controller;
  read_window(*fields, controller.volts);
  set(*fields, "peak_a", controller.peak, read_current);
  return controller;
}

/// A count, or "as_many".
std::optional<std::optional<int>> read_series(const Node& node) {
  if (node.json->is_string()) {
    static constexpr std::string_view words[] = {"as_many"};
    if (!read_word(node, words)) return {};
    return std::optional<int>{};
  }
  const auto count = read_whole(node, 1, 1000);
  if (!count) return {};
  return std::optional<int>(count);
}

}  // namespace

std::optional<StringSpec> read_string(const Node& node) {
  const auto fields = Fields::of(node, "string");
  if (!fields) return {};
  StringSpec spec;
  set(*fields, "series", spec.series, read_series);
  set(*fields, "parallel", spec.parallel, [](const Node& n) { return read_whole(n, 1, 100); });
  set(*fields, "controller", spec.controller, read_controller);
  set(*fields, "charger", spec.charger, read_volt_range);
  set(*fields, "converter", spec.converter, read_volt_range);
  set(*fields, "continuous_a", spec.continuous, read_current);
  set(*fields, "consumption_wh_per_km", spec.consumption,
      [](const Node& n) { return read_as<WattHourPerKm>(n, Kind::consumption, above_zero(5000)); });
  set(*fields, "cable_route_mm", spec.cable_route, read_size_or_zero);
  return spec;
}

}  // namespace cellstow::survey
