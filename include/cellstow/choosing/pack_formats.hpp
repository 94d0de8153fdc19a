#pragma once
/// Many cell formats packed into all cavities: only as much work as comparing needs.

#include <atomic>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "cellstow/choosing/offer.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::choosing {

/// A cell format to compare.
struct Format {
  survey::Cell cell;
  std::optional<double> cost_each;
};

/// How much work one packing may take, in strip evaluations; see packing::PackOptions.
struct Effort {
  long long step_budget = 60'000;   ///< finds more than nine in ten of the cells of a full search, docs/benchmarks.md
  long long mixed_budget = 0;       ///< both directions at once, where the rules allow that
  auto operator<=>(const Effort&) const = default;
};

/// One question: how many of this cell, in these stances, in this cavity.
struct PackTask {
  std::size_t cavity = 0, format = 0;
  std::vector<survey::Stance> stances;
  Effort effort;
  auto operator<=>(const PackTask&) const = default;
};

/// Its answer, without the layout: what comparing needs.
struct PackedCavity {
  int cells = 0, bound = 0;
  bool proven = false;
  int boxes = 0;
  double kg = 0;                     ///< full boxes together
  double x_mm = 0, y_mm = 0, z_mm = 0;
  std::vector<survey::Stance> used;  ///< stances that the layout really uses
  int fittings_missing = 0;          ///< fittings that found no place
  bool operator==(const PackedCavity&) const = default;
};

/// Where finished answers are kept between runs. What it gives back is taken as the answer: an implementation must be
/// certain that everything the answer depends on is the same. Called from several threads at once.
class Store {
 public:
  virtual ~Store() = default;
  virtual std::optional<PackedCavity> find(const PackTask& task) = 0;
  virtual void keep(const PackTask& task, const PackedCavity& answer) = 0;
};

/// How the work is run; none of it changes the answer, but for `stop`, which ends searches early (then nothing is kept).
struct Running {
  int cores = 1;
  Store* store = nullptr;
  std::function<void(const std::string&)> tell;   ///< progress; from one thread at a time
  const std::atomic<bool>* stop = nullptr;
};

/// Answers one task. Pure.
PackedCavity pack_task(const survey::Job& job, const std::vector<Format>& formats, const PackTask& task, const std::atomic<bool>* stop = nullptr);

struct PackedFormats {
  std::map<PackTask, PackedCavity> answers;
  int packed = 0, from_store = 0;    ///< tasks worked out, and found kept
};

/// Answers all tasks, on `running.cores` threads. Results do not depend on their number or on the store.
void pack_tasks(const survey::Job& job, const std::vector<Format>& formats, const std::vector<PackTask>& tasks, const Running& running,
                PackedFormats& into);

/// "upright", "upright or on edge"
std::string stance_words(const std::vector<survey::Stance>& stances);

}  // namespace cellstow::choosing
