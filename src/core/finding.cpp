#include "cellstow/core/finding.hpp"

#include <algorithm>
#include <limits>
#include <tuple>
#include <utility>

namespace cellstow::core {
namespace {

double share(double part, double whole) {
  if (whole > 0) return part / whole;
  return part > 0 ? std::numeric_limits<double>::max() : 0.0;
}

Check finish(Check check, std::string cure) {
  if (!check.ok) check.cure = std::move(cure);
  return check;
}

}  // namespace

Check check_at_most(std::string name, std::string where, double value, double limit,
                    std::string unit, std::string source, std::string cure) {
  return finish({std::move(name), std::move(where), value, limit, std::move(unit),
                 share(value, limit), value <= limit, std::move(source), {}},
                std::move(cure));
}

Check check_at_least(std::string name, std::string where, double value, double limit,
                     std::string unit, std::string source, std::string cure) {
  return finish({std::move(name), std::move(where), value, limit, std::move(unit),
                 share(limit, value), value >= limit, std::move(source), {}},
                std::move(cure));
}

void sort_worst_first(std::vector<Check>& checks) {
  std::stable_sort(checks.begin(), checks.end(), [](const Check& left, const Check& right) {
    return std::tuple(left.ok, -left.use, left.name, left.where) <
           std::tuple(right.ok, -right.use, right.name, right.where);
  });
}

}  // namespace cellstow::core
