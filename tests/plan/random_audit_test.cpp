/// Every plan of random cavities passes the independent check, which shares no code with the packer.

#include <doctest/doctest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <random>

#include "cellstow/audit/audit.hpp"
#include "cellstow/box/build_box.hpp"
#include "cellstow/packing/pack.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/report/write.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;
using namespace cellstow::test;

namespace {

class RandomJob {
 public:
  explicit RandomJob(unsigned seed) : random_(seed) {}

  survey::Job make() {
    survey::Job job;
    job.cell = cell(whole(40'000, 75'000), whole(120'000, 180'000), whole(150'000, 210'000));
    job.cell.terminal_top = job.cell.height + um(whole(0, 20'000));
    if (pick(0, 3) == 0) job.cell.stances = {survey::Stance::upright, survey::Stance::on_edge};
    if (pick(0, 5) == 0) job.cell.stances = {survey::Stance::flat};
    job.rules = rules();
    job.cavities = {cavity()};
    return job;
  }

 private:
  int pick(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  Um whole(int low, int high) { return pick(low, high); }

  survey::Rules rules() {
    survey::Rules rules;
    rules.body_clearance = um(whole(0, 20'000));
    rules.lid_clearance = um(whole(0, 20'000));
    rules.corner_relief = um(pick(0, 1) * whole(0, 8'000));
    rules.between_cells = um(pick(0, 2) * 500);
    rules.end_plate = um(whole(0, 12'000));
    rules.strap_space = um(whole(0, 8'000));
    rules.between_blocks = um(whole(0, 15'000));
    rules.block_cells = {pick(1, 2), pick(3, 12)};
    const survey::BoxOutline outlines[] = {survey::BoxOutline::rectangle, survey::BoxOutline::stepped,
                                           survey::BoxOutline::any, survey::BoxOutline::loose};
    rules.box_outline = outlines[pick(0, 3)];
    rules.arrangement = survey::Arrangement::rows;
    rules.boxes_per_cavity = pick(1, 2);
    rules.flange = um(pick(0, 1) * whole(0, 20'000));
    return rules;
  }

  /// Star-shaped, so simple; the same angles in every section, so that corners match.
  Corners outline(const std::vector<double>& angles, Um half_a, Um half_b, Um mid_a, Um mid_b) {
    Corners corners;
    for (const double angle : angles) {
      const double reach = 0.6 + 0.4 * pick(0, 1000) / 1000.0;
      corners.emplace_back(mid_a + std::llround(static_cast<double>(half_a) * reach * std::cos(angle)),
                           mid_b + std::llround(static_cast<double>(half_b) * reach * std::sin(angle)));
    }
    return corners;
  }

  survey::Cavity cavity() {
    survey::Cavity cavity;
    cavity.name = "bay";
    const survey::Axis axes[] = {survey::Axis::x, survey::Axis::y, survey::Axis::z};
    cavity.sections.across = axes[pick(0, 2)];
    cavity.sections.between = pick(0, 11) == 0 ? survey::Between::straight : survey::Between::common;
    std::vector<double> angles;
    const int corners = pick(5, 9);
    for (int k = 0; k < corners; ++k) angles.push_back((k + 0.2 + 0.6 * pick(0, 1000) / 1000.0) * 6.283185307179586 / corners);
    const int sections = pick(2, 4);
    const bool upright = cavity.sections.across != survey::Axis::z;
    for (int k = 0; k < sections; ++k) {
      const Corners loop = upright ? outline(angles, 500'000, 300'000, 0, 300'000)
                                   : outline(angles, 600'000, 500'000, 500'000, 0);
      cavity.sections.at.push_back({um((upright ? 300'000 : 170'000) * k), points(loop), {}});
    }
    add_keep_outs(cavity);
    if (pick(0, 1) == 0) {
      cavity.fittings.push_back({"main fuse", {um(whole(60'000, 170'000)), um(whole(40'000, 80'000)), um(90'000)}, 1, survey::FittingPlace::beside});
    }
    return cavity;
  }

  void add_keep_outs(survey::Cavity& cavity) {
    const Um x = whole(0, 600'000), y = whole(-300'000, 300'000), z = whole(0, 300'000);
    const std::optional<Length> own = pick(0, 1) == 0 ? std::optional<Length>(um(whole(0, 40'000))) : std::nullopt;
    switch (pick(0, 4)) {
      case 0:
        cavity.keep_outs.push_back({"duct", survey::KeepOutKind::fixed, own,
                                    survey::BoxShape{{um(x), um(y), um(z)}, {um(x + 60'000), um(y + 90'000), um(z + 120'000)}}});
        break;
      case 1:
        cavity.keep_outs.push_back({"pipe", survey::KeepOutKind::soft, own,
                                    survey::CylinderShape{{um(x), um(y), um(z)}, {um(x + pick(0, 1) * 120'000), um(y + 80'000 * pick(0, 1)), um(z + 200'000)}, um(45'000)}});
        break;
      case 2:
        cavity.keep_outs.push_back({"well", survey::KeepOutKind::removable, own,
                                    survey::PrismShape{points({{x, y}, {x + 150'000, y + 20'000}, {x + 70'000, y + 160'000}}), um(z), um(z + 90'000)}});
        break;
      default: break;
    }
  }

  std::mt19937 random_;
};

/// The packing part of a plan, with little work for turning: the audit asks for legal boxes, not for the most cells.
plan::Plan packed_at_free_heading(const survey::Job& job) {
  const survey::Cavity& cavity = job.cavities.front();
  packing::PackOptions options;
  options.reading = cavity.sections.between;
  options.heading_budget = 100'000;
  plan::CavityPlan packed;
  packed.name = cavity.name;
  packed.mark = "BA";
  packed.packing = packing::pack_cavity(cavity, job.cell, job.rules, options);
  packed.most_cells = packed.packing.cells;
  packed.bound = packed.packing.bound;
  packed.proven = packed.packing.proven;
  for (const packing::BoxLayout& layout : packed.packing.boxes) {
    packed.boxes.push_back({box::build_box(layout, cavity, job.cell, job.rules, "BA", static_cast<int>(packed.boxes.size()) + 1), {}, {}});
  }
  plan::Plan plan;
  plan.totals.cells = plan.totals.series = packed.packing.cells;
  plan.totals.boxes = static_cast<int>(packed.boxes.size());
  if (!packed.packing.fittings_without_place.empty()) {
    plan.checks.push_back(core::check_at_least("fittings placed", "main fuse", 0, 1, "pieces", "", "give room for: main fuse"));
  }
  plan.cavities.push_back(std::move(packed));
  return plan;
}

}  // namespace

TEST_CASE("plan: random jobs with boxes at any heading pass the independent check") {
  int turned = 0;
  for (unsigned seed = 101; seed <= 130; ++seed) {
    CAPTURE(seed);
    survey::Job job = RandomJob(seed).make();
    job.rules.heading = survey::Heading::free;
    job.rules.boxes_per_cavity = 1;
    const plan::Plan plan = packed_at_free_heading(job);
    for (const plan::BoxPlan& box : plan.cavities[0].boxes) turned += !box.box.layout.heading.is_square();
    const auto report = audit::audit_plan(report::plan_to_json(job, plan).dump(), "plan.json");
    REQUIRE(report.has_value());
    for (const audit::Violation& v : report->violations) {
      FAIL_CHECK(seed << ": " << v.rule << ": " << v.where << ": " << v.detail);
    }
  }
  CHECK(turned >= 3);
}

TEST_CASE("plan: random jobs pass the independent check") {
  int with_cells = 0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const survey::Job job = RandomJob(seed).make();
    const plan::Plan plan = plan::make_packing_only(job);
    with_cells += plan.totals.cells > 0;
    const auto report = audit::audit_plan(report::plan_to_json(job, plan).dump(), "plan.json");
    REQUIRE(report.has_value());
    for (const audit::Violation& v : report->violations) {
      FAIL_CHECK(seed << ": " << v.rule << ": " << v.where << ": " << v.detail);
    }
  }
  CHECK(with_cells > 35);  // the check is worth something only where something was packed
}
