#include "report/bench.hpp"
#include "report/bench_parts.hpp"
#include "report/html.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"
#include "report/wired.hpp"

namespace cellstow::report {
namespace {

/// A triangle with a flash: the usual sign for electric shock, as UN R100 asks on a rechargeable energy storage system (from memory).
constexpr const char* warning_sign =
    "<svg viewBox=\"0 0 100 90\" width=\"34mm\" height=\"30.6mm\" role=\"img\" aria-label=\"warning: electric shock\">"
    "<polygon points=\"50,4 97,86 3,86\" fill=\"#ffd500\" stroke=\"#000\" stroke-width=\"7\" stroke-linejoin=\"round\"/>"
    "<polygon points=\"53,24 38,54 51,54 44,70 39,67 43,80 55,72 50,72 64,46 51,46 60,24\" fill=\"#000\"/></svg>";

std::string line(const std::string& text) { return element("p", text); }

std::string box_label(const survey::Job& job, const plan::Plan& plan, const plan::BoxPlan& box) {
  std::string out = "<div class=\"box-label\">\n<div class=\"head\">" + std::string(warning_sign) + element("b", "Battery box " + box.box.mark) + "</div>\n";
  double volts = 0;
  if (plan.wiring) {
    for (const wiring::BoxWiring& wired : plan.wiring->boxes) {
      if (wired.mark == box.box.mark) volts = wired.max_v;
    }
  }
  if (plan.string) out += element("p", number(plan.string->max_v) + " V DC highest, whole string", "volts");
  if (volts > 0) out += line("This box by itself: " + number(volts) + " V DC. Stays live with everything switched off.");
  out += line(std::to_string(box.box.layout.cells.size()) + " cells, " + job.cell.name);
  out += line("Mass, full: " + kg_text(box.box.mass_full) + " kg");
  if (plan.cabling && plan.cabling->fuse) {
    out += line("Fuse: " + std::to_string(plan.cabling->fuse->rating_a) + " A, " + std::to_string(plan.cabling->fuse->class_v) + " V DC or more");
  } else {
    out += std::string("<p>Fuse: ") + blank + " A, " + blank + " V DC</p>\n";
  }
  out += line("Opening: disconnect first, removable links out first. Trained people only.");
  return out + "<p>Date " + blank + " Serial " + blank + "</p>\n</div>\n";
}

std::string part_label(const std::string& mark, const std::string& name, const std::string& what, int piece, int of) {
  std::string out = "<div class=\"part-label\">" + element("b", mark) + line(name) + line(what);
  if (of > 1) out += line("piece " + std::to_string(piece) + " of " + std::to_string(of));
  return out + line("\u2190 FRONT    \u2191 UP") + "</div>\n";
}

std::string part_labels(const plan::BoxPlan& box) {
  std::string out;
  for (const fabrication::SheetPart* part : cut_from_sheet(box)) {
    for (int i = 1; i <= part->quantity; ++i) out += part_label(part->mark, part->name, part->material + ", " + number(part->thickness) + " mm, rev " + part->revision, i, part->quantity);
  }
  for (const restraint::Strap& strap : box.straps.straps) {
    for (int i = 1; i <= strap.quantity; ++i) {
      out += part_label(strap.mark, "strap, block " + std::to_string(strap.block), strap.material + ", " + mm_text(strap.width) + " × " + mm_text(strap.thickness) + " × " + mm_text(strap.cut_length) + " mm", i, strap.quantity);
    }
  }
  return out;
}

}  // namespace

std::string labels(const survey::Job& job, const plan::Plan& plan) {
  std::string out = bench_head("Labels: " + title_of(job));
  out += element("h1", "Box labels") + element("p", "Print on weatherproof film at 100 %. Local rules say which signs, sizes and languages are asked for; they come first.");
  out += "<div class=\"labels\">\n";
  for (const plan::BoxPlan* box : boxes_of(plan)) out += box_label(job, plan, *box);
  out += "</div>\n" + element("h1", "Part labels", "over") + element("p", "One a piece. FRONT and UP are the directions of the finished box in the car: turn the label so that the arrows point there.") + "<div class=\"labels\">\n";
  for (const plan::BoxPlan* box : boxes_of(plan)) out += part_labels(*box);
  return out + "</div>\n</body>\n</html>\n";
}

}  // namespace cellstow::report
