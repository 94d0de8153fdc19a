/// A hundred invented cell formats over three cavities: on one core and on two, and again with everything kept.

#include <fmt/format.h>

#include <chrono>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <map>
#include <mutex>

#include "cellstow/choosing/choose.hpp"
#include "cellstow/survey/read_job.hpp"
#include "choosing/many_formats.hpp"

using namespace cellstow;

namespace {

class InMemory : public choosing::Store {
 public:
  std::optional<choosing::PackedCavity> find(const choosing::PackTask& task) override {
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find(task);
    return found == kept_.end() ? std::nullopt : std::optional(found->second);
  }
  void keep(const choosing::PackTask& task, const choosing::PackedCavity& answer) override {
    const std::lock_guard lock(mutex_);
    kept_[task] = answer;
  }

 private:
  std::mutex mutex_;
  std::map<choosing::PackTask, choosing::PackedCavity> kept_;
};

survey::Job sample(const std::string& name, const survey::Catalogue& catalogue) {
  const std::filesystem::path shapes = CELLSTOW_SHAPES;
  auto job = survey::read_job(shapes / "samples" / (name + ".json"), {}, shapes, catalogue);
  if (!job) {
    fmt::print(stderr, "{}", core::to_text(job.error()));
    std::exit(2);
  }
  return std::move(*job);
}

void run(const char* what, const survey::Job& job, const std::vector<choosing::Format>& formats, int cores, choosing::Store* store, bool closer) {
  choosing::ChooseOptions options;
  if (!closer) options.closer = options.quick;
  choosing::Running running;
  running.cores = cores;
  running.store = store;
  const auto start = std::chrono::steady_clock::now();
  const std::clock_t cpu = std::clock();
  const choosing::Choice choice = choosing::choose(job, formats, {}, options, running);
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  int best = 0, proven = 0;
  for (const auto& c : choice.candidates) {
    best += c.standing == choosing::Standing::best;
    proven += c.standing == choosing::Standing::best && c.proven;
  }
  fmt::print("| {} | {} | {:.1f} s | {:.1f} s | {} | {} | {} | {} | {} |\n", what, cores, seconds, static_cast<double>(std::clock() - cpu) / CLOCKS_PER_SEC, choice.packed,
             choice.from_store, choice.candidates.size(), best, proven);
}

/// Of the cells that a search with the usual allowance finds in rows, those that the quick look finds.
void quick_beside_full(const survey::Job& job, const std::vector<choosing::Format>& formats) {
  int quick = 0, full = 0, fewer = 0, all = 0;
  for (std::size_t f = 0; f < formats.size() && f < 30; ++f) {
    for (std::size_t c = 0; c < job.cavities.size(); ++c) {
      choosing::PackTask task{c, f, formats[f].cell.stances, {}};
      const int here = choosing::pack_task(job, formats, task).cells;
      task.effort.step_budget = 3'000'000;
      const int most = choosing::pack_task(job, formats, task).cells;
      quick += here;
      full += most;
      ++all;
      fewer += here < most;
    }
  }
  fmt::print("quick look: {} of {} cells ({:.1f} %), fewer in {} of {} packings\n\n", quick, full, 100.0 * quick / full, fewer, all);
}

}  // namespace

int main(int argc, char** argv) {
  const int count = argc > 1 ? std::atoi(argv[1]) : 100;
  const auto catalogue = survey::read_catalogue(CELLSTOW_SHAPES);
  if (!catalogue) return 2;
  survey::Job job = sample("estate", *catalogue);
  job.cavities.push_back(sample("coupe", *catalogue).cavities[0]);
  job.string->series.reset();
  const auto formats = test::many_formats(count, 20);
  quick_beside_full(job, formats);
  fmt::print("| {} formats, {} cavities | cores | time | processor | packed | kept | ways | best | of them proven |\n|---|---:|---:|---:|---:|---:|---:|---:|---:|\n", count, job.cavities.size());
  run("without the closer look", job, formats, 1, nullptr, false);
  run("without the closer look", job, formats, 2, nullptr, false);
  run("with the closer look", job, formats, 1, nullptr, true);
  InMemory store;
  run("with the closer look", job, formats, 2, &store, true);
  run("again, all kept", job, formats, 2, &store, true);
  return 0;
}
