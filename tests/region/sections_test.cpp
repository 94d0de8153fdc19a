/// Free plans of random cavities against polygon overlays: nothing counted free that is not, nothing
/// refused that keeps more than the promised slack.

#include <doctest/doctest.h>

#include <algorithm>

#include "cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;
using region::Clearances;
using region::HeightSpan;
using region::Reading;
using region::Strips;

namespace {

/// Doubles in the reference, at coordinates below 1 m.
constexpr double noise_mm = 1e-6;

/// Promised: 1 um for the common reading, 0.1 mm and 2 um of rounding for ruled walls.
Um slack_um(Reading reading) { return reading == Reading::common ? 1 : 102; }

struct Tally { int free = 0, refused = 0; };

class Judge {
 public:
  Judge(const survey::Cavity& cavity, const Clearances& clearances, Reading reading, HeightSpan span)
      : cavity_(cavity), clearances_(clearances), reading_(reading), span_(span),
        plan_(region::free_plan(cavity, clearances, reading, span)) {}

  const region::FreePlan& plan() const { return plan_; }

  void check(Um x_low, Um x_high, Um y_low, Um y_high, Tally& tally) const {
    const Body body{x_low, x_high, y_low, y_high, span_.bottom, span_.top};
    CAPTURE(x_low);
    CAPTURE(x_high);
    CAPTURE(y_low);
    CAPTURE(y_high);
    CAPTURE(span_.bottom);
    CAPTURE(span_.top);
    if (plan_.covers(x_low, x_high, y_low, y_high)) {
      ++tally.free;
      CHECK(spare_mm(cavity_, clearances_, reading_, body) >= -noise_mm);
    } else {
      ++tally.refused;
      CHECK(spare_mm(cavity_, clearances_, reading_, taller(body)) <= 1e-3 * slack_um(reading_) + noise_mm);
    }
  }

  /// Runs of one strip to their very ends, and one micrometre past each.
  void check_strip(Strips strips, Um t_low, Um t_high, Tally& tally) const {
    std::vector<geometry::SpanUm> free;
    plan_.free_spans(strips, t_low, t_high, free);
    for (const auto& span : free) {
      for (const auto& [low, high] : {std::pair{span.low, span.high}, std::pair{span.low - 1, span.high},
                                      std::pair{span.low, span.high + 1}}) {
        strips == Strips::along_x ? check(low, high, t_low, t_high, tally)
                                  : check(t_low, t_high, low, high, tally);
      }
    }
  }

 private:
  /// Ruled walls between upright sections are kept off in height as well.
  Body taller(Body body) const {
    if (reading_ == Reading::straight && cavity_.sections.across != survey::Axis::z) {
      body.bottom -= slack_um(reading_);
      body.top += slack_um(reading_);
    }
    return body;
  }

  const survey::Cavity& cavity_;
  const Clearances& clearances_;
  Reading reading_;
  HeightSpan span_;
  region::FreePlan plan_;
};

HeightSpan random_span(const survey::Cavity& cavity, const Clearances& clearances, Random& random) {
  const HeightSpan limits = region::height_limits(cavity, clearances);
  const Um middle = (limits.bottom + limits.top) / 2, half = (limits.top - limits.bottom) / 2;
  return {middle - between(random, half / 10, half * 5 / 10), middle + between(random, half / 10, half * 5 / 10)};
}

void check_cavity(const survey::Cavity& cavity, Reading reading, Random& random, int probes, Tally& tally) {
  const Clearances clearances{between(random, 0, 15'000), between(random, 0, 15'000),
                              between(random, 0, 1) * 6'000};
  const Judge judge(cavity, clearances, reading, random_span(cavity, clearances, random));
  for (int i = 0; i < probes; ++i) {
    const Strips strips = i % 2 == 0 ? Strips::along_x : Strips::along_y;
    const geometry::SpanUm extent = judge.plan().extent(strips);
    if (extent.length() < 2) continue;
    const Um low = between(random, extent.low, extent.high - 1);
    judge.check_strip(strips, low, std::min(extent.high, low + between(random, 1, 200'000)), tally);
    const geometry::SpanUm x = judge.plan().extent(Strips::along_y), y = judge.plan().extent(Strips::along_x);
    const Um x_low = between(random, x.low, x.high), y_low = between(random, y.low, y.high);
    judge.check(x_low, x_low + between(random, 1, 250'000), y_low, y_low + between(random, 1, 250'000), tally);
  }
}

void check_cavities(survey::Axis across, Reading reading, unsigned seed, int cavities, int probes) {
  Random random(seed);
  Tally tally;
  for (int i = 0; i < cavities; ++i) {
    CAPTURE(i);
    check_cavity(random_cavity(random, across, reading == Reading::straight, i % 3 == 0), reading, random, probes,
                 tally);
  }
  // Both answers must have come up often, or the checks say nothing.
  CHECK(tally.free >= cavities);
  CHECK(tally.refused >= cavities);
}

}  // namespace

TEST_CASE("region: sections across z, common reading, against overlays") {
  check_cavities(survey::Axis::z, Reading::common, 41, 40, 8);
}

TEST_CASE("region: sections across z, straight reading, against sampled heights") {
  check_cavities(survey::Axis::z, Reading::straight, 42, 20, 5);
}

TEST_CASE("region: sections across x, common reading, against overlays") {
  check_cavities(survey::Axis::x, Reading::common, 43, 40, 8);
}

TEST_CASE("region: sections across y, common reading, against overlays") {
  check_cavities(survey::Axis::y, Reading::common, 44, 40, 8);
}

TEST_CASE("region: sections across x, straight reading, against sampled stations") {
  check_cavities(survey::Axis::x, Reading::straight, 45, 12, 4);
}

TEST_CASE("region: sections across y, straight reading, against sampled stations") {
  check_cavities(survey::Axis::y, Reading::straight, 46, 12, 4);
}

namespace {

/// Sections across x of 600 x 300 mm at 0, 400 and 800 mm.
survey::Cavity three_sections() {
  const Corners section{{0, 0}, {600'000, 0}, {600'000, 300'000}, {0, 300'000}};
  survey::Cavity cavity = prism(survey::Axis::x, 0, 800'000, section);
  cavity.sections.at.insert(cavity.sections.at.begin() + 1, cavity.sections.at.front());
  cavity.sections.at[1].station = um(400'000);
  return cavity;
}

std::vector<survey::Point2> square_hole(Um y, Um z) {
  return points({{y, z}, {y, z + 40'000}, {y + 40'000, z + 40'000}, {y + 40'000, z}});
}

}  // namespace

// The first section has a pipe on the left, the last one far to the right: across the middle station a box may stand
// between the two.
TEST_CASE("region: obstacles of neighbouring slabs that share no column do not join up") {
  survey::Cavity cavity = three_sections();
  cavity.sections.at[0].holes.push_back(square_hole(100'000, 50'000));
  cavity.sections.at[2].holes.push_back(square_hole(400'000, 50'000));
  const auto plan = region::free_plan(cavity, {10'000, 10'000, 0}, Reading::common, {10'000, 290'000});
  CHECK(plan.covers(10'000, 790'000, 150'000, 390'000));
  CHECK(plan.covers(10'000, 390'000, 150'000, 590'000));
  CHECK(plan.covers(410'000, 790'000, 10'000, 390'000));
  CHECK_FALSE(plan.covers(10'000, 790'000, 149'999, 390'000));
  CHECK_FALSE(plan.covers(10'000, 790'000, 150'000, 390'001));
}

// A step measured as two stations 1 or 10 mm apart with 300 mm between their walls, read straight: the ruled wall is
// respected there too, to a micrometre along the car, whether it runs in or out.
TEST_CASE("region: steep ruled walls between stations close together are never cut into") {
  Random random(47);
  const Corners wide{{0, 0}, {600'000, 0}, {600'000, 300'000}, {0, 300'000}};
  const Corners narrow{{0, 0}, {300'000, 0}, {300'000, 300'000}, {0, 300'000}};
  for (const Um depth : {7, 1'000, 10'000}) {
    for (const bool opens : {false, true}) {
      survey::Cavity cavity = prism(survey::Axis::x, 0, depth, opens ? narrow : wide);
      cavity.sections.at[1].outline = points(opens ? wide : narrow);
      const auto plan = region::free_plan(cavity, {}, Reading::straight, {50'000, 250'000});
      for (int i = 0; i < 100; ++i) {
        const Um x = between(random, 0, depth - 1), x_high = between(random, x + 1, depth);
        std::vector<geometry::SpanUm> free;
        plan.free_spans(Strips::along_y, x, x_high, free);
        REQUIRE(free.size() == 1);
        CAPTURE(depth);
        CAPTURE(x);
        CAPTURE(x_high);
        const Um in = opens ? depth - x : x_high;  // how far along the wall has come in most
        CHECK(free[0].high * depth <= 600'000 * depth - 300'000 * in);
        CHECK(free[0].high * depth >= 600'000 * depth - 300'000 * (in + 1) - 102 * depth);
      }
    }
  }
}
