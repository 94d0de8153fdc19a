#pragma once
/// From packed cavities to strings that suit the drive. Internal to choosing.

#include "cellstow/choosing/choose.hpp"
#include "cellstow/choosing/leverage.hpp"

namespace cellstow::choosing {

/// One format in one set of stances, packed into every cavity.
struct Filling {
  std::size_t format = 0;
  std::vector<survey::Stance> stances;
  std::vector<PackedCavity> cavities;      ///< job order
};

/// The car without boxes in the states that have them; empty without wheelbase or weighing.
struct BareStates { balance::LoadState empty, as_driven, full; double wheelbase_mm = 0; };
std::optional<BareStates> bare_states(const survey::Job& job);

/// Every count in series and side by side that suits the drive, each shared among the cavities as its limits and target ask.
void add_candidates(const survey::Job& job, const Format& format, const Filling& filling, const std::optional<BareStates>& bare,
                    int most_parallel, std::vector<Candidate>& candidates);

std::vector<Offer> offers_of(const survey::Job& job, const Filling& filling);

}  // namespace cellstow::choosing
