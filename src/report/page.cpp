#include "report/html.hpp"
#include "report/page_parts.hpp"
#include "report/split_parts.hpp"
#include "report/text.hpp"
#include "cellstow/report/write.hpp"

namespace cellstow::report {

std::string title_of(const survey::Job& job) {
  if (!one_line(job.title).empty()) return one_line(job.title);
  if (job.car && !one_line(job.car->name).empty()) return one_line(job.car->name);
  return "battery boxes";
}

std::string page(const survey::Job& job, const plan::Plan& plan, const Supplements& more) {
  const std::string title = title_of(job);
  std::string out = "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n";
  out += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  out += element("title", title + ": battery boxes") + page_style(title) + "</head>\n<body>\n";
  out += page_answer(job, plan);
  out += page_balance(job, plan);
  if (more.splits != nullptr) out += page_splits(*more.splits, "lists/splits.csv");
  for (const plan::CavityPlan& cavity : plan.cavities) out += page_cavity(job, plan, cavity);
  out += page_trust(plan);
  out += page_measuring(job, more.tapes);
  out += page_links(job, plan);
  out += page_lists(job, plan);
  out += page_sides(job);
  out += page_grounds(job, plan);
  return out + "</body>\n</html>\n";
}

}  // namespace cellstow::report
