#pragma once
/// The rules by number, and what was found about them.

#include <array>
#include <string>
#include <vector>

#include "cellstow/audit/audit.hpp"
#include "plan_file.hpp"

namespace cellstow::audit {

/// Numbers as in docs/legal-layout.md.
enum class Rule {
  outline_shape = 1,
  sideways,
  below,
  above,
  keep_outs,
  outline_kind,
  box_count,
  boxes_apart,
  inside_walls,
  above_floor,
  headroom,
  corner_relief,
  fittings_present,
  fittings_clear,
  fuse_reach,
  stance,
  block_size,
  cells_in_line,
  block_cells,
  block_gap,
  tiers,
  rows,
  cells_apart,
  counts,
  bound,
  wanted,
  string,
  balance_sums,
  balance_moments,
  checks_true,
  string_order,
  post_places,
  link_ends,
  piece_volts,
};
inline constexpr int rule_count = 34;

/// "R2 clearance sideways"
std::string rule_name(Rule rule);

/// Collects violations and what was looked at, in the order of the rules at the end.
class Findings {
 public:
  void violated(Rule rule, std::string where, std::string detail);
  /// One more thing was held against the rule.
  void looked_at(Rule rule, int times = 1) { looked_[static_cast<std::size_t>(rule)] += times; }
  /// Said once, however often it is given.
  void not_checked(std::string what);
  bool has(Rule rule) const;
  AuditReport report() const;

 private:
  std::array<int, rule_count + 1> looked_{};
  std::vector<std::pair<Rule, Violation>> violations_;
  std::vector<std::string> not_checked_;
};

/// Millimetres to the micrometre, without trailing zeros: "9.999 mm".
std::string told_mm(double mm);
inline std::string told(Tick ticks) { return told_mm(to_mm(ticks)); }

}  // namespace cellstow::audit
