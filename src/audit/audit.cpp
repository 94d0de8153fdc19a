#include "cellstow/audit/audit.hpp"

#include "checks.hpp"
#include "read_plan.hpp"

namespace cellstow::audit {
namespace {

/// Sections and keep-outs that cross themselves say nothing about where a box may stand.
core::Problems crossed_outlines(const Plan& plan, const std::string& file) {
  core::Problems out;
  const auto check = [&](const Ring& ring, const std::string& pointer) {
    if (is_simple_ring(ring)) return;
    out.push_back({"E203", file, pointer, "outline crosses itself", std::to_string(ring.size()) + " corners",
                   "corners in order round the wall, no corner twice", ""});
  };
  for (std::size_t c = 0; c < plan.job_cavities.size(); ++c) {
    const CavityJob& job = plan.job_cavities[c];
    const std::string at = "/job/cavities/" + std::to_string(c);
    for (std::size_t s = 0; s < job.sections.size(); ++s) {
      const std::string section = at + "/sections/at/" + std::to_string(s);
      check(job.sections[s].outline, section + "/outline_mm");
      for (std::size_t h = 0; h < job.sections[s].holes.size(); ++h) {
        check(job.sections[s].holes[h], section + "/holes_mm/" + std::to_string(h));
      }
    }
    for (std::size_t k = 0; k < job.keep_outs.size(); ++k) {
      if (job.keep_outs[k].kind != KeepOut::Kind::prism) continue;
      check(job.keep_outs[k].outline, at + "/keep_outs/" + std::to_string(k) + "/prism_mm/outline");
    }
  }
  return out;
}

void check_box(const BoxContext& context, const CavityJob& job, CavitySpace& space, Findings& findings) {
  if (context.box.slack > 0) {
    findings.not_checked(context.where + ": turned to a free heading, so its contents are looked at to 2 um only");
  }
  if (check_outline(context, findings)) {
    check_box_in_cavity(context, job, space, findings);
    check_contents_in_box(context, job, findings);
  } else {
    findings.not_checked(context.where + ": clearances and contents, because its outline is no proper shape");
  }
  check_fittings_clear(context, job, findings);
  check_block_make(context, findings);
  check_blocks(context, findings);
  check_cells_apart(context, findings);
}

void check_cavity(const Plan& plan, const CavityPlan& cavity, Findings& findings) {
  const CavityJob& job = plan.job_cavities[static_cast<std::size_t>(cavity.job_index)];
  CavitySpace space(job);
  for (const Box& box : cavity.boxes) {
    check_box({plan.cell, plan.rules, box, cavity.name + ", " + box.name}, job, space, findings);
  }
  check_boxes_together(plan, cavity, findings);
  check_fittings_present(plan, cavity, findings);
}

}  // namespace

core::Result<AuditReport> audit_plan(std::string_view plan_text, const std::string& name) {
  const core::Result<Plan> plan = read_plan(plan_text, name);
  if (!plan) return tl::unexpected(plan.error());
  const core::Problems crossed = crossed_outlines(*plan, name);
  if (!crossed.empty()) return tl::unexpected(crossed);
  Findings findings;
  for (const CavityPlan& cavity : plan->cavities) check_cavity(*plan, cavity, findings);
  check_counts(*plan, findings);
  check_string(*plan, findings);
  check_balance(*plan, findings);
  check_checks(*plan, findings);
  check_wiring(*plan, findings);
  AuditReport report = findings.report();
  for (const CavityPlan& cavity : plan->cavities) {
    for (const Box& box : cavity.boxes) {
      ++report.boxes;
      report.blocks += static_cast<int>(box.blocks.size());
      report.cells += static_cast<int>(box.cells.size());
    }
  }
  return report;
}

}  // namespace cellstow::audit
