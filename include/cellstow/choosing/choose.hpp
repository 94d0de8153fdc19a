#pragma once
/// Cell formats, stances and counts in series compared over all cavities of a job.

#include <optional>
#include <string>
#include <vector>

#include "cellstow/choosing/pack_formats.hpp"
#include "cellstow/choosing/rough.hpp"
#include "cellstow/choosing/splits.hpp"

namespace cellstow::choosing {

/// Where a candidate stands beside the others.
enum class Standing {
  best,    ///< nothing beats it
  beaten,  ///< one of the best ones beats it
  fewer,   ///< not the most cells of its format, and no best one beats it: something in between
};

/// One way to fill the car: a format, its stances, cells in series and side by side, shared among the cavities.
struct Candidate {
  std::size_t format = 0;
  std::vector<survey::Stance> stances;   ///< those allowed here; `used` are those that stand in the boxes
  std::vector<survey::Stance> used;
  int series = 0, parallel = 1, cells = 0;
  int places = 0;                        ///< what the cavities hold
  bool proven = false;                   ///< no more places by these rules, in any cavity
  bool fullest = false;                  ///< most cells of this format in these stances; of those that go past no limit, where there are any
  std::vector<int> per_cavity;           ///< cells, job order
  double nominal_v = 0, kwh = 0;
  std::optional<Band> range_km;
  double boxes_kg = 0;                   ///< full boxes
  int boxes = 0;
  std::optional<double> front_share;     ///< as driven
  double share_miss_points = 0;          ///< outside the target; 0 inside, or without one
  std::optional<double> cg_height_mm;    ///< of the car as driven where its own is known, else of the boxes
  std::optional<double> cost;            ///< of the cells
  std::optional<double> peak_per_hour;   ///< controller's peak current over capacity: "C"
  std::vector<std::string> breaks;       ///< limits it goes past: "rear axle, all seats taken: 12 kg over"

  Standing standing = Standing::fewer;
  std::size_t beaten_by = 0;             ///< index of a best one that beats it, when beaten
  std::string beaten_how;                ///< "as many kWh, 14 kg lighter"
};

struct ChooseOptions {
  Effort quick;                          ///< for every task
  Effort closer{250'000, 15'000};        ///< for what came out best and is not proven
  int most_parallel = 4;                 ///< cells side by side tried, from 1
  bool each_stance = false;              ///< every stance of every format alone too, not only of what came out best
};

struct Choice {
  std::vector<Candidate> candidates;     ///< best ones first, then by falling energy
  std::vector<std::string> left_out;     ///< formats that could not be compared, and why
  std::vector<std::string> notes;        ///< how it was worked out
  bool cg_of_car = false, has_cost = false;
  std::optional<survey::ShareTarget> target;
  std::optional<std::size_t> split_of;   ///< candidate whose splits are told
  std::optional<SplitStudy> splits;
  int packed = 0, from_store = 0;        ///< for the progress line only: depends on the store
};

/// Packs every format, with all stances it allows, into every cavity; joins the cavities to strings that suit the drive; marks the best ones.
/// What came out best, and the job's own cell, is packed in each stance alone too, and looked at more closely where its count is not proven.
/// Pure but for the store.
Choice choose(const survey::Job& job, const std::vector<Format>& formats, const std::vector<survey::ChangeLimit>& change_limits,
              const ChooseOptions& options, const Running& running);

}  // namespace cellstow::choosing
