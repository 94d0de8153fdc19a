#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "read_tape.hpp"

namespace cellstow::survey {
namespace {

using measuring::Fault;
using measuring::FaultKind;
using measuring::Network;

/// To a tenth of a millimetre: no tape reads finer.
std::string mm(double value) {
  std::string text = fmt::format("{:.1f}", value);
  return text.ends_with(".0") ? text.substr(0, text.size() - 2) : text;
}

/// The part of the tape that can be placed: readings that are there, points with two of them.
void build_network(TapeSection& tape) {
  const std::size_t datums = tape.datums.size();
  std::vector<bool> kept(tape.points.size(), true);
  const auto there = [&](const TapeReading& r) {
    return r.mm && (r.from < datums || kept[r.from - datums]) && (r.to < datums || kept[r.to - datums]);
  };
  for (bool changed = true; changed;) {
    changed = false;
    std::vector<int> readings(tape.points.size(), 0);
    for (const TapeReading& r : tape.readings) {
      for (const std::size_t end : {r.from, r.to})
        if (there(r) && end >= datums) ++readings[end - datums];
    }
    for (std::size_t i = 0; i < kept.size(); ++i) {
      if (!kept[i] || readings[i] >= 2) continue;
      kept[i] = false;
      changed = true;
    }
  }
  tape.network = {tape.datums, {}, {}};
  tape.network_points.clear();
  std::vector<std::size_t> number(datums + tape.points.size());
  for (std::size_t i = 0; i < datums; ++i) number[i] = i;
  for (std::size_t i = 0; i < kept.size(); ++i) {
    if (!kept[i]) continue;
    number[datums + i] = datums + tape.network.points.size();
    tape.network.points.push_back(tape.points[i]);
    tape.network_points.push_back(i);
  }
  for (const TapeReading& r : tape.readings)
    if (there(r)) tape.network.readings.push_back({number[r.from], number[r.to], *r.mm, r.give_or_take_mm});
}

// ---- faults in words -------------------------------------------------------

struct FaultWords {
  const char* id;
  std::string title, found, expected, hint;
};

std::string reading_words(const Network& network, std::size_t reading) {
  const measuring::Reading& r = network.readings[reading];
  return fmt::format("{}: {}", measuring::in_words(network, r), mm(r.mm));
}

std::string both_readings(const Network& network, const Fault& fault) {
  return reading_words(network, fault.readings[0]) + ", " + reading_words(network, fault.readings[1]);
}

std::string both_places(const Fault& fault) {
  const measuring::Place &p = fault.candidates[0], &q = fault.candidates[1];
  return fmt::format("({}, {}) and ({}, {})", mm(p.a), mm(p.b), mm(q.a), mm(q.b));
}

const std::string& point_name(const Network& network, const Fault& fault) { return network.points[fault.point].name; }

FaultWords side_words_of(const TapeSection& tape, const Fault& fault) {
  const std::string& name = point_name(tape.network, fault);
  const auto words = side_words(tape.across);
  const std::string expected = fmt::format("\"side\": \"{}\", \"{}\", \"{}\" or \"{}\", whichever way the right one lies farther", words[0],
                                           words[1], words[2], words[3]);
  if (fault.kind == FaultKind::side_open)
    return {"E222", "two places fit, and nothing tells which", fmt::format("point \"{}\" at {}", name, both_places(fault)),
            expected + ", or a third length", "the tape reads the same on both sides of a line between two datums"};
  if (fault.kind == FaultKind::side_does_not_tell)
    return {"E222", "the side does not tell the two places apart", fmt::format("point \"{}\" at {}", name, both_places(fault)), expected,
            "one of the other two directions tells"};
  return {"E222", "the side does not agree with the readings", fmt::format("point \"{}\" lies on the other side by its further lengths", name),
          "a side that fits them", "take the side out: three lengths tell it; or a reading is far off"};
}

FaultWords words_of(const TapeSection& tape, const Fault& fault) {
  const Network& network = tape.network;
  const std::string& name = point_name(network, fault);
  switch (fault.kind) {
    case FaultKind::too_few_readings:
      return {"E220", "point with fewer than two lengths", fmt::format("point \"{}\"", name), "two lengths or more, from different places",
              "from two datums, or from points that are placed already"};
    case FaultKind::hang_on_each_other:
      return {"E220", "point with fewer than two lengths to known places", fmt::format("point \"{}\" hangs on points that wait for it", name),
              "two lengths to datums or to points that can be placed without it", ""};
    case FaultKind::do_not_meet:
      return {"E221", "lengths that do not meet", fmt::format("{}: {} mm short of meeting", both_readings(network, fault), mm(fault.short_by_mm)),
              "two lengths that reach each other round their datums", "one of the two is slipped, or taken from another datum"};
    case FaultKind::too_flat:
      if (fault.readings.empty())
        return {"E226", "lengths that do not fix the points", "all readings run along one line", "lengths that cross", ""};
      return {"E226", "lengths that cross too flat to place a point", fmt::format("point \"{}\", {}", name, both_readings(network, fault)),
              "lengths that cross at 30 to 150 degrees", "measure from a datum farther to one side"};
    default: return side_words_of(tape, fault);
  }
}

void tell(const Node& node, const TapeSection& tape, const std::vector<Fault>& faults) {
  for (const Fault& fault : faults) {
    const FaultWords words = words_of(tape, fault);
    const std::string pointer = below(below(node.pointer, "points"), tape.network_points[fault.point]);
    node.log->add(words.id, pointer, words.title, words.found, words.expected, words.hint);
  }
}

std::string place_words(const TapeSection& tape, std::size_t place) {
  return (place < tape.datums.size() ? "" : "point ") + tape.name(place);
}

/// @error E225 every reading that is null
bool all_there(const Node& node, const TapeSection& tape) {
  bool all = true;
  for (const TapeReading& r : tape.readings) {
    if (r.mm) continue;
    node.log->add("E225", r.pointer, "reading still missing", fmt::format("null: {} to {}", place_words(tape, r.from), place_words(tape, r.to)),
                  "a length: a number in mm, or text with its unit",
                  "\"cellstow sheet\" prints the sheet and \"cellstow enter\" takes the filled list; or take the reading out");
    all = false;
  }
  return all;
}

TapeOutline outline_of(const TapeSection& tape, const measuring::MeasuredSection& fit) {
  TapeOutline out;
  out.measured.by = MeasuredBy::tape;
  out.measured.remarks = measuring::remarks(tape.network, fit);
  for (const std::size_t point : tape.outline) {
    const measuring::MeasuredPoint& p = fit.points[point];
    out.ring.push_back({core::Length::from_mm(p.at.a), core::Length::from_mm(p.at.b)});
    out.measured.corners.push_back({tape.points[point].name, core::Length::from_mm_up(p.give_or_take_mm())});
  }
  return out;
}

}  // namespace

std::optional<TapeOutline> work_out(const Node& node, const TapeSection& given) {
  if (!all_there(node, given)) return {};
  // the whole network, points with too few readings among them: those are faults here
  TapeSection tape = given;
  tape.network = {tape.datums, tape.points, {}};
  for (std::size_t i = 0; i < tape.points.size(); ++i) tape.network_points.push_back(i);
  for (const TapeReading& r : tape.readings) tape.network.readings.push_back({r.from, r.to, *r.mm, r.give_or_take_mm});
  const auto fit = measuring::measure(tape.network, tape.give_or_take_mm);
  if (!fit) {
    tell(node, tape, fit.error());
    return {};
  }
  TapeOutline out = outline_of(tape, *fit);
  if (!check_ring({node.json, outline_pointer(node), node.log}, out.ring)) return {};
  return out;
}

void work_out_so_far(TapeSection& tape) {
  build_network(tape);
  if (tape.network.points.empty()) return;
  auto fit = measuring::measure(tape.network, tape.give_or_take_mm);
  if (fit) {
    tape.remarks = measuring::remarks(tape.network, *fit);
    tape.fit = std::move(*fit);
    return;
  }
  for (const Fault& fault : fit.error()) {
    const FaultWords words = words_of(tape, fault);
    tape.remarks.push_back(fmt::format("Point {}: {}. {}.{}", point_name(tape.network, fault), words.title, words.found,
                                       words.hint.empty() ? "" : " " + words.hint + "."));
  }
}

}  // namespace cellstow::survey
