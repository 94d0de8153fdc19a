#include "report/limits_json.hpp"

#include "report/words.hpp"

namespace cellstow::report {
namespace {

const char* word(limits::ChangeKind kind) {
  const char* const words[] = {"wall", "keep_out", "rule", "fitting"};
  return words[static_cast<int>(kind)];
}

const char* word(limits::Looked looked) {
  const char* const words[] = {"not at all", "at this floor height", "everywhere"};
  return words[static_cast<int>(looked)];
}

Json enough_to_json(const std::optional<limits::Enough>& enough) {
  if (!enough) return nullptr;
  return {{"change_mm", mm(enough->change)}, {"cells", enough->cells}, {"least", enough->least}};
}

Json worth_to_json(int cells, const limits::CellWorth& worth) {
  Json out = {{"cells", cells}};
  out["kwh"] = worth.kwh ? rounded(cells * *worth.kwh, 3) : Json(nullptr);
  out["km"] = worth.km ? rounded(cells * *worth.km, 1) : Json(nullptr);
  out["kg"] = rounded(cells * worth.kg, 3);
  return out;
}

Json change_to_json(const limits::Limit& limit, const limits::CellWorth& worth) {
  Json out = {{"kind", word(limit.kind)}, {"what", limit.what}, {"where", limit.where}, {"how", limit.how}};
  const bool has_value = limit.now > core::Length{};
  out["now_mm"] = has_value ? mm(limit.now) : Json(nullptr);
  out["largest_mm"] = limit.all_or_nothing ? Json(nullptr) : mm(limit.largest);
  out["more"] = enough_to_json(limit.more);
  out["full_row"] = enough_to_json(limit.full_row);
  out["most"] = worth_to_json(limit.most, worth);
  out["looked"] = word(limit.looked);
  out["ruled_out"] = limit.ruled_out;
  out["caution"] = limit.caution;
  return out;
}

}  // namespace

Json trust_to_json(const std::optional<limits::TrustList>& trust) {
  if (!trust) return nullptr;
  Json items = Json::array();
  for (const limits::TrustItem& item : trust->items) {
    items.push_back({{"trust", item.trust == limits::Trust::good ? "good" : item.trust == limits::Trust::doubtful ? "doubtful" : "missing"},
                     {"what", item.what},
                     {"why", item.why},
                     {"give_or_take_mm", mm(item.give_or_take)},
                     {"cells_if_off", item.cells_if_off ? Json(*item.cells_if_off) : Json(nullptr)}});
  }
  return {{"cells", trust->cells}, {"cells_if_all_off", trust->cells_if_all_off ? Json(*trust->cells_if_all_off) : Json(nullptr)}, {"items", items}};
}

Json limits_to_json(const std::optional<limits::CavityLimits>& limits, const limits::CellWorth& worth) {
  if (!limits) return nullptr;
  Json changes = Json::array(), fittings = Json::array();
  for (const limits::Limit& limit : limits->limits) changes.push_back(change_to_json(limit, worth));
  for (const limits::FittingPlaceCost& fitting : limits->fittings) {
    fittings.push_back({{"fitting", fitting.fitting}, {"place", word(fitting.place)}, {"finds_place", fitting.finds_place},
                        {"cells", fitting.finds_place ? Json(fitting.cells) : Json(nullptr)}});
  }
  return {{"cells", limits->cells}, {"full_row", limits->full_row}, {"changes", std::move(changes)},
          {"fittings", std::move(fittings)}, {"probes", limits->probes}, {"steps", limits->steps}, {"notes", limits->notes}};
}

Json fit_to_json(const plan::CavityPlan& cavity) {
  Json out = Json::array();
  for (const plan::BoxPlan& box : cavity.boxes) {
    if (!box.fit) continue;
    const limits::Fit& fit = *box.fit;
    const bool said = fit.certain || fit.samples > 0;
    const auto share = [&](double value) { return said ? rounded(value, 4) : Json(nullptr); };
    Json entry = {{"box", box.box.mark}, {"give_or_take_mm", mm(fit.give_or_take)}, {"nothing_touches_up_to_mm", mm(fit.nothing_touches_up_to)},
                  {"certain", fit.certain}, {"samples", fit.samples}, {"chance", share(fit.chance.share)}, {"chance_low", share(fit.chance.low)},
                  {"chance_high", share(fit.chance.high)}, {"touched_most", fit.touched_most}, {"touches", fit.touches}};
    entry["shrink_mm"] = fit.shrink ? mm(*fit.shrink) : Json(nullptr);
    entry["cells_at_shrink"] = fit.cells_at_shrink ? Json(*fit.cells_at_shrink) : Json(nullptr);
    out.push_back(std::move(entry));
  }
  return out;
}

}  // namespace cellstow::report
