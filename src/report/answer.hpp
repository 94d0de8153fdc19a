#pragma once
/// The answer in sentences, for the screen and the head of the page. Internal to report.

#include <string>
#include <vector>

#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::report {

/// "26 cells, 26 in series: 83.2 V, 13.3 kWh, about 65 km, in 2 boxes. ..."
std::string answer_sentence(const plan::Plan& plan);

/// "tank well: 18 cells, the most that fit"
std::string cavity_sentence(const plan::CavityPlan& cavity);

/// "Box TW (tank well): 18 cells, outside 560 x 580 x 305 mm, 12.2 kg empty, 111.2 kg full"
std::string box_sentence(const plan::BoxPlan& box);

/// One a box: which of the car's own bolts carry it.
std::vector<std::string> carrying_sentences(const plan::Plan& plan);

/// "Way in: box FT empty, then the cells; box EB finished, take out first: bonnet lock". Empty without openings.
std::string way_in_sentence(const plan::Plan& plan);

/// Axle loads as the car came, converted, and full, against the limits.
std::vector<std::string> axle_sentences(const survey::Job& job, const plan::Plan& plan);

/// Checks of one kind that do not hold and share one cure; the worst comes first.
struct Failure { std::vector<core::Check> checks; };

/// Worst first, as in the plan.
std::vector<Failure> failures(const plan::Plan& plan);

/// How many checks do not hold.
int failing_count(const plan::Plan& plan);

/// "rear axle load, all seats taken: 726 kg, limit 720 kg, and 2 more like it. Cure: ..."
std::string failure_sentence(const Failure& failure);

}  // namespace cellstow::report
