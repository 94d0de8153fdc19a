#include "report/html.hpp"
#include "report/page_parts.hpp"
#include "report/remarks.hpp"
#include "report/text.hpp"
#include "report/words.hpp"

namespace cellstow::report {
namespace {

Table cell_table(const survey::Cell& cell) {
  Table out{{"cell", "value"}, {}};
  const auto say = [&](const char* what, const std::string& value) { out.rows.push_back({what, value}); };
  say("name", cell.name);
  say("thickness × width × height, mm", mm_text(cell.thickness) + " × " + mm_text(cell.width) + " × " + mm_text(cell.height));
  say("live metal above the base, mm", mm_text(cell.terminal_top));
  say("mass, kg", number(cell.mass.value(), 2));
  if (cell.capacity) say("capacity, Ah", number(cell.capacity->value()));
  if (cell.voltage) {
    say("volts, lowest / nominal / highest", number(cell.voltage->min.value(), 2) + " / " + number(cell.voltage->nominal.value(), 2) + " / " +
                                                number(cell.voltage->max.value(), 2));
  }
  return out;
}

Table rule_table(const survey::Rules& r) {
  Table out{{"shop's rule", "mm"}, {}};
  const auto say = [&](const char* what, core::Length length) { out.rows.push_back({what, mm_text(length)}); };
  say("box to body and keep-outs", r.body_clearance);
  say("lid to what is above", r.lid_clearance);
  say("flange outside the walls", r.flange);
  say("wall sheet", r.wall);
  say("floor sheet", r.floor);
  say("lid sheet", r.lid);
  say("liner", r.liner);
  say("corner relief", r.corner_relief);
  say("between cells", r.between_cells);
  say("end plate", r.end_plate);
  say("room for a strap's leg", r.strap_space);
  say("between blocks", r.between_blocks);
  say("live metal to the lid's underside", r.headroom);
  return out;
}

Table material_table(const survey::Materials& m) {
  Table out{{"for", "material", "proof MPa", "breaking MPa", "source", "standing"}, {}};
  const auto say = [&](const char* what, const survey::Material& x) {
    if (x.name.empty()) return;
    out.rows.push_back({what, x.name, number(x.proof_strength.value(), 0), number(x.ultimate_strength.value(), 0), x.source, x.status});
  };
  say("walls, floor, lid", m.wall);
  say("straps", m.strap);
  say("hold-downs", m.hold_down);
  if (!m.fasteners.name.empty()) {
    out.rows.push_back({"bolts", m.fasteners.name, number(m.fasteners.proof_stress.value(), 0), number(m.fasteners.ultimate_strength.value(), 0),
                        m.fasteners.source, m.fasteners.status});
  }
  return out;
}

Table load_case_table(const survey::LoadCaseSet& set) {
  Table out{{"load case", "rearward g", "to the right g", "up g"}, {}};
  for (const survey::LoadCase& load : set.cases) {
    out.rows.push_back({load.name, number(load.accel[0].value()), number(load.accel[1].value()), number(load.accel[2].value())});
  }
  return out;
}

std::string left_out(const plan::Plan& plan) {
  std::vector<std::string> lines;
  for (const core::LeftOut& left : plan.left_out) lines.push_back(left.stage + ": " + left.why);
  return lines.empty() ? "" : element("h3", "Left out") + html_list(lines);
}

std::string write_ins() {
  std::string out = element("h3", "Remarks of the certifier");
  return out + "<div class=\"write-in\"></div>\n<div class=\"write-in\" style=\"height:2.6rem\"><span>name, date, signature</span></div>\n";
}

}  // namespace

std::string page_grounds(const survey::Job& job, const plan::Plan& plan) {
  std::string out = "<section class=\"part\">\n<h2>Cautions and assumptions</h2>\n";
  out += element("h3", "Cautions") + html_list(general_cautions(plan), "cautions");
  const std::vector<std::string> notes = general_notes(plan);
  if (!notes.empty()) out += element("h3", "Holds for more than one box") + html_list(notes);
  out += left_out(plan) + element("h3", "What the sums rest on");
  out += "<div class=\"side-by-side\">" + html_table(cell_table(job.cell), {}) + html_table(rule_table(job.rules), {1}) + "</div>\n";
  out += html_table(material_table(job.rules.materials), {2, 3}, "Materials, least specified values");
  out += html_table(load_case_table(job.rules.load_cases), {1, 2, 3},
                    "Loads on every box" + (job.rules.load_cases.name.empty() ? "" : ", set " + job.rules.load_cases.name));
  if (!job.rules.load_cases.source.empty()) out += element("p", "Loads from: " + job.rules.load_cases.source, "source");
  out += element("p", "Factors of safety: " + number(job.rules.safety_factor.yield, 2) + " against lasting bend, " +
                          number(job.rules.safety_factor.ultimate, 2) + " against breaking.");
  return out + write_ins() + "</section>\n";
}

}  // namespace cellstow::report
