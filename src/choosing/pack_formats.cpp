#include "cellstow/choosing/pack_formats.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <mutex>
#include <thread>

#include "cellstow/box/build_box.hpp"
#include "cellstow/packing/pack.hpp"

namespace cellstow::choosing {
namespace {

bool stopped(const std::atomic<bool>* stop) { return stop != nullptr && *stop; }

std::vector<survey::Stance> stances_used(const packing::CavityPacking& packing) {
  std::vector<survey::Stance> used;
  for (const packing::BoxLayout& layout : packing.boxes) {
    for (const packing::Block& block : layout.blocks) used.push_back(block.stance);
  }
  std::sort(used.begin(), used.end());
  used.erase(std::unique(used.begin(), used.end()), used.end());
  return used;
}

packing::PackOptions options_of(const survey::Cavity& cavity, const Effort& effort, const std::atomic<bool>* stop) {
  packing::PackOptions options;
  options.reading = cavity.sections.between;
  options.step_budget = effort.step_budget;
  options.mixed_budget = effort.mixed_budget;
  options.heading_budget = 0;
  options.stop = stop;
  if (cavity.cells_wanted) options.enough = cavity.cells_wanted->max;
  return options;
}

/// The same questions in one list, worked through by several threads; each answer goes to its own place.
class Work {
 public:
  Work(const survey::Job& job, const std::vector<Format>& formats, const std::vector<PackTask>& tasks, const Running& running)
      : job_(job), formats_(formats), tasks_(tasks), running_(running), answers_(tasks.size()) {}

  void run() {
    std::vector<std::thread> others;
    const std::size_t cores = std::min<std::size_t>(static_cast<std::size_t>(std::max(1, running_.cores)), tasks_.size());
    for (std::size_t i = 1; i < cores; ++i) others.emplace_back([this] { take_turns(); });
    take_turns();
    for (std::thread& other : others) other.join();
    if (fault_) std::rethrow_exception(fault_);
  }

  void hand_over(PackedFormats& into) const {
    for (std::size_t i = 0; i < tasks_.size(); ++i) into.answers[tasks_[i]] = answers_[i];
    into.from_store += kept_;
    into.packed += static_cast<int>(tasks_.size()) - kept_;
  }

 private:
  void take_turns() {
    for (std::size_t i = next_++; i < tasks_.size(); i = next_++) {
      try {
        answer(i);
      } catch (...) {
        const std::lock_guard lock(mutex_);
        fault_ = std::current_exception();
        next_ = tasks_.size();
      }
    }
  }

  void answer(std::size_t i) {
    std::optional<PackedCavity> known = running_.store != nullptr ? running_.store->find(tasks_[i]) : std::nullopt;
    const bool fresh = !known;
    if (fresh) {
      known = pack_task(job_, formats_, tasks_[i], running_.stop);
      if (running_.store != nullptr && !stopped(running_.stop)) running_.store->keep(tasks_[i], *known);
    }
    answers_[i] = std::move(*known);
    const std::lock_guard lock(mutex_);
    ++done_;
    if (!fresh) ++kept_;
    const bool worth_telling = done_ * 10 / tasks_.size() != (done_ - 1) * 10 / tasks_.size();  // every tenth part
    if (running_.tell && worth_telling) running_.tell(fmt::format("packing: {} of {} done", done_, tasks_.size()));
  }

  const survey::Job& job_;
  const std::vector<Format>& formats_;
  const std::vector<PackTask>& tasks_;
  const Running& running_;
  std::vector<PackedCavity> answers_;
  std::atomic<std::size_t> next_{0};
  std::mutex mutex_;
  std::size_t done_ = 0;
  int kept_ = 0;
  std::exception_ptr fault_;
};

const char* word(survey::Stance stance) {
  switch (stance) {
    case survey::Stance::upright: return "upright";
    case survey::Stance::on_edge: return "on edge";
    case survey::Stance::flat: return "flat";
  }
  return "";
}

}  // namespace

PackedCavity pack_task(const survey::Job& job, const std::vector<Format>& formats, const PackTask& task, const std::atomic<bool>* stop) {
  const survey::Cavity& cavity = job.cavities[task.cavity];
  survey::Cell cell = formats[task.format].cell;
  cell.stances = task.stances;
  const packing::CavityPacking packing = packing::pack_cavity(cavity, cell, job.rules, options_of(cavity, task.effort, stop));
  std::vector<box::Box> boxes;
  for (const packing::BoxLayout& layout : packing.boxes) {
    boxes.push_back(box::build_box(layout, cavity, cell, job.rules, "B", static_cast<int>(boxes.size()) + 1));
  }
  const Offer offer = offer_of(boxes, packing.cells);
  return {packing.cells, packing.bound, packing.proven, offer.boxes, offer.kg_per_cell * packing.cells, offer.x_mm, offer.y_mm, offer.z_mm,
          stances_used(packing), static_cast<int>(packing.fittings_without_place.size())};
}

void pack_tasks(const survey::Job& job, const std::vector<Format>& formats, const std::vector<PackTask>& tasks, const Running& running,
                PackedFormats& into) {
  if (tasks.empty()) return;
  Work work(job, formats, tasks, running);
  work.run();
  work.hand_over(into);
}

std::string stance_words(const std::vector<survey::Stance>& stances) {
  std::string words;
  for (const survey::Stance stance : stances) words += (words.empty() ? "" : " or ") + std::string(word(stance));
  return words;
}

}  // namespace cellstow::choosing
