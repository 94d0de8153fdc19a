#include "report/answer.hpp"

#include <algorithm>
#include <cmath>

#include "report/text.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

/// How one box goes in, in a few words.
std::string short_way(const way_in::BoxWay& way) {
  using way_in::Way;
  std::string out;
  switch (way.way) {
    case Way::whole: out = "finished"; break;
    case Way::whole_tilted: out = "finished, tilted"; break;
    case Way::empty_then_cells: out = way.empty->upright() ? "empty, then the cells one by one" : "empty and tilted, then the cells one by one"; break;
    case Way::cells_only: out = "cell by cell"; break;
    case Way::none: return "DOES NOT GO IN";
  }
  if (!way.decided) return out + ", the way to its place not decided";
  const way_in::BodyWay* body = way.shown();
  if (body == nullptr || body->passage.room != way_in::Room::after_taking_out) return out;
  std::string first;
  for (const way_in::InTheWay& it : body->passage.in_the_way) first += (first.empty() ? ", take out first: " : ", ") + it.what;
  return out + first;
}

}  // namespace

std::string answer_sentence(const plan::Plan& plan) {
  const plan::Totals& t = plan.totals;
  std::string out = count(t.cells, "cell");
  if (plan.string) {
    out += ", " + std::to_string(t.series) + " in series";
    if (t.parallel > 1) out += ", " + std::to_string(t.parallel) + " side by side";
    out += ": " + number(t.nominal_v) + " V, " + number(t.energy_kwh) + " kWh";
    if (t.range_km) out += ", about " + number(*t.range_km, 0) + " km";
  }
  out += ", in " + count(t.boxes, "box", "boxes");
  if (t.spare_places > 0) out += ". " + count(t.spare_places, "place") + " left empty";
  return out + ".";
}

std::string cavity_sentence(const plan::CavityPlan& cavity) {
  std::string out = cavity.name + ": " + count(cavity.packing.cells, "cell");
  if (cavity.most_cells > cavity.packing.cells) out += " of the " + std::to_string(cavity.most_cells) + " found to fit";
  if (cavity.proven) {
    out += cavity.most_cells > cavity.packing.cells ? ", which is the most" : ", the most that fit";
    return out + " by these rules";
  }
  return out + "; more than " + std::to_string(cavity.bound) + " cannot fit, " +
         count(cavity.bound - cavity.most_cells, "more is", "more are") + " neither found nor ruled out";
}

std::string turned_words(core::Heading heading) {
  if (heading.is_square()) return {};
  return "turned " + number(std::abs(heading.degrees()), 2) + "\u00b0, rear to the " + (heading.degrees() > 0 ? "right" : "left");
}

std::string box_sentence(const plan::BoxPlan& plan) {
  const box::Box& box = plan.box;
  std::string out = "Box " + box.mark + " (" + box.name + "): " + count(static_cast<int>(box.layout.cells.size()), "cell");
  out += ", outside " + mm_text(box.outside[0]) + " x " + mm_text(box.outside[1]) + " x " + mm_text(box.outside[2]) + " mm";
  if (const std::string turned = turned_words(box.layout.heading); !turned.empty()) out += ", " + turned;
  return out + ", " + kg_text(box.mass_empty) + " kg empty, " + kg_text(box.mass_full) + " kg full";
}

std::vector<std::string> carrying_sentences(const plan::Plan& plan) {
  std::vector<std::string> out;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      std::string names;
      const restraint::FixingUseResult* worst = nullptr;
      for (const restraint::FixingUseResult& fixing : box.mounting.fixings) {
        if (!fixing.carries) continue;
        names += (names.empty() ? "" : ", ") + fixing.fixing;
        if (!worst || fixing.use > worst->use) worst = &fixing;
      }
      if (!worst) continue;
      out.push_back("Box " + box.box.mark + " is carried by " + names + "; hardest worked: " + worst->fixing + ", " +
                    percent(worst->use) + " (" + worst->governs + ", " + worst->worst_case + ")");
    }
  }
  return out;
}

std::string way_in_sentence(const plan::Plan& plan) {
  std::string out;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const way_in::BoxWay& way : cavity.way_in) out += (out.empty() ? "Way in: box " : "; box ") + way.mark + " " + short_way(way);
  }
  return out;
}

std::vector<std::string> axle_sentences(const survey::Job& job, const plan::Plan& plan) {
  std::vector<std::string> out;
  if (!plan.balance) return out;
  for (const balance::LoadState& state : plan.balance->states) {
    if (state.name == "stripped" || state.name == "as_driven") continue;
    out.push_back(state_name(state.name) + ": front " + kg_text(state.front) + " kg, rear " + kg_text(state.rear) +
                  " kg, together " + kg_text(state.total) + " kg, " + percent(state.front_share, 1) + " in front");
  }
  if (!out.empty() && job.car && job.car->axle_limits) {
    std::string line = "limits: front " + kg_text(job.car->axle_limits->front) + " kg, rear " +
                       kg_text(job.car->axle_limits->rear) + " kg";
    if (job.car->gross_limit) line += ", together " + kg_text(*job.car->gross_limit) + " kg";
    out.push_back(line);
  }
  return out;
}

std::vector<Failure> failures(const plan::Plan& plan) {
  std::vector<Failure> out;
  for (const core::Check& check : plan.checks) {
    if (check.ok) continue;
    const auto alike = std::find_if(out.begin(), out.end(), [&](const Failure& failure) {
      return failure.checks.front().name == check.name && failure.checks.front().cure == check.cure;
    });
    if (alike == out.end()) {
      out.push_back({{check}});
    } else {
      alike->checks.push_back(check);
    }
  }
  return out;
}

int failing_count(const plan::Plan& plan) {
  return static_cast<int>(std::count_if(plan.checks.begin(), plan.checks.end(), [](const core::Check& check) { return !check.ok; }));
}

std::string failure_sentence(const Failure& failure) {
  const core::Check& check = failure.checks.front();
  const ValueAndLimit text = value_and_limit(check);
  std::string out = check.name;
  if (!check.where.empty()) out += ", " + check.where;
  out += ": " + amount(text.value, check.unit) + (falls_short(check) ? ", needed " : ", limit ") + amount(text.limit, check.unit);
  if (failure.checks.size() > 1) out += ", and " + std::to_string(failure.checks.size() - 1) + " more like it";
  if (!check.cure.empty()) out += ". Cure: " + check.cure;
  return out;
}

}  // namespace cellstow::report
