#include <algorithm>
#include <cmath>

#include "report/html.hpp"
#include "report/split_parts.hpp"
#include "report/text.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

using choosing::Move;
using choosing::SplitRow;
using choosing::SplitStudy;

/// More rows than this nobody reads; the rest stands in a file.
constexpr std::size_t most_rows = 40;

std::string mark_of(const SplitRow& row) { return row.chosen ? "chosen" : row.best ? "best" : ""; }

/// Those to print: all when few; else as planned, the best ones, and others at even steps.
Table shown_rows(const SplitStudy& study) {
  Table all = split_table(study);
  if (all.rows.size() <= most_rows) return all;
  const std::size_t step = (all.rows.size() + most_rows - 1) / most_rows;
  Table out{all.head, {}};
  std::size_t best = 0;
  for (std::size_t i = 0; i < all.rows.size(); ++i) {
    const SplitRow& row = study.rows[i];
    if (row.chosen || i % step == 0 || (row.best && ++best <= most_rows / 2)) out.rows.push_back(all.rows[i]);
  }
  return out;
}

std::string metres_way(double mm) { return mm > 0 ? "rearward" : "forward"; }

std::string per_cell_sentence(const SplitStudy& study, const choosing::PerCell& one) {
  const double points = one.share_points;
  return "Each cell moved from " + study.cavities[one.from] + " to " + study.cavities[one.to] + " " + (points < 0 ? "takes " : "adds ") +
         fixed(std::abs(points), 2) + " points " + (points < 0 ? "off" : "to") + " the front share (" + number(study.offers[one.to].kg_per_cell, 1) +
         " kg with its part of the box, " + number(std::abs(study.offers[one.to].x_mm - study.offers[one.from].x_mm), 0) + " mm along the car).";
}

std::string counts_sentence(const SplitStudy& study) {
  const auto as_many = [&](const SplitRow& row) { return row.total == study.cells; };
  const auto ways = std::count_if(study.rows.begin(), study.rows.end(), as_many);
  const auto good = std::count_if(study.rows.begin(), study.rows.end(), [&](const SplitRow& row) { return as_many(row) && row.within_limits && row.meets_target; });
  const auto keep = std::count_if(study.rows.begin(), study.rows.end(), [&](const SplitRow& row) { return as_many(row) && row.within_limits; });
  std::string out = count(study.cells, "cell") + " can be split among the cavities in " + count(static_cast<int>(ways), "way");
  if (study.step > 1) out += ", counted in steps of " + std::to_string(study.step) + " cells";
  out += "; the axle limits hold in " + std::to_string(keep) + " of them";
  if (study.target) out += ", and the front share wanted (" + number(100 * study.target->min) + " to " + number(100 * study.target->max) + " %) in " + std::to_string(good) + " of those";
  const int fewer = static_cast<int>(study.rows.size()) - static_cast<int>(ways);
  if (fewer > 0) out += ". With fewer cells, down to " + std::to_string(study.rows.back().total) + " of those the drive allows, there are " + count(fewer, "more way", "more ways");
  return out + ".";
}

std::string split_part(const SplitStudy& study, const std::string& more) {
  std::string out = element("p", counts_sentence(study));
  for (const choosing::PerCell& one : study.per_cell) out += element("p", per_cell_sentence(study, one));
  if (study.rows.size() < 2) return out;
  if (const auto drawing = split_drawing(study)) out += figure(*drawing, false);
  const Table rows = shown_rows(study);
  std::vector<std::size_t> numbers(rows.head.size() - 1);
  for (std::size_t i = 0; i < numbers.size(); ++i) numbers[i] = i;
  out += "<div class=\"wide\">" + html_table(rows, numbers, "Ways of splitting, weighed. Best: no other is better in one of limits, target, cells, boxes and height, and no worse in the rest") + "</div>\n";
  if (rows.rows.size() < study.rows.size()) out += element("p", "Not all are shown; all " + std::to_string(study.rows.size()) + " stand in " + more + ".");
  return out + element("p", "A cavity that is not filled is counted in proportion to its cells, at the place of its box: plan again with the split you choose.", "source");
}

Table needed_moves(const std::vector<Move>& moves) {
  Table out{{"move only this", "mass, kg", "now at x, mm", "by, mm", "which way", "then at x, mm", "remark"}, {}};
  for (const Move& move : moves) {
    out.rows.push_back({move.what, number(move.mass_kg), number(move.x_mm, 0), number(std::abs(move.by_mm), 0), metres_way(move.by_mm), number(move.to_x_mm, 0),
                        move.beyond_wheelbase ? "longer than the wheelbase: no way out" : ""});
  }
  return out;
}

Table room_to_move(const std::vector<Move>& moves, double wheelbase_mm) {
  Table out{{"may be moved alone", "mass, kg", "now at x, mm", "forward by at most, mm", "rearward by at most, mm"}, {}};
  const auto mm = [&](double value) { return std::isfinite(value) && value < wheelbase_mm ? number(std::floor(value), 0) : std::string("any way"); };
  for (const Move& move : moves) out.rows.push_back({move.what, number(move.mass_kg), number(move.x_mm, 0), mm(move.forward_mm), mm(move.rearward_mm)});
  return out;
}

std::string moves_part(const SplitStudy& study) {
  if (!study.window.any) return element("h3", "What moving one thing would do") + element("p", "Neither a front share wanted nor axle limits are given: nothing to hold it against.");
  std::string out = element("h3", "What moving one thing would do");
  if (study.window.empty()) {
    return out + element("p", "No shift alone does it: the front axle would have to change by at least " + fixed(study.window.low_kg) + " kg (" + study.window.low_by + ") and by at most " +
                                  fixed(study.window.high_kg) + " kg (" + study.window.high_by + "). Mass has to come out, or the target has to give.");
  }
  if (study.window.holds_zero()) {
    out += element("p", "As planned, front share and axle limits hold. How far each thing may move along the car, all else staying, before one of them does not:");
    return out + html_table(room_to_move(study.moves, study.wheelbase_mm), {1, 2, 3, 4});
  }
  const bool lighten = study.window.high_kg < 0;
  out += element("p", "The front axle has to become " + fixed(std::abs(lighten ? study.window.high_kg : study.window.low_kg)) + " kg " + (lighten ? "lighter" : "heavier") + " (" +
                          (lighten ? study.window.high_by : study.window.low_by) + "). Any one of these moves does it:");
  return out + html_table(needed_moves(study.moves), {1, 2, 3, 5});
}

std::string load_part(const SplitStudy& study) {
  if (study.load_left.empty()) return {};
  Table table{{"state", "left under the gross limit, kg", "more people of 75 kg that go into it"}, {}};
  for (const choosing::LoadLeft& left : study.load_left) table.rows.push_back({state_name(left.state), fixed(left.kg), left.kg < 0 ? "over" : std::to_string(left.people)});
  return element("h3", "Load left") + html_table(table, {1, 2});
}

std::string attitude_part(const SplitStudy& study) {
  if (!study.attitude) return {};
  const choosing::Attitude& a = *study.attitude;
  const auto rise = [](double mm) { return number(std::abs(mm), 0) + " mm " + (mm < 0 ? "lower" : "higher"); };
  return element("h3", "How it stands") +
         element("p", "Nobody in the car: " + rise(a.front_mm) + " in front, " + rise(a.rear_mm) + " behind; the nose " + fixed(std::abs(a.nose_up_deg), 2) + "° " +
                          (a.nose_up_deg < 0 ? "down" : "up") + ". The headlamp beam is " + rise(a.beam_mm_at_10_m) + " at 10 m: have the headlamps set again.");
}

std::string rules_part(const SplitStudy& study) {
  if (study.change_checks.empty()) return {};
  Table table{{"holds", "rule, if it applies", "where it is met", "comes to", "limit", "source", "how well known"}, {}};
  for (std::size_t i = 0; i < study.change_checks.size(); ++i) {
    const core::Check& check = study.change_checks[i];
    const std::string rule = check.name.substr(0, check.name.rfind(", if this rule applies"));
    table.rows.push_back({check.ok ? "yes" : "NO", rule, check.where, fixed(check.value) + " " + check.unit, number(check.limit) + " " + check.unit, check.source, study.change_status[i]});
  }
  return element("h3", "Rules on mass and balance, if they apply") + element("p", "Whether a rule applies to this car, and how it is read, is told by the registering authority.") +
         html_table(table, {3, 4}, {}, "rules");
}

}  // namespace

Table split_table(const SplitStudy& study) {
  Table out{{"cells"}, {}};
  for (const std::string& cavity : study.cavities) out.head.push_back(cavity + ", cells");
  for (const char* head : {"boxes", "boxes, kg", "front share, driver only, %", "wanted share met", "centre of gravity, height, mm", "front axle, all seats, kg", "rear axle, all seats, kg",
                           "least in hand under an axle limit, kg", "standing"}) {
    out.head.push_back(head);
  }
  for (const SplitRow& row : study.rows) {
    std::vector<std::string> fields{std::to_string(row.total)};
    for (const int cells : row.cells) fields.push_back(std::to_string(cells));
    fields.insert(fields.end(), {std::to_string(row.boxes), fixed(row.boxes_kg), fixed(100 * row.front_share), study.target ? (row.meets_target ? "yes" : "no") : "",
                                 row.cg_height_mm ? number(*row.cg_height_mm, 0) : "not known", fixed(row.front_full_kg), fixed(row.rear_full_kg),
                                 row.axle_in_hand_kg ? fixed(*row.axle_in_hand_kg) : "not known", mark_of(row)});
    out.rows.push_back(std::move(fields));
  }
  return out;
}

std::string page_splits(const SplitStudy& study, const std::string& more) {
  return "<section class=\"part\">\n" + element("h2", "Splitting the cells") + split_part(study, more) + moves_part(study) + load_part(study) + attitude_part(study) + rules_part(study) +
         html_list(study.notes) + "</section>\n";
}

}  // namespace cellstow::report
