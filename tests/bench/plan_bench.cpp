/// Time of packing by number of corners, and of whole plans of the shipped sample jobs.

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <optional>

#include "cellstow/packing/pack.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/read_job.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;

namespace {

/// A smooth, waisted outline of about 1000 x 800 mm.
test::Corners blob(int corners) {
  test::Corners outline;
  for (int k = 0; k < corners; ++k) {
    const double angle = 2 * std::numbers::pi * k / corners;
    const double swell = 1 + 0.08 * std::sin(3 * angle + 0.4) + 0.04 * std::sin(7 * angle + 1.1);
    outline.emplace_back(std::llround(500'000 * swell * std::cos(angle)),
                         std::llround(400'000 * swell * std::sin(angle)));
  }
  return outline;
}

/// The shop's default rules, in rows.
survey::Rules shop_rules() {
  survey::Rules rules;
  rules.arrangement = survey::Arrangement::rows;
  return rules;
}

void pack(benchmark::State& state, const survey::Rules& rules) {
  const auto cavity = test::shaft(blob(static_cast<int>(state.range(0))), 260'000);
  const auto cell = test::cell(72'000, 174'000, 205'000);
  packing::CavityPacking packing;
  for (auto _ : state) packing = packing::pack_cavity(cavity, cell, rules);
  state.counters["cells"] = packing.cells;
  state.counters["proven"] = packing.proven;
  state.counters["work"] = static_cast<double>(packing.steps);
}

void pack_bare(benchmark::State& state) { pack(state, test::bare_rules()); }
void pack_shop(benchmark::State& state) { pack(state, shop_rules()); }

void plan_job(benchmark::State& state, const survey::Job& job, const survey::Catalogue& catalogue) {
  plan::Plan plan;
  for (auto _ : state) plan = plan::make_plan(job, catalogue);
  state.counters["cells"] = plan.totals.cells;
}

void pack_job(benchmark::State& state, const survey::Job& job) {
  plan::Plan plan;
  for (auto _ : state) plan = plan::make_packing_only(job);
  state.counters["cells"] = plan.totals.cells;
}

/// One corner of the first outline moved, as when it is dragged; the cavity packed anew until the first answer is told.
void first_answer(benchmark::State& state, survey::Job job, std::size_t cavity) {
  core::Um shift = 1'000;
  int cells = 0;
  for (auto _ : state) {
    survey::Cavity moved = job.cavities[cavity];
    survey::Point2& corner = moved.sections.at[0].outline[0];
    corner.a = core::Length::from_um(corner.a.um() + (shift = -shift));
    packing::PackOptions options;
    options.reading = moved.sections.between;
    const auto start = std::chrono::steady_clock::now();
    std::optional<double> seconds;
    options.watch = [&](const packing::PackProgress& so_far) {
      if (!seconds && so_far.cells > 0) seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    };
    cells = packing::pack_cavity(moved, job.cell, job.rules, options).cells;
    state.SetIterationTime(seconds.value_or(std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count()));
  }
  state.counters["cells"] = cells;
}

void register_samples() {
  namespace fs = std::filesystem;
  const fs::path shapes = CELLSTOW_SHAPES;
  const auto catalogue = survey::read_catalogue(shapes);
  if (!catalogue || !fs::exists(shapes / "samples")) return;
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(shapes / "samples")) {
    if (entry.path().extension() == ".json") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  for (const fs::path& file : files) {
    const auto job = survey::read_job(file, {}, shapes, *catalogue);
    if (!job) continue;
    const std::string name = file.stem().string();
    benchmark::RegisterBenchmark(("pack_sample/" + name).c_str(), pack_job, *job)
        ->MeasureProcessCPUTime()
        ->UseRealTime()
        ->Unit(benchmark::kMillisecond);
    for (std::size_t i = 0; i < job->cavities.size(); ++i) {
      benchmark::RegisterBenchmark(("first_answer/" + name + "/" + job->cavities[i].name).c_str(), first_answer, *job, i)
          ->UseManualTime()
          ->Unit(benchmark::kMillisecond);
    }
    benchmark::RegisterBenchmark(("plan_sample/" + name).c_str(), plan_job, *job, *catalogue)
        ->MeasureProcessCPUTime()
        ->UseRealTime()
        ->Unit(benchmark::kMillisecond);
  }
}

}  // namespace

BENCHMARK(pack_bare)->Arg(20)->Arg(200)->Arg(2'000)->Arg(20'000)->Unit(benchmark::kMillisecond);
BENCHMARK(pack_shop)->Arg(20)->Arg(200)->Arg(2'000)->Arg(20'000)->Unit(benchmark::kMillisecond);

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  register_samples();
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
  return 0;
}
