#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cellstow/measuring/measure.hpp"

namespace cellstow::measuring {
namespace {

/// "17.3", "440".
std::string mm(double value) {
  std::string text = fmt::format("{:.1f}", value);
  if (text.ends_with(".0")) text.resize(text.size() - 2);
  return text;
}

std::string place_words(const Network& network, std::size_t place) {
  return (network.is_point(place) ? "point " : "") + network.name(place);
}

std::string point_words(const Network& network, std::size_t point) {
  return place_words(network, network.datums.size() + point);
}

std::string joined(const std::vector<std::string>& parts, const std::string& last) {
  std::string out;
  for (std::size_t i = 0; i < parts.size(); ++i) out += (i == 0 ? "" : i + 1 == parts.size() ? last : ", ") + parts[i];
  return out;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

// ---- doubts ----------------------------------------------------------------

std::string off_words(double off_mm) {
  return fmt::format("about {:.0f} mm {}", std::abs(off_mm), off_mm > 0 ? "long" : "short");
}

std::string swap_words(const Network& network, const Explanation& e) {
  const Reading &r = network.readings[e.reading], &s = network.readings[e.other];
  return fmt::format("{} ({}) and {} ({}) look swapped", in_words(network, r), mm(r.mm), in_words(network, s), mm(s.mm));
}

std::string explanation_words(const Network& network, const Explanation& e) {
  if (e.kind == DoubtKind::swapped) return swap_words(network, e);
  return fmt::format("{} reads {}", in_words(network, network.readings[e.reading]), off_words(e.off_mm));
}

/// Points at the ends of the doubted readings that all of them share, or all of them.
std::string which_point(const Network& network, const Doubt& doubt) {
  std::vector<std::string> names;
  for (std::size_t place = network.datums.size(); place < network.places(); ++place) {
    const bool shared = std::all_of(doubt.explanations.begin(), doubt.explanations.end(), [&](const Explanation& e) {
      const Reading& r = network.readings[e.reading];
      return r.from == place || r.to == place;
    });
    if (shared) names.push_back(place_words(network, place));
  }
  return names.empty() ? "" : names.front();
}

std::string doubt_words(const Network& network, const Doubt& doubt) {
  const Explanation& first = doubt.explanations.front();
  if (doubt.explanations.size() == 1 && first.kind == DoubtKind::swapped) {
    return swap_words(network, first) + ": exchanged, they fit the others. Look at the sheet, or read them again.";
  }
  if (doubt.explanations.size() == 1) {
    const Reading& r = network.readings[first.reading];
    return fmt::format("{} does not fit the others: {} mm is {}, {} would fit. Read it again.", in_words(network, r), mm(r.mm),
                       off_words(first.off_mm), mm(std::round(r.mm - first.off_mm)));
  }
  const std::string point = which_point(network, doubt);
  std::vector<std::string> parts;
  for (const Explanation& e : doubt.explanations) parts.push_back(explanation_words(network, e));
  return fmt::format("{} not close: {}. Read them again; one more length{} would tell which.",
                     point.empty() ? "The readings do" : capital(point) + " does", joined(parts, ", or "), point.empty() ? "" : " to " + point);
}

// ---- the rest --------------------------------------------------------------

std::string flat_words(const Network& network, const MeasuredSection& section, std::size_t point) {
  const MeasuredPoint& p = section.points[point];
  return fmt::format(
      "{}: its lengths cross at {:.0f} degrees, flatter than 30 to 150; no fault of a reading, but the point is only good to give or "
      "take {} mm. A length from farther to one side helps.",
      capital(point_words(network, point)), p.crossing_deg, mm(p.give_or_take_mm()));
}

/// Points of whose readings nothing checks any; and single readings that nothing checks.
std::vector<std::string> unchecked_words(const Network& network, const MeasuredSection& section) {
  std::vector<std::string> points, readings;
  for (std::size_t point = 0; point < section.points.size(); ++point) {
    const std::size_t own = network.datums.size() + point;
    std::vector<std::string> open;
    bool any_checked = false;
    for (std::size_t i = 0; i < network.readings.size(); ++i) {
      const Reading& r = network.readings[i];
      if (r.from != own && r.to != own) continue;
      const bool checked = section.fit.readings[i].share >= least_share;
      any_checked |= checked;
      if (!checked && r.to == own) open.push_back(in_words(network, r));
    }
    if (!any_checked) points.push_back(network.points[point].name);
    if (any_checked) readings.insert(readings.end(), open.begin(), open.end());
  }
  std::vector<std::string> out;
  if (!points.empty()) {
    out.push_back(fmt::format("Nothing checks the readings of point{} {}: a slip there cannot be seen. A third length or a check reading would show it.",
                              points.size() == 1 ? "" : "s", joined(points, " and ")));
  }
  if (!readings.empty()) {
    out.push_back(fmt::format("Nothing checks {}: a slip in {} cannot be seen, for the other lengths to {} run nearly along one line.", joined(readings, " and "),
                              readings.size() == 1 ? "it" : "them", readings.size() == 1 ? "that point" : "those points"));
  }
  return out;
}

std::string goodness_words(const Network& network, const MeasuredSection& section) {
  std::size_t worst = 0, best = 0;
  for (std::size_t i = 0; i < section.points.size(); ++i) {
    if (section.points[i].give_or_take_mm() > section.points[worst].give_or_take_mm()) worst = i;
    if (section.points[i].give_or_take_mm() < section.points[best].give_or_take_mm()) best = i;
  }
  return fmt::format("Corners are good to give or take {} to {} mm, 95 times in 100; the worst is point {}.",
                     mm(section.points[best].give_or_take_mm()), mm(section.points[worst].give_or_take_mm()), network.points[worst].name);
}

std::string next_words(const Network& network, const NextReading& next) {
  const std::string what = fmt::format("Worth measuring next: {} to {} (about {:.0f} mm): ", place_words(network, next.from),
                                       place_words(network, next.to), next.expected_mm);
  if (next.makes_checked) {
    return what + fmt::format("a slip of {:.0f} mm in a reading of {} would then show.", std::ceil(next.least_slip_mm), point_words(network, next.point));
  }
  return what + fmt::format("{} would be good to {} mm instead of {}.", point_words(network, next.point), mm(next.after_mm), mm(next.before_mm));
}

}  // namespace

std::string in_words(const Network& network, const Reading& reading) {
  return place_words(network, reading.from) + " to " + place_words(network, reading.to);
}

std::vector<std::string> remarks(const Network& network, const MeasuredSection& section) {
  std::vector<std::string> out;
  for (const Doubt& doubt : section.doubts) out.push_back(capital(doubt_words(network, doubt)));
  if (!section.doubts.empty()) {
    out.push_back("No reading was changed or left out: the corners lie as all readings together say, and their give or take is larger for the doubt.");
  }
  if (section.worse_by > 1) {
    out.push_back(fmt::format("The readings scatter about {:.1f} times as much as their give or take says, and no single one stands out; the corners' "
                              "give or take was made larger by that.", section.worse_by));
  }
  for (std::size_t point = 0; point < section.points.size(); ++point) {
    if (section.points[point].flat) out.push_back(flat_words(network, section, point));
  }
  for (std::string& line : unchecked_words(network, section)) out.push_back(std::move(line));
  if (!section.points.empty()) out.push_back(goodness_words(network, section));
  if (section.next) out.push_back(next_words(network, *section.next));
  return out;
}

}  // namespace cellstow::measuring
