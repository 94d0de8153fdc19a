#include <cmath>

#include "report/html.hpp"
#include "report/page_drawings.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

Table limits_table(const wiring::CountWindow& window) {
  Table out{{"sets", "device", "why", "cells in series"}, {}};
  for (const wiring::CountLimit& limit : window.lowest_by) {
    out.rows.push_back({"lowest count", limit.device, limit.why, std::to_string(limit.count)});
  }
  for (const wiring::CountLimit& limit : window.highest_by) {
    out.rows.push_back({"highest count", limit.device, limit.why, std::to_string(limit.count)});
  }
  return out;
}

std::string string_part(const plan::Plan& plan) {
  if (!plan.string) return {};
  const wiring::StringResult& s = *plan.string;
  std::string out = element("h3", "String");
  out += element("p", std::to_string(s.series) + " in series" + (s.parallel > 1 ? ", " + std::to_string(s.parallel) + " side by side" : "") +
                          ": " + number(s.min_v) + " V empty, " + number(s.nominal_v) + " V nominal, " + number(s.max_v) + " V at the cells' highest.");
  if (const std::optional<Drawing> window = window_drawing(plan)) out += figure(*window, false);
  out += html_table(limits_table(s.window), {3}, "What the drive allows");
  return out + html_list(s.cautions, "cautions") + html_list(s.notes);
}

Table ride_table(const balance::Balance& balance) {
  Table out{{"state", "front, mm", "rear, mm"}, {}};
  const auto move = [](double mm) {
    if (!std::isfinite(mm)) return std::string("not known");
    return number(std::abs(mm), 0) + (mm < 0 ? " down" : " up");
  };
  for (const balance::RideChange& ride : balance.ride) {
    out.rows.push_back({state_name(ride.state), move(ride.front_mm), move(ride.rear_mm)});
  }
  return out;
}

std::string balance_part(const survey::Job& job, const plan::Plan& plan) {
  if (!plan.balance || plan.balance->states.empty()) return {};
  const balance::Balance& b = *plan.balance;
  std::string out = element("h3", "Weight and balance");
  const Table all = weights(job, plan);
  out += html_table(columns(all, {0, 1, 2, 3, 4, 5, 6, 7}), {1, 2, 3, 4, 5, 6, 7}, "Weights");
  Table shares = columns(all, {0, 8, 9, 10, 11, 12, 13});
  if (shares.rows.size() > b.states.size()) shares.rows.resize(b.states.size());
  out += html_table(shares, {1, 2, 3, 4, 5, 6}, "Shares and centre of gravity");
  out += element("p", "Kerb mass changes by " + fixed(b.kerb_mass_change * 100) + " %, the front axle's share by " +
                          fixed(b.front_share_change_points) + " points. Cross share: front left and rear right over the total.");
  out += html_table(ride_table(b), {1, 2}, "Ride height against the car as it came");
  return out + html_list(b.cautions, "cautions") + html_list(b.notes);
}

}  // namespace

std::string page_balance(const survey::Job& job, const plan::Plan& plan) {
  const std::string body = string_part(plan) + balance_part(job, plan);
  const std::string shared = plan.splits.size() < 2 ? "" : element("h3", "Ways of sharing the cells among the cavities") +
                             html_table(splits(job, plan), {});
  if (body.empty() && shared.empty()) return {};
  return "<section>\n" + element("h2", "String and weights") + body + shared + "</section>\n";
}

}  // namespace cellstow::report
