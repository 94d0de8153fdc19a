#include "report/engineer_page.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "cellstow/report/write.hpp"
#include "report/engineer_sketch.hpp"
#include "report/html.hpp"
#include "report/page_drawings.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr const char* style = R"css(<style>
@page { size: A4; margin: 7mm 12mm; }
body { font: 7pt/1.15 Arial, Helvetica, "Liberation Sans", sans-serif; color: #000; background: #fff; margin: 0 auto; max-width: 186mm; }
section { break-after: page; }
section:last-child { break-after: auto; }
h1 { font-size: 9.5pt; margin: 0 0 1mm; }
h2 { font-size: 8.4pt; margin: 1.6mm 0 .6mm; }
p { margin: .4mm 0; }
.warn { border: .4mm solid #000; padding: .8mm 1.6mm; font-weight: bold; }
.boxed { border: .25mm solid #000; padding: .6mm 1.6mm; margin: 1mm 0; }
.boxed { font-size: 5.8pt; line-height: 1.08; }
.boxed ul { margin: 0; padding-left: 3mm; columns: 2; column-gap: 4mm; }
table { border-collapse: collapse; width: 100%; font-size: 5.8pt; line-height: 1.05; margin: .6mm 0; }
table.links { table-layout: fixed; font-size: 5.8pt; line-height: 1.05; }
table.links th:nth-child(1) { width: 4mm; } table.links th:nth-child(2) { width: 34mm; } table.links th:nth-child(3) { width: 38mm; }
table.links th:nth-child(5), table.links th:nth-child(6) { width: 10.5mm; } table.links th:nth-child(7) { width: 9mm; }
table.links th:nth-child(8) { width: 8.5mm; } table.links th:nth-child(9) { width: 8mm; } table.links th:nth-child(10) { width: 5mm; }
p.sources { font-size: 5.2pt; line-height: 1.05; columns: 2; column-gap: 4mm; }
th, td { border: .15mm solid #777; padding: .12mm .7mm; overflow-wrap: break-word; text-align: left; vertical-align: top; }
th { background: #eee; }
td.n, th.n { text-align: right; white-space: nowrap; }
tr.stands-out td { font-weight: bold; background: #f7e6e0; }
.write-in { border: .25mm solid #000; height: 9mm; padding: .4mm 1.6mm; margin-top: .7mm; }
.side { display: flex; gap: 3mm; }
.side > * { flex: 1; }
.side > :last-child { flex: 2; }
.side th, .side td { white-space: nowrap; }
.side td:last-child { white-space: normal; }
svg { display: block; max-width: 100%; }
@media screen { body { padding: 8mm; } section { margin-bottom: 12mm; } }
</style>
)css";

/// The worst link of every kind, in the order from the cell outward.
std::vector<const restraint::Link*> worst_of_each(const restraint::LoadPath& path) {
  std::vector<const restraint::Link*> out;
  for (const restraint::Link& link : path.links) {
    const auto alike = std::find_if(out.begin(), out.end(), [&](const restraint::Link* one) { return one->check.name == link.check.name; });
    if (alike == out.end()) {
      out.push_back(&link);
    } else if (link.check.use > (*alike)->check.use) {
      *alike = &link;
    }
  }
  return out;
}

std::size_t source_number(std::vector<std::string>& sources, const std::string& source) {
  const auto found = std::find(sources.begin(), sources.end(), source);
  if (found != sources.end()) return static_cast<std::size_t>(found - sources.begin()) + 1;
  sources.push_back(source);
  return sources.size();
}

/// Place without the box's name, which heads the page.
std::string place_in_box(const std::string& where, const std::string& box) {
  return where.starts_with(box + ", ") ? where.substr(box.size() + 2) : where;
}

std::string links_part(const plan::BoxPlan& box) {
  std::vector<std::string> sources;
  Table out{{"", "link and place", "formula", "numbers", "value", "limit", "", "used", "spare", ""}, {}};
  int letter = 0;
  std::string before;
  for (const restraint::Link* link : worst_of_each(box.load_path)) {
    const ValueAndLimit text = value_and_limit(link->check);
    const bool weakest = box.load_path.weakest >= 0 && link == &box.load_path.links[static_cast<std::size_t>(box.load_path.weakest)];
    const std::string mark = letter < 26 ? std::string(1, static_cast<char>('a' + letter)) : fmt::format("a{}", static_cast<char>('a' + letter - 26));
    ++letter;
    out.rows.push_back({link->check.ok ? mark : "NO", (weakest ? "WEAKEST: " : "") + link->check.name + "; " + place_in_box(link->check.where, box.box.name), link->formula, link->numbers == before && !before.empty() ? "as above" : link->numbers,
                        text.value, text.limit, link->check.unit, text.use, fmt::format("{:.2f}", link->spare()), std::to_string(source_number(sources, link->check.source))});
    before = link->numbers;
  }
  std::string text = element("h2", "Links from the cells to the car: the worst of every kind. Safety factors stand in the limits; spare = limit / value") + html_table(out, {4, 5, 7, 8}, {}, "links");
  text += "<p class=\"sources\">";
  for (std::size_t i = 0; i < sources.size(); ++i) text += escape_markup(fmt::format("{}{} {}", i == 0 ? "Sources: " : "; ", i + 1, sources[i]));
  return text + ".</p>\n";
}

std::string losses_part(const restraint::Mounting& mounting) {
  Table out{{"if this lets go", "worst of the others", "used"}, {}};
  for (const restraint::Loss& loss : mounting.losses)
    out.rows.push_back({loss.fixing, loss.holds_together ? loss.worst + ": " + loss.governs : "the others cannot hold the box", loss.holds_together ? percent(loss.use) : ""});
  return html_table(out, {2});
}

std::string bolts_part(const restraint::Mounting& mounting) {
  Table out{{"fixing", "bolt", "length", "N m", "oiled", "locking"}, {}};
  for (const restraint::FixingBolt& bolt : mounting.bolts)
    out.rows.push_back({bolt.fixing, bolt.thread + ", " + bolt.strength_class, bolt.length_mm > 0 ? number(bolt.length_mm) : "stud", number(bolt.torque_nm, 0), number(bolt.torque_oiled_nm, 0), bolt.locking});
  return html_table(out, {2, 3, 4});
}

std::vector<std::string> assumptions(const survey::Job& job, const plan::BoxPlan& box) {
  std::vector<std::string> out = {fmt::format("Static loads, one case at a time, 1 g of gravity added: {}. No crush, rebound, fatigue, vibration.", job.rules.load_cases.name),
                                  fmt::format("Safety factors {} on yield, {} on breaking. Least specified strengths: walls {}, straps {}, hold-downs {}, bolts {}.", number(job.rules.safety_factor.yield, 2),
                                              number(job.rules.safety_factor.ultimate, 2), job.rules.materials.wall.name, job.rules.materials.strap.name, job.rules.materials.hold_down.name, job.rules.materials.fasteners.name),
                                  "Box rigid, all fixings equally stiff. Body sheet 270 MPa, thickness as measured; no rust; weld nuts as strong as their bolts.",
                                  "No friction is counted; the lid is not counted; blocks hold along their run by their own end plates and straps.",
                                  "Brackets: Fd out from the wall, Fp along the bolt, Fq along the fold; a from wall to bolt, c from the wall's edge to the foot, o from bolt to the leg's middle, H leg on the wall, b its width, e bolt to end."};
  out.insert(out.end(), box.load_path.assumptions.begin(), box.load_path.assumptions.end());
  return out;
}

std::string cases_line(const survey::Job& job) {
  std::string out;
  for (const survey::LoadCase& one : job.rules.load_cases.cases) out += (out.empty() ? "" : ", ") + one.name;
  return out;
}

std::string box_sheet(const survey::Job& job, const survey::Cavity& cavity, const plan::BoxPlan& box) {
  const core::Point3& g = box.box.centre_of_gravity;
  std::string out = "<section>\n" + element("h1", "Restraint of box " + box.box.mark + ", " + box.box.name) + element("p", title_of(job));
  out += element("p", "FIRST CHECK FOR DISCUSSION WITH THE CERTIFIER. Not an approval. Local codes and a licensed engineer decide.", "warn");
  out += element("p", fmt::format("{} kg full ({} kg empty), centre of gravity x {:.0f}, y {:.0f}, z {:.0f} mm (x rearward from the front axle, y to the right, z from the ground). Load cases: {}.", kg_text(box.box.mass_full),
                                  kg_text(box.box.mass_empty), g.x.mm(), g.y.mm(), g.z.mm(), cases_line(job)));
  out += engineer_sketch(cavity, box) + links_part(box);
  out += "<div class=\"boxed\">" + element("b", "Assumptions") + html_list(assumptions(job, box)) + "</div>\n";
  if (!box.mounting.losses.empty()) out += "<div class=\"side\"><div>" + losses_part(box.mounting) + "</div><div>" + bolts_part(box.mounting) + "</div></div>\n";
  out += "<div class=\"write-in\">Remarks of the engineer</div>\n<div class=\"write-in\" style=\"height:6mm\">name, registration, date, signature</div>\n";
  return out + "</section>\n";
}

}  // namespace

std::string engineer_page(const survey::Job& job, const plan::Plan& plan) {
  std::string out = "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n" + element("title", title_of(job) + ": for the engineer") + style + "</head>\n<body>\n";
  for (const plan::CavityPlan& cavity : plan.cavities) {
    const survey::Cavity* measured = cavity_of(job, cavity);
    if (measured == nullptr) continue;
    for (const plan::BoxPlan& box : cavity.boxes) out += box_sheet(job, *measured, box);
  }
  return out + "</body>\n</html>\n";
}

}  // namespace cellstow::report
