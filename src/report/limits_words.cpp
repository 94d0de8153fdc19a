#include "report/limits_words.hpp"

#include <algorithm>

#include "report/text.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

using limits::ChangeKind;
using limits::Limit;

std::string named(const Limit& limit) {
  return limit.where.empty() ? limit.what : limit.what + " (" + limit.where + ")";
}

/// "8.1 mm further out; a smaller change may do", "4.7 mm less, 1.3 mm left", "not there".
std::string change_text(const Limit& limit, const std::optional<limits::Enough>& enough) {
  if (limit.all_or_nothing) return limit.how;
  if (!enough) return "-";
  std::string out = mm_text(enough->change) + " mm " + limit.how;
  if (limit.now > core::Length{}) out += ", " + mm_text(std::max(core::Length{}, limit.now - enough->change)) + " mm left";
  return out + (enough->least ? "" : "; a smaller change may do");
}

std::string more_cells(int cells) { return count(cells, "more cell"); }

std::string thing(const Limit& limit) {
  if (limit.kind == ChangeKind::wall) return limit.what + " " + limit.where + " (" + limit.how + ")";
  if (limit.all_or_nothing && limit.kind == ChangeKind::rule) return limit.what + ": " + limit.how;
  if (limit.kind == ChangeKind::rule) return limit.what;
  return limit.what + " (" + limit.how + ")";
}

/// Walls of one name together: an arc of a drawing alone is half a dozen of them. Each stands in lists/limits.csv.
std::string listed(const std::vector<Limit>& all, bool (*wanted)(const Limit&)) {
  struct Group { std::string name, first; int count = 0; };
  std::vector<Group> groups;
  for (const Limit& limit : all) {
    if (limit.most != 0 || !wanted(limit)) continue;
    const std::string name = limit.kind == ChangeKind::wall ? limit.what + " (" + limit.how + ")" : thing(limit);
    const auto known = std::find_if(groups.begin(), groups.end(), [&](const Group& group) { return group.name == name; });
    if (known == groups.end()) groups.push_back({name, thing(limit), 1});
    else ++known->count;
  }
  std::string out;
  for (const Group& group : groups)
    out += (out.empty() ? "" : "; ") + (group.count == 1 ? group.first : group.name + " at " + std::to_string(group.count) + " places");
  return out;
}

std::string place_words(survey::FittingPlace place) {
  switch (place) {
    case survey::FittingPlace::beside: return "beside the blocks";
    case survey::FittingPlace::above: return "on a shelf above the blocks";
    case survey::FittingPlace::wall: return "in a pod outside the box, if there is room for one";
  }
  return "";
}

std::string fitting_line(const limits::FittingPlaceCost& fitting) {
  std::string out = fitting.fitting + " " + place_words(fitting.place) + ": ";
  if (!fitting.finds_place) return out + "no place found";
  if (fitting.cells == 0) return out + "as many cells as now";
  return out + (fitting.cells > 0 ? more_cells(fitting.cells) : count(-fitting.cells, "cell fewer", "cells fewer"));
}

}  // namespace

std::string worth_text(int cells, const limits::CellWorth& worth) {
  if (cells == 0) return "nothing";
  std::string out = count(cells, "cell") + ": ";
  if (worth.kwh) out += number(cells * *worth.kwh) + " kWh, ";
  if (worth.km) out += number(cells * *worth.km, 0) + " km, ";
  return out + number(cells * worth.kg) + " kg";
}

Table limits_table(const limits::CavityLimits& limits, const limits::CellWorth& worth) {
  Table out{{"what", "change", "gives", "a full row more", "all of it gives", "mind"}, {}};
  for (const Limit& limit : limits.limits) {
    if (limit.most == 0) continue;
    const std::string all = limit.all_or_nothing ? "" : limit.now > core::Length{} ? "down to nothing: " : mm_text(limit.largest) + " mm: ";
    out.rows.push_back({named(limit), change_text(limit, limit.more), more_cells(limit.more ? limit.more->cells : limit.most),
                        limit.full_row ? change_text(limit, limit.full_row) : "-", all + worth_text(limit.most, worth), limit.caution});
  }
  return out;
}

std::vector<std::string> limits_lines(const limits::CavityLimits& limits) {
  std::vector<std::string> lines;
  const auto add = [&](const std::string& head, const std::string& list) {
    if (!list.empty()) lines.push_back(head + list + ".");
  };
  add("Cost nothing, and it is sure that no cell is to be had from them: ", listed(limits.limits, [](const Limit& l) { return l.ruled_out; }));
  add("None found from these, at any floor height: ", listed(limits.limits, [](const Limit& l) { return l.looked == limits::Looked::everywhere && !l.ruled_out; }));
  add("None found from these with the box at the height it has now: ", listed(limits.limits, [](const Limit& l) { return l.looked == limits::Looked::here; }));
  add("Not looked at, to keep the time short: ", listed(limits.limits, [](const Limit& l) { return l.looked == limits::Looked::not_at_all; }));
  if (!lines.empty()) lines.push_back("Walls and keep-outs were moved by up to 100 mm, rules taken down to nothing.");
  for (const limits::FittingPlaceCost& fitting : limits.fittings) lines.push_back(fitting_line(fitting) + ".");
  lines.insert(lines.end(), limits.notes.begin(), limits.notes.end());
  return lines;
}

std::vector<std::string> fit_lines(const plan::CavityPlan& cavity) {
  std::vector<std::string> lines;
  for (const plan::BoxPlan& box : cavity.boxes) {
    if (!box.fit) continue;
    const limits::Fit& fit = *box.fit;
    std::string line = "Box " + box.box.mark + ": ";
    const std::string up_to = "nothing can touch it as long as every measured point is good to give or take " + mm_text(fit.nothing_touches_up_to) + " mm";
    if (fit.give_or_take <= core::Length{}) {
      lines.push_back(line + up_to + ". The job does not say how good they are.");
    } else if (fit.certain) {
      lines.push_back(line + "with give or take " + mm_text(fit.give_or_take) + " mm it goes in; " + up_to + ".");
    } else {
      const auto in_hundred = [](double share) { return number(100 * share); };
      line += "with give or take " + mm_text(fit.give_or_take) + " mm it goes in as cut about " + in_hundred(fit.chance.share) + " times in 100 (" +
              in_hundred(fit.chance.low) + " to " + in_hundred(fit.chance.high) + ", tried " + std::to_string(fit.samples) + " times).";
      if (fit.touches > 0) line += " Most often it touches the " + fit.touched_most + ".";
      if (!fit.shrink) line += " Making it up to 15 mm smaller all round does not make that 99: look at height and place.";
      if (fit.shrink && *fit.shrink > core::Length{}) {
        line += " " + mm_text(*fit.shrink) + " mm in on every side makes it 99";
        if (fit.cells_at_shrink) line += *fit.cells_at_shrink >= cavity.packing.cells ? ", and the cells still fit" : ", but then only " + count(*fit.cells_at_shrink, "cell fits", "cells fit") + " the cavity";
        line += ".";
      }
      lines.push_back(line);
    }
  }
  if (!lines.empty()) lines.push_back("Taken for this: every measured corner off by its give or take at most, in any direction in its section; stations exact; the box cut true and put where it is planned. The mock-up decides.");
  return lines;
}

Table all_limits(const plan::Plan& plan) {
  Table out{{"cavity", "what", "where", "change", "for more: mm", "for more: cells", "full row: mm", "full row: cells", "most: mm", "most: cells", "kWh", "km", "kg",
             "nothing and sure", "mind"}, {}};
  for (const plan::CavityPlan& cavity : plan.cavities) {
    if (!cavity.limits) continue;
    for (const Limit& limit : cavity.limits->limits) {
      const auto change = [](const auto& enough) { return enough ? mm_text(enough->change) : ""; };
      const auto cells = [](const auto& enough) { return enough ? std::to_string(enough->cells) : ""; };
      const auto times = [&](const std::optional<double>& each) { return each ? number(limit.most * *each) : ""; };
      out.rows.push_back({cavity.name, limit.what, limit.where, limit.how, change(limit.more), cells(limit.more),
                          change(limit.full_row), cells(limit.full_row), limit.all_or_nothing ? "" : mm_text(limit.largest),
                          std::to_string(limit.most), times(plan.per_cell.kwh), times(plan.per_cell.km), times(plan.per_cell.kg),
                          limit.ruled_out ? "yes" : "no", limit.caution});
    }
  }
  return out;
}

std::string striking_limit(const plan::Plan& plan) {
  constexpr double little_mm = 15, little_a_cell_mm = 5;
  if (plan.totals.spare_places > 0) return {};
  const Limit* best = nullptr;
  const plan::CavityPlan* where = nullptr;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    if (!cavity.limits) continue;
    for (const Limit& limit : cavity.limits->limits) {
      if (!limit.more || limit.more->change.mm() > little_mm || limit.more->cells < 2) continue;
      const auto each = [](const Limit& l) { return l.more->change.mm() / l.more->cells; };
      if (each(limit) > little_a_cell_mm || (best != nullptr && each(limit) >= each(*best))) continue;
      best = &limit;
      where = &cavity;
    }
  }
  if (best == nullptr) return {};
  return where->name + ": " + more_cells(best->more->cells) + " with " + best->what + " " + mm_text(best->more->change) + " mm " + best->how +
         (best->caution.empty() ? "" : " (" + best->caution + ")");
}

}  // namespace cellstow::report
