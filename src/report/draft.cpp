#include "report/draft.hpp"

#include <algorithm>
#include <cmath>

#include "report/callout.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

bool crosses(const Patch& room, Spot from, Spot to) {
  // The part of the line within the patch, by its share of the way (Liang and Barsky's clipping).
  double low = 0, high = 1;
  const double d[2] = {to.x - from.x, to.y - from.y}, p[2] = {from.x, from.y};
  const double least[2] = {room.left, room.top}, most[2] = {room.right, room.bottom};
  for (int i = 0; i < 2; ++i) {
    if (std::abs(d[i]) < 1e-12) {
      if (p[i] <= least[i] || p[i] >= most[i]) return false;
      continue;
    }
    const double one = (least[i] - p[i]) / d[i], two = (most[i] - p[i]) / d[i];
    low = std::max(low, std::min(one, two));
    high = std::min(high, std::max(one, two));
  }
  return low < high;
}

bool contains(const Patch& outer, const Patch& inner) {
  return inner.left >= outer.left && inner.right <= outer.right && inner.top >= outer.top && inner.bottom <= outer.bottom;
}

/// Where along an edge each figure stands, in the order of the ordinates.
std::vector<double> apart(const std::vector<Ordinate>& ordinates, double low, double high) {
  std::vector<double> wanted, rooms;
  for (const Ordinate& o : ordinates) {
    const Patch room = room_of({{0, 0}, o.text, lettering, Anchor::end, false, false, o.boxed});
    rooms.push_back(room.height() + 0.2);
    wanted.push_back(o.at - rooms.back() / 2);
  }
  std::vector<double> places = stacked(wanted, rooms, low, high);
  for (std::size_t i = 0; i < places.size(); ++i) places[i] += rooms[i] / 2;
  return places;
}

void in_order(std::vector<Ordinate>& ordinates) {
  std::stable_sort(ordinates.begin(), ordinates.end(), [](const Ordinate& x, const Ordinate& y) { return x.at < y.at; });
}

}  // namespace

std::string size_text(double mm, survey::DrawnUnits units) {
  if (units == survey::DrawnUnits::mm) return number(mm, 1);
  return number(mm, 1) + " [" + number(mm / 25.4, 3) + "]";
}

bool Placer::is_free(const Patch& room) const {
  if (!contains(area_, room)) return false;
  return std::none_of(taken_.begin(), taken_.end(), [&](const Patch& t) { return t.overlaps(room); });
}

double Placer::cost(const Patch& room) const {
  double sum = 0;
  for (const Line& line : lines_) sum += crosses(room, line.from, line.to) ? 4 : 0;
  for (const Patch& patch : soft_) sum += patch.overlaps(room) ? 8 : 0;
  return sum;
}

/// Dear where the name stands about as near to something else as to what it names.
double Placer::mistaken(const Patch& room, Spot own) const {
  const auto away = [&](Spot p) { return std::hypot(p.x - std::clamp(p.x, room.left, room.right), p.y - std::clamp(p.y, room.top, room.bottom)); };
  const double mine = away(own);
  double sum = 0;
  for (const Spot& other : named_) {
    const bool is_own = std::hypot(other.x - own.x, other.y - own.y) < 1e-9;
    if (!is_own && away(other) < mine + 2) sum += 6;
  }
  return sum;
}

bool Placer::place(Paper& paper, Spot at, double clear, Lettering lettering) {
  const Patch own = room_of(Lettering{{0, 0}, lettering.text, lettering.height, Anchor::middle, lettering.bold, lettering.upward, lettering.boxed});
  double best = 1e9;
  Spot best_at;
  for (const double off : {0.0, 1.5, 3.0, 5.0, 8.0, 12.0, 17.0, 24.0, 33.0, 45.0, 60.0}) {
    if (off > best) break;
    for (int turn = 0; turn < 16; ++turn) {
      const double angle = (turn + 0.5) * 3.14159265358979 / 8;
      const double c = std::cos(angle), s = std::sin(angle);
      const Spot spot{at.x + c * (clear + off + own.width() / 2), at.y + s * (clear + off + own.height() / 2)};
      const Patch room{own.left + spot.x, own.top + spot.y, own.right + spot.x, own.bottom + spot.y};
      if (!is_free(room)) continue;
      const double price = off + cost(room) + mistaken(room, at);
      if (price < best) best = price, best_at = spot;
    }
  }
  if (best >= 1e9) return false;
  lettering.at = best_at;
  lettering.anchor = Anchor::middle;
  const Patch room = room_of(lettering);
  const Spot near{std::clamp(at.x, room.left, room.right), std::clamp(at.y, room.top, room.bottom)};
  const double gap = std::hypot(near.x - at.x, near.y - at.y);
  if (gap > clear + 2) {
    const Spot rim{at.x + (near.x - at.x) * clear / gap, at.y + (near.y - at.y) * clear / gap};
    add_line(paper, rim, near);
    avoid(rim, near);
  }
  take(room);
  paper.marks.emplace_back(std::move(lettering));
  return true;
}

double ordinate_reach(const std::vector<Ordinate>& ordinates) {
  if (ordinates.empty()) return 3;
  double reach = 0;
  for (const Ordinate& o : ordinates) reach = std::max(reach, lettering_width(o.text, lettering, false) + (o.boxed ? 1.4 : 0));
  return reach + 9;
}

double ordinate_run(const std::vector<Ordinate>& ordinates) {
  double run = 0;
  for (const Ordinate& o : ordinates) run += room_of({{0, 0}, o.text, lettering, Anchor::end, false, false, o.boxed}).height() + 0.2;
  return run;
}

void add_ordinates(Paper& paper, Placer& placer, std::vector<Ordinate> ordinates, Side side, double edge, double low, double high) {
  in_order(ordinates);
  const std::vector<double> places = apart(ordinates, low, high);
  const bool upward = side == Side::below || side == Side::above;
  const double out = side == Side::below || side == Side::right ? 1 : -1;
  const auto spot = [&](double along, double off) { return upward ? Spot{along, off} : Spot{off, along}; };
  const Anchor anchor = side == Side::below || side == Side::left ? Anchor::end : Anchor::start;
  for (std::size_t i = 0; i < ordinates.size(); ++i) {
    const Ordinate& o = ordinates[i];
    add_line(paper, spot(o.at, o.start), spot(o.at, edge + 2 * out));
    add_line(paper, spot(o.at, edge + 2 * out), spot(places[i], edge + 6 * out));
    add_line(paper, spot(places[i], edge + 6 * out), spot(places[i], edge + 7.2 * out));
    placer.avoid(spot(o.at, o.start), spot(o.at, edge + 2 * out));
    placer.avoid(spot(o.at, edge + 2 * out), spot(places[i], edge + 6 * out));
    placer.avoid(spot(places[i], edge + 6 * out), spot(places[i], edge + 8 * out));
    Lettering figure{spot(places[i], edge + 8.2 * out), o.text, lettering, anchor, false, upward, o.boxed};
    placer.take(room_of(figure));
    paper.marks.emplace_back(std::move(figure));
  }
}

void add_width(Paper& paper, Placer& placer, double from, double to, double object, double line, Lettering figure) {
  const double beyond = line > object ? 1.5 : -1.5;
  for (const double x : {from, to}) add_line(paper, {x, object + beyond / 2}, {x, line + beyond});
  add_line(paper, {from, line}, {to, line});
  add_arrow(paper, {from, line}, -1, 0);
  add_arrow(paper, {to, line}, 1, 0);
  figure.anchor = Anchor::middle;
  figure.at = {(from + to) / 2, line - 2.9};
  if (room_of(figure).width() > to - from - 2) {
    figure.anchor = Anchor::start;
    figure.at = {to + 2.5, line};
  }
  placer.take(room_of(figure));
  paper.marks.emplace_back(std::move(figure));
}

void add_height(Paper& paper, Placer& placer, double from, double to, double object, double line, Lettering figure) {
  const double beyond = line > object ? 1.5 : -1.5;
  for (const double y : {from, to}) add_line(paper, {object + beyond / 2, y}, {line + beyond, y});
  add_line(paper, {line, from}, {line, to});
  add_arrow(paper, {line, from}, 0, from - to);
  add_arrow(paper, {line, to}, 0, to - from);
  figure.upward = true;
  figure.anchor = Anchor::middle;
  figure.at = {line - 2.9, (from + to) / 2};
  // Longer than the line: it starts level with its lower end and runs on above it.
  if (room_of(figure).height() > std::abs(to - from) - 2) {
    figure.anchor = Anchor::start;
    figure.at.y = std::max(from, to);
  }
  placer.take(room_of(figure));
  paper.marks.emplace_back(std::move(figure));
}

}  // namespace cellstow::report
