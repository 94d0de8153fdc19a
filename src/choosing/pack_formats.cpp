#include "cellstow/choosing/pack_formats.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <mutex>

#include "cellstow/box/build_box.hpp"
#include "cellstow/core/side_by_side.hpp"
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

/// What is counted while several threads answer.
struct Tally {
  std::mutex mutex;
  std::size_t done = 0;
  int kept = 0;
};

PackedCavity answer(const survey::Job& job, const std::vector<Format>& formats, const PackTask& task, std::size_t of, const Running& running, Tally& tally) {
  std::optional<PackedCavity> known = running.store != nullptr ? running.store->find(task) : std::nullopt;
  const bool fresh = !known;
  if (fresh) {
    known = pack_task(job, formats, task, running.stop);
    if (running.store != nullptr && !stopped(running.stop)) running.store->keep(task, *known);
  }
  const std::lock_guard lock(tally.mutex);
  ++tally.done;
  if (!fresh) ++tally.kept;
  const bool worth_telling = tally.done * 10 / of != (tally.done - 1) * 10 / of;  // every tenth part
  if (running.tell && worth_telling) running.tell(fmt::format("packing: {} of {} done", tally.done, of));
  return std::move(*known);
}

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
  std::vector<balance::Lump> boxes;
  for (const packing::BoxLayout& layout : packing.boxes) {
    boxes.push_back(plan::lump_of(box::build_box(layout, cavity, cell, job.rules, "B", static_cast<int>(boxes.size()) + 1)));
  }
  const Offer offer = offer_of(boxes, packing.cells);
  return {packing.cells, packing.bound, packing.proven, offer.boxes, offer.kg_per_cell * packing.cells, offer.x_mm, offer.y_mm, offer.z_mm,
          stances_used(packing), static_cast<int>(packing.fittings_without_place.size())};
}

void pack_tasks(const survey::Job& job, const std::vector<Format>& formats, const std::vector<PackTask>& tasks, const Running& running,
                PackedFormats& into) {
  Tally tally;
  std::vector<PackedCavity> answers = core::side_by_side(
      tasks.size(), [&](std::size_t i) { return answer(job, formats, tasks[i], tasks.size(), running, tally); },
      static_cast<std::size_t>(std::max(1, running.cores)));
  for (std::size_t i = 0; i < tasks.size(); ++i) into.answers[tasks[i]] = std::move(answers[i]);
  into.from_store += tally.kept;
  into.packed += static_cast<int>(tasks.size()) - tally.kept;
}

std::string stance_words(const std::vector<survey::Stance>& stances) {
  std::string words;
  for (const survey::Stance stance : stances) words += (words.empty() ? "" : " or ") + std::string(word(stance));
  return words;
}

}  // namespace cellstow::choosing
