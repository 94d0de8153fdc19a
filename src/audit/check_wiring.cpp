/// R31 to R34: order, posts, links and pieces of the string, from the plan file alone.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <tuple>

#include "checks.hpp"

namespace cellstow::audit {
namespace {

constexpr double place_rounding_mm = 0.0025;  // centres are rounded to half a micrometre, those of turned boxes to one
constexpr double length_rounding_mm = 0.006;
constexpr double volt_rounding = 1e-3;

std::string cell_words(int number) { return "cell " + std::to_string(number) + " of the string"; }

struct Placed { const Box* box; const Cell* cell; };
using Places = std::map<std::tuple<std::string, int, int>, Placed>;

Places placed_cells(const Plan& plan, const WiringFile& file) {
  Places out;
  for (std::size_t c = 0; c < plan.cavities.size() && c < file.marks.size(); ++c) {
    for (std::size_t b = 0; b < plan.cavities[c].boxes.size() && b < file.marks[c].size(); ++b) {
      const Box& box = plan.cavities[c].boxes[b];
      for (const Cell& cell : box.cells) out[{file.marks[c][b], cell.block, cell.place}] = {&box, &cell};
    }
  }
  return out;
}

void check_order(const WiringFile& file, const Places& places, Findings& findings) {
  std::set<std::tuple<std::string, int, int>> seen;
  for (std::size_t i = 0; i < file.order.size(); ++i) {
    const OrderedCell& cell = file.order[i];
    findings.looked_at(Rule::string_order);
    const int number = static_cast<int>(i) + 1;
    if (cell.number != number) findings.violated(Rule::string_order, cell_words(number), fmt::format("is called {}", cell.number));
    const int group = static_cast<int>(i) / file.parallel + 1;
    if (cell.group != group) findings.violated(Rule::string_order, cell_words(number), fmt::format("in group {}, its place gives {}", cell.group, group));
    const auto key = std::tuple(cell.box, cell.block, cell.place);
    if (!places.contains(key)) findings.violated(Rule::string_order, cell_words(number), "no cell stands at its box, block and place");
    if (!seen.insert(key).second) findings.violated(Rule::string_order, cell_words(number), "its place comes twice");
  }
  if (seen.size() < places.size()) {
    findings.violated(Rule::string_order, "string", fmt::format("{} cells are placed, {} are in the string", places.size(), seen.size()));
  }
}

/// Posts in the frame of the box, then turned into the car's.
Point post(const Box& box, const Cell& cell, Run runs, const OrderedCell& order, Pole pole, double offset_mm) {
  const bool along_u = runs == Run::u;
  Point at{};
  for (int axis = 0; axis < 3; ++axis) at[static_cast<std::size_t>(axis)] = to_mm(cell.body.low[axis] + cell.body.high[axis]) / 2;
  const std::size_t across = along_u ? 1 : 0, along = along_u ? 0 : 1;
  if (order.posts == Posts::up) {
    at[2] = to_mm(cell.body.high[2]);
  } else {
    at[across] = to_mm(order.posts == Posts::rising ? cell.body.high[across] : cell.body.low[across]);
  }
  const std::size_t line = cell.stance == Stance::upright ? across : cell.stance == Stance::on_edge ? 2 : along;
  at[line] += (pole == Pole::plus) != order.turned ? offset_mm : -offset_mm;
  const double angle = box.heading_deg * std::numbers::pi / 180;
  return {at[0] * std::cos(angle) - at[1] * std::sin(angle), at[0] * std::sin(angle) + at[1] * std::cos(angle), at[2]};
}

double distance(const Point& a, const Point& b) {
  return std::sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]) + (a[2] - b[2]) * (a[2] - b[2]));
}

void check_posts(const WiringFile& file, const Places& places, Findings& findings) {
  for (const OrderedCell& order : file.order) {
    const auto found = places.find({order.box, order.block, order.place});
    if (found == places.end()) continue;
    const auto& [box, cell] = found->second;
    const int id = cell->block;
    const auto block = std::find_if(box->blocks.begin(), box->blocks.end(), [&](const Block& b) { return b.id == id; });
    if (block == box->blocks.end()) continue;
    findings.looked_at(Rule::post_places);
    if ((cell->stance == Stance::upright) != (order.posts == Posts::up)) {
      findings.violated(Rule::post_places, cell_words(order.number), "posts look up only from cells that stand upright");
      continue;
    }
    for (const Pole pole : {Pole::plus, Pole::minus}) {
      const double off = distance(post(*box, *cell, block->runs, order, pole, file.offset_mm), pole == Pole::plus ? order.plus : order.minus);
      if (off <= place_rounding_mm) continue;
      findings.violated(Rule::post_places, cell_words(order.number), fmt::format("{} post is {} from where its cell has it", pole == Pole::plus ? "positive" : "negative", told_mm(off)));
    }
  }
}

/// What every two cells that follow each other need: one join between groups, two inside a group.
std::set<std::tuple<int, int, Pole, Pole>> joins_wanted(const WiringFile& file) {
  std::set<std::tuple<int, int, Pole, Pole>> out;
  for (std::size_t i = 1; i < file.order.size(); ++i) {
    const int from = static_cast<int>(i), to = from + 1;
    if (from % file.parallel == 0) {
      out.insert({from, to, Pole::plus, Pole::minus});
    } else {
      out.insert({from, to, Pole::plus, Pole::plus});
      out.insert({from, to, Pole::minus, Pole::minus});
    }
  }
  return out;
}

void check_length(const WiringFile& file, const LinkLine& link, Findings& findings) {
  const OrderedCell &from = file.order[static_cast<std::size_t>(link.from) - 1], &to = file.order[static_cast<std::size_t>(link.to) - 1];
  const std::string where = fmt::format("link {}", link.number);
  if ((from.box != to.box) != (link.join == Join::cable)) {
    findings.violated(Rule::link_ends, where, "a cable joins two boxes, and nothing else does");
    return;
  }
  if (link.join == Join::cable || !link.centre_mm) return;
  const double apart = distance(link.from_pole == Pole::plus ? from.plus : from.minus, link.to_pole == Pole::plus ? to.plus : to.minus);
  if (std::abs(apart - *link.centre_mm) > length_rounding_mm) {
    findings.violated(Rule::link_ends, where, fmt::format("{} given, its posts are {} apart", told_mm(*link.centre_mm), told_mm(apart)));
  }
  const auto kind = std::find_if(file.kinds.begin(), file.kinds.end(), [&](const KindLine& k) { return link.kind && k.kind == *link.kind; });
  if (link.join == Join::link && (kind == file.kinds.end() || std::abs(kind->centre_mm - *link.centre_mm) > 0.5 + length_rounding_mm)) {
    findings.violated(Rule::link_ends, where, "its kind has another centre distance");
  }
}

void check_links(const WiringFile& file, Findings& findings) {
  std::set<std::tuple<int, int, Pole, Pole>> wanted = joins_wanted(file);
  std::map<std::string, int> counted;
  for (const LinkLine& link : file.links) {
    findings.looked_at(Rule::link_ends);
    if (wanted.erase({link.from, link.to, link.from_pole, link.to_pole}) == 0) {
      findings.violated(Rule::link_ends, fmt::format("link {}", link.number), "joins posts that do not follow each other, or twice, or with the wrong sign");
      continue;
    }
    if (link.kind) ++counted[*link.kind];
    check_length(file, link, findings);
  }
  for (const auto& [from, to, from_pole, to_pole] : wanted) {
    findings.violated(Rule::link_ends, cell_words(from), fmt::format("no link to cell {}", to));
  }
  for (const KindLine& kind : file.kinds) {
    if (counted[kind.kind] == kind.count) continue;
    findings.violated(Rule::link_ends, "kind " + kind.kind, fmt::format("{} off given, {} in the string", kind.count, counted[kind.kind]));
  }
}

/// Volts of every piece, counted anew from where the removable links are.
void check_pieces(const Plan& plan, const WiringFile& file, Findings& findings) {
  if (!file.cell_max_v || !file.open_link_max_v || file.order.empty()) return;
  std::vector<int> ends;
  for (const LinkLine& link : file.links) {
    if (link.removable && link.from_pole != link.to_pole) ends.push_back(file.order[static_cast<std::size_t>(std::clamp<int>(link.from, 1, static_cast<int>(file.order.size()))) - 1].group);
    if (!link.string_max_v || link.from < 1 || link.from > static_cast<int>(file.order.size())) continue;
    const double volts = file.order[static_cast<std::size_t>(link.from) - 1].group * *file.cell_max_v;
    if (std::abs(*link.string_max_v - volts) > volt_rounding) findings.violated(Rule::piece_volts, fmt::format("link {}", link.number), fmt::format("{:.3f} V given, the cells up to it make {:.3f} V", *link.string_max_v, volts));
  }
  ends.push_back(file.order.back().group);
  if (file.pieces.size() != ends.size()) findings.violated(Rule::piece_volts, "string", fmt::format("{} pieces given, {} counted", file.pieces.size(), ends.size()));
  for (std::size_t i = 0; i < ends.size(); ++i) {
    findings.looked_at(Rule::piece_volts);
    const int first = i == 0 ? 1 : ends[i - 1] + 1;
    const double volts = (ends[i] - first + 1) * *file.cell_max_v;
    const std::string where = fmt::format("cells of groups {} to {}", first, ends[i]);
    if (volts > *file.open_link_max_v + volt_rounding && !failing_check_mentions(plan, "removable links out")) {
      findings.violated(Rule::piece_volts, where, fmt::format("{:.3f} V with the removable links out, {:.3f} V allowed", volts, *file.open_link_max_v));
    }
    if (i >= file.pieces.size()) continue;
    const PieceLine& piece = file.pieces[i];
    if (piece.first_group != first || piece.last_group != ends[i] || std::abs(piece.max_v.value_or(volts) - volts) > volt_rounding) {
      findings.violated(Rule::piece_volts, where, fmt::format("given as groups {} to {} with {:.3f} V", piece.first_group, piece.last_group, piece.max_v.value_or(0)));
    }
  }
}

}  // namespace

void check_wiring(const Plan& plan, Findings& findings) {
  const std::optional<WiringFile>& file = plan.wiring;
  if (!file) {
    if (plan.has_string) findings.not_checked("order and links of the string: the plan gives none");
    return;
  }
  const Places places = placed_cells(plan, *file);
  check_order(*file, places, findings);
  check_posts(*file, places, findings);
  check_links(*file, findings);
  check_pieces(plan, *file, findings);
}

}  // namespace cellstow::audit
