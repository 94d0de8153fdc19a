#include <doctest/doctest.h>

#include <algorithm>

#include "cellstow/measuring/measure.hpp"
#include "measuring/known_section.hpp"

using namespace cellstow::measuring;
using namespace cellstow::measuring::testing;

namespace {

constexpr int runs = 600;

/// Nails left, right and at the bottom.
KnownSection spread_datums() {
  KnownSection section = boot(4);
  section.datums.erase(section.datums.begin() + 2);
  return section;
}

/// What came of many sections with one slip each.
struct Tally {
  int runs = 0, told = 0, among = 0, alone = 0, first = 0, size_right = 0, within = 0, corners = 0, others = 0;
  double share(int n) const { return 100.0 * n / runs; }
};

bool names(const Explanation& e, std::size_t reading) { return e.kind == DoubtKind::slipped && e.reading == reading; }

void count(Tally& tally, const KnownSection& section, const MeasuredSection& measured, std::size_t slipped, double slip_mm) {
  ++tally.runs;
  for (std::size_t i = 0; i < section.corners.size(); ++i, ++tally.corners) {
    tally.within += distance(measured.points[i].at, section.corners[i]) <= measured.points[i].give_or_take_mm();
  }
  if (measured.doubts.empty()) return;
  ++tally.told;
  const auto& all = measured.doubts.front().explanations;
  const auto found = std::find_if(all.begin(), all.end(), [&](const Explanation& e) { return names(e, slipped); });
  if (found == all.end()) return;
  ++tally.among;
  tally.alone += all.size() == 1;
  tally.first += found == all.begin();
  tally.size_right += std::abs(found->off_mm - slip_mm) <= 5;
}

/// One slip of +-slip_mm in a random reading of every section.
Tally simulate(const KnownSection& section, double give_or_take_mm, double slip_mm, std::uint32_t seed, int runs) {
  Noise noise(seed);
  Tally tally;
  for (int run = 0; run < runs; ++run) {
    Network network = read_with_noise(section, give_or_take_mm, noise);
    const std::size_t slipped = noise.below(network.readings.size());
    const double signed_slip = noise.uniform() < 0.5 ? slip_mm : -slip_mm;
    network.readings[slipped].mm += signed_slip;
    const auto measured = measure(network, give_or_take_mm);
    REQUIRE(measured);
    count(tally, section, *measured, slipped, signed_slip);
  }
  return tally;
}

void show(const std::string& what, const Tally& t) {
  MESSAGE(what << ": told " << t.share(t.told) << " %, right reading among those named " << t.share(t.among) << " %, named first "
               << t.share(t.first) << " %, named alone " << t.share(t.alone) << " %, size within 5 mm " << t.share(t.size_right)
               << " %; corners within their give or take " << 100.0 * t.within / t.corners << " %");
}

}  // namespace

TEST_CASE("doubts: a 10 mm slip among readings good to 2 mm") {
  const Tally three = simulate(spread_datums(), 2, 10, 20, runs);
  show("3 datums round the section", three);
  // one spare reading a point: that something is wrong shows, which of the three it is cannot
  CHECK(three.share(three.told) > 78);
  CHECK(three.share(three.among) > 78);
  const Tally in_line = simulate(boot(3), 2, 10, 21, runs);
  show("3 datums nearly in line", in_line);
  CHECK(in_line.share(in_line.among) > 80);
  const Tally checked = simulate(with_checks(boot(3)), 2, 10, 22, runs);
  show("3 datums and 6 check readings", checked);
  CHECK(checked.share(checked.among) > 95);
  CHECK(checked.share(checked.first) > 65);
  const Tally four = simulate(boot(4), 2, 10, 23, runs);
  show("4 datums", four);
  CHECK(four.share(four.among) > 97);
  CHECK(four.share(four.first) > 85);
  CHECK(four.share(four.size_right) > 90);
  const Tally four_checked = simulate(with_checks(boot(4)), 2, 10, 24, runs);
  show("4 datums and 6 check readings", four_checked);
  CHECK(four_checked.share(four_checked.first) > 90);
  // with the doubt told, corners are within what is said of them at least as often as promised
  for (const Tally& t : {three, in_line, checked, four, four_checked}) CHECK(static_cast<double>(t.within) / t.corners > 0.94);
}

TEST_CASE("doubts: the same slip among readings with a standard deviation of 2 mm") {
  const double give_or_take = 2 * deviations_in_give_or_take;
  const Tally three = simulate(boot(3), give_or_take, 10, 31, runs);
  show("3 datums, 2 mm standard deviation", three);
  const Tally four = simulate(with_checks(boot(4)), give_or_take, 10, 32, runs);
  show("4 datums and 6 check readings, 2 mm standard deviation", four);
  CHECK(four.share(four.told) > three.share(three.told));
  // a slip hardly larger than the noise is missed often, and then the corners stay near
  CHECK(static_cast<double>(three.within) / three.corners > 0.9);
}

TEST_CASE("doubts: without a slip little is doubted") {
  Noise noise(41);
  const KnownSection section = with_checks(boot(3));
  int doubted = 0;
  for (int run = 0; run < 2000; ++run) {
    const auto measured = measure(read_with_noise(section, 2, noise), 2);
    REQUIRE(measured);
    doubted += !measured->doubts.empty();
  }
  MESSAGE("doubted without cause: " << doubted / 20.0 << " % of sections of 30 readings");
  // 30 readings at 1 in 1000 each: at most 3 in 100, and 4 standard deviations of the count
  CHECK(doubted < 2000 * (0.03 + 4 * std::sqrt(0.03 * 0.97 / 2000)));
}

TEST_CASE("doubts: the smallest slip that is said to show shows 8 times in 10") {
  // Baarda's power, counted for one reading of a point from four datums
  const KnownSection section{boot(4).datums, {{100, 400}}, {}, {}};
  const Network exact = read_exactly(section, 2);
  const auto fit = fit_points(exact, section.corners);
  REQUIRE(fit);
  const double slip = least_slip_mm(exact.readings[1], fit->readings[1].share);
  Noise noise(51);
  int shows = 0;
  for (int run = 0; run < 4000; ++run) {
    Network network = read_with_noise(section, 2, noise);
    network.readings[1].mm += slip;
    const auto got = fit_points(network, section.corners);
    REQUIRE(got);
    shows += std::abs(got->readings[1].test) > doubt_limit;
  }
  CHECK(std::abs(shows / 4000.0 - 0.8) < 4 * std::sqrt(0.8 * 0.2 / 4000) + 0.005);
}

TEST_CASE("doubts: two readings of a point, or of two points from one datum, written down the wrong way round") {
  for (const bool same_point : {true, false}) {
    CAPTURE(same_point);
    Noise noise(61);
    const KnownSection section = boot(3);
    int named = 0, told = 0, runs = 0;
    for (int run = 0; run < 500; ++run) {
      Network network = read_with_noise(section, 2, noise);
      const std::size_t corner = noise.below(8), datum = noise.below(3);
      const std::size_t i = datum * 8 + corner, k = same_point ? (datum + 1) % 3 * 8 + corner : datum * 8 + (corner + 1) % 8;
      if (std::abs(network.readings[i].mm - network.readings[k].mm) < 30) continue;  // less is hardly a mistake
      std::swap(network.readings[i].mm, network.readings[k].mm);
      const auto measured = measure(network, 2);
      if (!measured) continue;  // refused outright: that is told too
      ++runs;
      told += !measured->doubts.empty();
      if (measured->doubts.empty()) continue;
      for (const Explanation& e : measured->doubts.front().explanations) {
        named += e.kind == DoubtKind::swapped && e.reading == std::min(i, k) && e.other == std::max(i, k);
      }
    }
    MESSAGE((same_point ? "one point: " : "one datum: ") << runs << " runs, told " << 100.0 * told / runs << " %, the two named " << 100.0 * named / runs << " %");
    CHECK(runs > 250);
    CHECK(told == runs);
    CHECK(named > 0.87 * runs);
  }
}

TEST_CASE("doubts: with two lengths and no check a slip cannot be seen, and that is said") {
  const KnownSection section = boot(2);
  Network network = read_exactly(section, 2);
  network.readings[3].mm += 10;
  const auto measured = measure(network, 2);
  REQUIRE(measured);
  CHECK(measured->doubts.empty());
  for (const MeasuredPoint& point : measured->points) CHECK_FALSE(point.checked);
  const std::vector<std::string> said = remarks(network, *measured);
  CHECK(std::any_of(said.begin(), said.end(), [](const std::string& s) { return s.starts_with("Nothing checks the readings of points 1, 2"); }));
}

TEST_CASE("doubts: a flat crossing is told as such, not as a slip") {
  // seen from both datums nearly along one line: the ellipse is long, no residual is large
  const KnownSection section{{{-500, 0}, {500, 0}, {0, -800}}, {{20, 60}, {0, 400}}, {}, {}};
  Network network = read_exactly(section, 2);
  network.readings.resize(4);   // D1 and D2 only
  for (Point& point : network.points) point.side = Side::high_b;
  const auto measured = measure(network, 2);
  REQUIRE(measured);
  CHECK(measured->points[0].flat);
  CHECK(measured->points[0].crossing_deg > 150);
  CHECK_FALSE(measured->points[1].flat);
  CHECK(measured->doubts.empty());
  // half axes s / sqrt(1 +- cos g)
  const double g = measured->points[0].crossing_deg * std::numbers::pi / 180;
  CHECK(measured->points[0].ellipse.major_mm ==
        doctest::Approx(deviations_in_ellipse * 2 / deviations_in_give_or_take / std::sqrt(1 + std::cos(g))));
}

TEST_CASE("doubts: readings that all scatter more than said are told so, and make the ellipse larger") {
  Noise noise(71);
  KnownSection section = boot(4);
  for (std::size_t i = 0; i < 8; ++i) {
    for (std::size_t j = 0; j < i; ++j) section.checks.push_back({j, i});
  }
  Network network = read_exactly(section, 2);
  for (Reading& reading : network.readings) reading.mm += 1.5 * deviation(reading) * (noise.uniform() < 0.5 ? -1 : 1);
  const auto measured = measure(network, 2);
  REQUIRE(measured);
  REQUIRE(measured->doubts.empty());
  CHECK(measured->worse_by > 1.3);
  CHECK(measured->points[0].ellipse.major_mm == doctest::Approx(measured->worse_by * ellipse_of(measured->fit, 0).major_mm));
}

TEST_CASE("doubts: the fit keeps every reading") {
  Network network = read_exactly(boot(4), 2);
  network.readings[5].mm += 40;
  const auto measured = measure(network, 2);
  REQUIRE(measured);
  REQUIRE(measured->doubts.size() == 1);
  CHECK(measured->doubts[0].explanations[0].off_mm == doctest::Approx(40).epsilon(0.001));
  CHECK(measured->fit.spare_readings == 4 * 8 - 16);
  CHECK(distance(measured->points[5].at, boot(4).corners[5]) > 1);
  CHECK(measured->points[5].give_or_take_mm() >= distance(measured->points[5].at, boot(4).corners[5]));
}
