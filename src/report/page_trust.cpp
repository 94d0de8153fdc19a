#include "report/html.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

std::string cells_left(const limits::TrustList& list, const limits::TrustItem& item) {
  if (!item.cells_if_off) return item.trust == limits::Trust::doubtful ? "not told" : "";
  const int lost = list.cells - *item.cells_if_off;
  if (lost <= 0) return "all " + std::to_string(list.cells) + " still fit";
  return std::to_string(*item.cells_if_off) + ", " + std::to_string(lost) + " fewer";
}

/// What is doubtful or missing; the rest is counted in a sentence.
Table doubts(const limits::TrustList& list) {
  Table out{{"what", "", "give or take mm", "cells if it is off that far", "why"}, {}};
  for (const limits::TrustItem& item : list.items) {
    if (item.trust == limits::Trust::good) continue;
    const bool missing = item.trust == limits::Trust::missing;
    out.rows.push_back({item.what, missing ? "missing" : "doubtful", missing ? "" : mm_text(item.give_or_take), cells_left(list, item), item.why});
  }
  return out;
}

std::string sentence_of(const limits::TrustList& list) {
  int good = 0, taken = 0;
  for (const limits::TrustItem& item : list.items) {
    good += item.trust == limits::Trust::good;
    taken += item.trust != limits::Trust::missing;
  }
  std::string out = good == taken ? "All " + std::to_string(taken) + " measurements are within what was said of the tape."
                                  : std::to_string(good) + " of " + std::to_string(taken) + " measurements are within what was said of the tape.";
  if (!list.cells_if_all_off) return out;
  const int lost = list.cells - *list.cells_if_all_off;
  if (lost <= 0) return out + " Were all of them off the worst way at once, all " + std::to_string(list.cells) + " cells would still fit.";
  return out + " Were all of them off the worst way at once, " + std::to_string(*list.cells_if_all_off) + " cells would fit, " + std::to_string(lost) +
         " fewer: the mock-up tells before metal does.";
}

}  // namespace

std::string page_trust(const plan::Plan& plan) {
  std::string out;
  for (const plan::CavityPlan& cavity : plan.cavities) {
    if (!cavity.trust || cavity.trust->items.empty()) continue;
    out += element("h3", one_line(cavity.name)) + element("p", sentence_of(*cavity.trust)) + html_table(doubts(*cavity.trust), {2});
  }
  if (out.empty()) return out;
  return "<section class=\"part\">\n<h2>Is the measuring good enough to cut?</h2>\n" + out + "</section>\n";
}

}  // namespace cellstow::report
