#include "cellstow/choosing/best.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

using namespace cellstow::choosing;

namespace {

Candidate random_candidate(std::mt19937& draw, bool with_cost) {
  const auto up_to = [&](int n) { return static_cast<int>(draw() % static_cast<unsigned>(n + 1)); };
  Candidate c;
  c.fullest = up_to(4) > 0;
  c.kwh = 10 + 0.1 * up_to(12);
  c.boxes_kg = 100 + up_to(8);
  c.boxes = 1 + up_to(2);
  c.share_miss_points = 0.1 * up_to(3);
  c.cg_height_mm = 400 + 20 * up_to(4);
  if (with_cost) c.cost = 1000 + up_to(5);
  if (up_to(6) == 0) c.breaks.push_back("rear axle");
  return c;
}

/// Written anew, figure by figure, straight from the definition.
bool plainly_beats(const Candidate& a, const Candidate& b) {
  const auto same_or = [](double x, double y) { return std::abs(x - y) < 1e-6 ? 0 : x < y ? -1 : 1; };
  const int less[] = {same_or(static_cast<double>(a.breaks.size()), static_cast<double>(b.breaks.size())), same_or(b.kwh, a.kwh), same_or(a.boxes_kg, b.boxes_kg),
                      same_or(a.boxes, b.boxes), same_or(a.share_miss_points, b.share_miss_points), same_or(*a.cg_height_mm, *b.cg_height_mm),
                      a.cost ? same_or(*a.cost, *b.cost) : 0};
  bool any = false;
  for (const int one : less) {
    if (one > 0) return false;
    any |= one < 0;
  }
  return any;
}

}  // namespace

TEST_CASE("best ones: as brute force has them, on random sets") {
  std::mt19937 draw(5);
  int best = 0, beaten = 0, fewer = 0;
  for (int k = 0; k < 300; ++k) {
    std::vector<Candidate> all;
    for (unsigned i = 0; i < 2 + draw() % 25; ++i) all.push_back(random_candidate(draw, k % 2 == 0));
    mark_best(all);
    for (const Candidate& c : all) {
      bool beaten_by_a_fullest = false;
      for (const Candidate& other : all) beaten_by_a_fullest |= other.fullest && plainly_beats(other, c);
      CHECK((c.standing == Standing::best) == (c.fullest && !beaten_by_a_fullest));
      CHECK((c.standing == Standing::beaten) == beaten_by_a_fullest);
      best += c.standing == Standing::best;
      fewer += c.standing == Standing::fewer;
      if (c.standing != Standing::beaten) continue;
      ++beaten;
      const Candidate& by = all[c.beaten_by];
      CHECK(by.standing == Standing::best);
      CHECK(plainly_beats(by, c));
      CHECK_FALSE(c.beaten_how.empty());
      for (const Candidate& other : all) {
        if (other.standing != Standing::best || !plainly_beats(other, c)) continue;
        CHECK((other.kwh < by.kwh + 1e-6));  // none with more energy beats it too
      }
    }
  }
  CHECK(best > 300);
  CHECK(beaten > 300);
  CHECK(fewer > 20);
}

TEST_CASE("best ones: the words of what beats what") {
  Candidate a, b;
  a.fullest = b.fullest = true;
  a.kwh = b.kwh = 30.02;
  b.kwh = 30.04;  // prints alike
  a.boxes_kg = 200;
  b.boxes_kg = 214.3;
  a.boxes = b.boxes = 2;
  std::vector<Candidate> all{a, b};
  mark_best(all);
  CHECK(all[0].standing == Standing::best);
  CHECK(all[1].standing == Standing::beaten);
  CHECK(all[1].beaten_how == "as many kWh, 14 kg lighter");
  all[1].kwh = 28;
  all[1].boxes = 3;
  all[1].breaks = {"rear axle"};
  mark_best(all);
  CHECK(all[1].beaten_how == "1 limit fewer gone past, 2.0 kWh more, 14 kg lighter, 1 box fewer");
}

TEST_CASE("best ones: equal figures beat nothing") {
  Candidate a;
  a.fullest = true;
  a.kwh = 20;
  std::vector<Candidate> all{a, a, a};
  mark_best(all);
  for (const Candidate& c : all) CHECK(c.standing == Standing::best);
}
