#include "search.hpp"

#include <fmt/format.h>

#include <iterator>
#include <tuple>

namespace cellstow::limits {
namespace {

using core::Um;

/// Walls beyond this many, the longest first, are not tried one by one: an outline from a scan has hundreds.
constexpr std::size_t most_walls = 24;
constexpr std::size_t walls_before_rules = 6;
/// Answers fetched before the work done is counted again; fixed, so that the work allowed ends at the same place on any machine.
constexpr std::size_t batch = 4;
/// How far a keep-out moved along is tried: farther does not always give more.
constexpr Um moves_um[] = {30'000, 100'000};
/// Packings that took very long are not allowed for beyond this.
constexpr long long most_steps = 1'500'000;
constexpr Um tenth_um = 100;
constexpr double heights_share = 0.5, keep_outs_share = 0.7;

Change fitting_removal(const survey::Fitting& fitting) {
  Change change;
  change.kind = ChangeKind::fitting;
  change.what = fitting.name;
  change.how = "not there";
  change.all_or_nothing = true;
  change.apply = [name = fitting.name](const Situation& as_is, Length) {
    Situation changed = as_is;
    std::erase_if(changed.cavity.fittings, [&](const survey::Fitting& f) { return f.name == name; });
    return changed;
  };
  return change;
}

bool is_height(const Change& change) {
  return change.kind == ChangeKind::rule &&
         (change.what == "headroom over live metal" || change.what == "lid clearance" ||
          change.what == "lid thickness" || change.what == "floor thickness");
}

bool is_removal(const Change& change) {
  return change.all_or_nothing && (change.kind == ChangeKind::keep_out || change.kind == ChangeKind::fitting);
}

}  // namespace

Search::Search(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
               const packing::CavityPacking& packing, const LimitsOptions& options)
    : cavity_(cavity), rules_(rules), packing_(packing), options_(options) {
  prober_ = {{cavity, rules}, cell, packing.cells, packing.fittings_without_place.size(), options.probe_budget, options.stop};
  prober_.as_is.rules.arrangement = survey::Arrangement::rows;
  rows_only_ = rules.arrangement == survey::Arrangement::rows && rules.heading == survey::Heading::square &&
               rules.boxes_per_cavity == 1;
  options_.step_budget = std::max(options.step_budget, std::min(most_steps, options.times_packing * packing.steps));
  here_ = floor_of(packing);
  // What a row lacks is often what a wall must give; what counts on both sides of a box, or at both ends of each
  // block, need only give a part of it.
  for (std::size_t i = 0; i < packing.shortfalls.size() && i < 2; ++i) {
    const Um lacks = (packing.shortfalls[i].needed - packing.shortfalls[i].available).um();
    for (const Um share : {1, 2, 4}) add_hint(lacks / share);
  }
}

CavityLimits Search::run() {
  result_.cells = packing_.cells;
  result_.full_row = fullest_row(packing_);
  gather();
  Indices all(cases_.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
  if (here_) look(all, here_, 1);
  look_everywhere();
  keep_outs_closer();
  fitting_places();
  closer(those([](const Case& c) { return c.seen.more > 0 && !c.change.all_or_nothing; }));
  confirm();
  tell();
  return std::move(result_);
}

void Search::count(const Answer& answer) {
  result_.steps += answer.steps;
  result_.probes += answer.probes;
}

void Search::add_hint(Um hint) {
  if (hint > 0 && hint <= farthest_um && std::find(hints_.begin(), hints_.end(), hint) == hints_.end()) hints_.push_back(hint);
}

std::size_t Search::add(Change change) {
  Case c;
  c.limit.kind = change.kind;
  c.limit.what = change.what;
  c.limit.where = change.where;
  c.limit.how = change.how;
  c.limit.caution = change.caution;
  c.limit.now = change.now;
  c.limit.largest = c.tried = change.largest;
  c.limit.all_or_nothing = change.all_or_nothing;
  c.change = std::move(change);
  cases_.push_back(std::move(c));
  return cases_.size() - 1;
}

void Search::take(Case& c, const Answer& answer, Looked looked) {
  if (answer.more >= c.seen.more) c.seen = answer;
  c.limit.looked = std::max(c.limit.looked, looked);
  c.limit.most = c.seen.more;
  c.limit.ruled_out = looked == Looked::everywhere && answer.ruled_out && rows_only_;
}

Search::Indices Search::those(bool (*wanted)(const Case&)) const {
  Indices which;
  for (std::size_t i = 0; i < cases_.size(); ++i) {
    if (wanted(cases_[i])) which.push_back(i);
  }
  return which;
}

/// What there is to change, in the order in which work is spent on it.
void Search::gather() {
  for (Change& change : keep_out_removals(cavity_)) add(std::move(change));
  for (const survey::Fitting& fitting : cavity_.fittings) add(fitting_removal(fitting));
  std::vector<Change> walls = wall_changes(cavity_);
  if (walls.size() > most_walls) {
    result_.notes.push_back(fmt::format("{} shorter walls were not looked at", walls.size() - most_walls));
    walls.resize(most_walls);
  }
  const auto first = static_cast<std::ptrdiff_t>(std::min(walls_before_rules, walls.size()));
  std::vector<Change> shorter(std::make_move_iterator(walls.begin() + first), std::make_move_iterator(walls.end()));
  walls.resize(static_cast<std::size_t>(first));
  for (Change& change : walls) add(std::move(change));
  for (Change& change : rule_changes(cavity_, rules_)) add(std::move(change));
  for (Change& change : shorter) add(std::move(change));
}

/// Each at its largest change, at the floor height there is now or at all of them.
void Search::look(const Indices& which, const std::optional<Length>& floor, double share) {
  for (std::size_t from = 0; from < which.size() && work_left(share); from += batch) {
    const std::size_t to = std::min(from + batch, which.size());
    const auto answers = core::side_by_side(to - from, [&](std::size_t i) {
      const Case& c = cases_[which[from + i]];
      return prober_.most(c.change.apply(prober_.as_is, c.tried), floor);
    });
    for (std::size_t i = from; i < to; ++i) {
      count(answers[i - from]);
      take(cases_[which[i]], answers[i - from], floor ? Looked::here : Looked::everywhere);
    }
  }
}

/// All of them at once: where that gives nothing, none of them does.
void Search::look_together(const Indices& which) {
  if (which.size() < 2) return look(which, std::nullopt, heights_share);
  if (!work_left(heights_share)) return;
  Situation all = prober_.as_is;
  for (const std::size_t i : which) all = cases_[i].change.apply(all, cases_[i].tried);
  const Answer answer = prober_.most(all, std::nullopt);
  count(answer);
  if (answer.more > 0) return look(which, std::nullopt, heights_share);
  for (const std::size_t i : which) take(cases_[i], answer, Looked::everywhere);
}

/// At all floor heights: what gave nothing at the present one, and what things cost.
void Search::look_everywhere() {
  look(those([](const Case& c) { return is_removal(c.change) && c.seen.more > 0; }), std::nullopt, heights_share);
  look_together(those([](const Case& c) { return is_removal(c.change) && c.seen.more == 0; }));
  look_together(those([](const Case& c) { return is_height(c.change) && c.seen.more == 0; }));
  look(those([](const Case& c) { return !c.everywhere() && c.change.kind == ChangeKind::wall && c.seen.more == 0; }), std::nullopt, heights_share);
  look(those([](const Case& c) { return !c.everywhere() && c.change.kind == ChangeKind::rule && c.seen.more == 0; }), std::nullopt, heights_share);
}

// ---- keep-outs that cost something -----------------------------------------------

void Search::keep_outs_closer() {
  for (std::size_t k = 0; k < cavity_.keep_outs.size(); ++k) {
    const Case& gone = cases_[k];  // gather() puts the removals first
    if (gone.seen.more == 0) continue;
    std::vector<Change> moves;
    Indices shrinks;
    for (Change& change : keep_out_changes(cavity_, k, rules_)) {
      if (change.may_lose) {
        moves.push_back(std::move(change));
      } else {
        shrinks.push_back(add(std::move(change)));
      }
    }
    best_move(std::move(moves));
    look(shrinks, cases_[k].seen.found_at, keep_outs_share);
  }
}

/// Of the six directions only the best is told: the one that gives at the shorter way, then the one that gives most.
void Search::best_move(std::vector<Change> moves) {
  struct Try { Length by; std::optional<Length> floor; };
  std::vector<Try> tries;
  for (const Um by : moves_um) {
    for (const std::optional<Length>& floor : {here_, std::optional<Length>{}}) {
      if (floor || !here_ || by == farthest_um) tries.push_back({Length::from_um(by), floor});
    }
  }
  std::size_t tried = 0;
  for (const Try& t : tries) {
    if (!work_left(keep_outs_share)) break;
    ++tried;
    const auto answers = core::side_by_side(moves.size(), [&](std::size_t i) {
      return prober_.most(moves[i].apply(prober_.as_is, t.by), t.floor);
    });
    std::size_t best = 0;
    for (std::size_t i = 0; i < answers.size(); ++i) {
      count(answers[i]);
      if (answers[i].more > answers[best].more) best = i;
    }
    if (answers[best].more == 0) continue;
    Case& c = cases_[add(std::move(moves[best]))];
    c.tried = c.limit.largest = t.by;
    return take(c, answers[best], t.floor ? Looked::here : Looked::everywhere);
  }
  moves[0].how = "moved, any of six ways";
  cases_[add(std::move(moves[0]))].limit.looked =
      tried == 0 ? Looked::not_at_all : tried < tries.size() ? Looked::here : Looked::everywhere;
}

// ---- the least change ----------------------------------------------------------------

Enough Search::enough_for(const Case& c, int more, Length fails, Length floor, Answer& work) const {
  const bool follows = c.change.lowers_floor && here_ != floor;
  const Length by = least_amount(prober_, c.change, more, fails, c.tried, floor, follows, hints_, work);
  // What is told was packed at exactly the amount told, and holds what is told.
  const Answer told = prober_.most(c.change.apply(prober_.as_is, by), follows ? floor + c.tried - by : floor);
  work.steps += told.steps;
  work.probes += told.probes;
  return {by, told.more, by.um() <= tenth_um};
}

Search::Closer Search::look_closer(const Case& c) const {
  Closer closer;
  const Length floor = *c.seen.found_at;
  closer.more = enough_for(c, 1, Length{}, floor, closer.work);
  const int row = std::max(1, result_.full_row);
  if (closer.more->cells >= row) {
    closer.full_row = closer.more;
  } else if (c.seen.more >= row) {
    closer.full_row = enough_for(c, row, closer.more->change, floor, closer.work);
  }
  return closer;
}

/// At the floor height where each was found. Two at a time: what one needs is a hint for the next. This may take half as much work again as is
/// allowed; past that the rest is told as first seen.
void Search::closer(const Indices& which) {
  constexpr std::size_t at_once = 2;
  for (std::size_t from = 0; from < which.size(); from += at_once) {
    const std::size_t to = std::min(from + at_once, which.size());
    if (!work_left(1.5)) {
      for (std::size_t i = from; i < which.size(); ++i) {
        Case& c = cases_[which[i]];
        c.limit.more = Enough{c.tried, c.seen.more, false};
      }
      return;
    }
    const auto found = core::side_by_side(to - from, [&](std::size_t i) { return look_closer(cases_[which[from + i]]); });
    for (std::size_t i = from; i < to; ++i) {
      count(found[i - from].work);
      Limit& limit = cases_[which[i]].limit;
      limit.more = found[i - from].more;
      limit.full_row = found[i - from].full_row;
      limit.most = std::max(limit.most, limit.more->cells);
      add_hint(limit.more->change.um());
    }
  }
}

/// Would 0.1 mm less do at another floor height? Cheapest changes first; where it would, the least there is told.
void Search::confirm() {
  Indices which = those([](const Case& c) { return c.limit.more && !c.limit.more->least; });
  std::stable_sort(which.begin(), which.end(), [&](std::size_t a, std::size_t b) {
    return cases_[a].limit.more->change < cases_[b].limit.more->change;
  });
  for (std::size_t k = 0; k < which.size(); ++k) {
    Case& c = cases_[which[k]];
    for (int round = 0; round < 4 && !c.limit.more->least && work_left(); ++round) {
      const Length less = c.limit.more->change - Length::from_um(tenth_um);
      const Answer answer = prober_.holds(c.change.apply(prober_.as_is, less), 1, std::nullopt);
      count(answer);
      if (answer.more == 0) {
        c.limit.more->least = answer.ruled_out;
        break;
      }
      Case there = c;
      there.tried = less;
      Answer work;
      c.limit.more = enough_for(there, 1, Length{}, *answer.found_at, work);
      count(work);
    }
    const bool row_too = c.limit.more->cells >= std::max(1, result_.full_row);
    if (row_too && (!c.limit.full_row || c.limit.full_row->change > c.limit.more->change)) c.limit.full_row = c.limit.more;
  }
}

// ---- fittings in other places -----------------------------------------------------

void Search::fitting_places() {
  struct Place { std::size_t fitting; survey::FittingPlace place; };
  std::vector<Place> places;
  for (std::size_t i = 0; i < cavity_.fittings.size(); ++i) {
    for (const auto place : {survey::FittingPlace::beside, survey::FittingPlace::above, survey::FittingPlace::wall}) {
      if (place != cavity_.fittings[i].place) places.push_back({i, place});
    }
  }
  if (!work_left(keep_outs_share)) return;
  const auto found = core::side_by_side(places.size(), [&](std::size_t i) {
    Prober other = prober_;
    other.cells = 0;
    auto& fittings = other.as_is.cavity.fittings;
    // A pod outside the box takes nothing of it.
    if (places[i].place == survey::FittingPlace::wall) {
      fittings.erase(fittings.begin() + static_cast<std::ptrdiff_t>(places[i].fitting));
    } else {
      fittings[places[i].fitting].place = places[i].place;
    }
    return other.most(other.as_is, std::nullopt);
  });
  for (std::size_t i = 0; i < places.size(); ++i) {
    count(found[i]);
    result_.fittings.push_back({cavity_.fittings[places[i].fitting].name, places[i].place,
                                found[i].more - packing_.cells, found[i].more > 0});
  }
}

// ---- telling -------------------------------------------------------------------------

void Search::tell() {
  int only_here = 0;
  for (Case& c : cases_) {
    only_here += !c.everywhere() && c.limit.most == 0;
    result_.limits.push_back(std::move(c.limit));
  }
  const auto key = [](const Limit& limit) {
    const double per_cell = limit.more ? limit.more->change.mm() / std::max(1, limit.more->cells) : 0;
    return std::tuple(limit.more ? 0 : limit.most > 0 ? 1 : 2, per_cell, -limit.most);
  };
  std::stable_sort(result_.limits.begin(), result_.limits.end(),
                   [&](const Limit& a, const Limit& b) { return key(a) < key(b); });
  if (only_here > 0) {
    result_.notes.push_back(fmt::format("{} of {} changes that gave nothing were not looked at with the box at every floor height, to "
                                        "keep the time short", only_here, cases_.size()));
  }
  if (!rows_only_) {
    result_.notes.push_back("tried with blocks in rows and the box square with the car: with what else the rules allow, less may do");
  }
}

}  // namespace cellstow::limits
