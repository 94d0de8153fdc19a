#include <algorithm>
#include <limits>

#include "report/html.hpp"
#include "report/measuring_view.hpp"
#include "report/page_parts.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using survey::TapeSection;

const char* way(survey::MeasuredBy by) {
  const char* words[] = {"by its corners", "with the tape", "from a picture", "from a drawing", "from a list", "from a scan"};
  return words[static_cast<int>(by)];
}

/// Tapes of a cavity in the order of the job's sections, which rise by station.
std::vector<const TapeSection*> tapes_of(const std::vector<TapeSection>& tapes, const std::string& cavity) {
  std::vector<const TapeSection*> out;
  for (const TapeSection& tape : tapes) {
    if (tape.cavity == cavity && tape.fit) out.push_back(&tape);
  }
  std::stable_sort(out.begin(), out.end(), [](const TapeSection* s, const TapeSection* t) { return s->station < t->station; });
  return out;
}

/// Names of a plane's two axes.
std::pair<std::string, std::string> axes(core::Axis across) {
  if (across == core::Axis::x) return {"y", "z"};
  return {"x", across == core::Axis::y ? "z" : "y"};
}

Table corner_table(const survey::Section& section, core::Axis across) {
  Table out{{"corner", axes(across).first, axes(across).second, "give or take mm"}, {}};
  const std::vector<survey::MeasuredCorner>& corners = section.measured->corners;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    out.rows.push_back({corners[i].name, mm_text(section.outline[i].a), mm_text(section.outline[i].b),
                        corners[i].give_or_take ? mm_text(*corners[i].give_or_take) : "as all corners"});
  }
  return out;
}

/// Many corners without names, all as good as one another, as from a drawing with rounded corners: a sentence tells as much as a table.
bool all_alike(const std::vector<survey::MeasuredCorner>& corners) {
  constexpr std::size_t many = 12;
  return corners.size() > many && std::all_of(corners.begin(), corners.end(), [&](const survey::MeasuredCorner& corner) {
    return corner.name.empty() && corner.give_or_take == corners.front().give_or_take;
  });
}

std::string alike_sentence(const survey::Section& section) {
  const std::vector<survey::MeasuredCorner>& corners = section.measured->corners;
  const std::string give = corners.front().give_or_take ? "good to give or take " + mm_text(*corners.front().give_or_take) + " mm" : "as good as all corners of the cavity";
  return element("p", std::to_string(corners.size()) + " corners, each " + give + "; their places stand in plan.json.");
}

/// How each point was fixed, beside what the corner table says.
Table point_table(const TapeSection& tape) {
  Table out{{"point", "ellipse, half axes mm", "long axis towards", "lengths cross at", "a slip would show"}, {}};
  for (std::size_t i = 0; i < tape.fit->points.size(); ++i) {
    const measuring::MeasuredPoint& p = tape.fit->points[i];
    out.rows.push_back({tape.network.points[i].name, fixed(p.ellipse.major_mm) + " × " + fixed(p.ellipse.minor_mm),
                        fixed(p.ellipse.direction_deg, 0) + "°", fixed(p.crossing_deg, 0) + "°" + (p.flat ? ", flat" : ""), p.checked ? "yes" : "no"});
  }
  return out;
}

Table reading_table(const TapeSection& tape) {
  Table out{{"reading", "mm", "longer than the fit by mm", "smallest slip that shows mm"}, {}};
  for (std::size_t i = 0; i < tape.network.readings.size(); ++i) {
    const measuring::Reading& r = tape.network.readings[i];
    const measuring::ReadingFit& fit = tape.fit->fit.readings[i];
    const double slip = measuring::least_slip_mm(r, fit.share);
    out.rows.push_back({measuring::in_words(tape.network, r), number(r.mm), fixed(fit.residual_mm), slip < std::numeric_limits<double>::infinity() ? fixed(slip) : "none shows"});
  }
  return out;
}

std::string section_part(const survey::Cavity& cavity, const survey::Section& section, const TapeSection* tape) {
  const core::Axis across = cavity.sections.across;
  const std::string name(1, "xyz"[static_cast<int>(across)]);
  std::string out = element("h3", cavity.name + ", section " + name + " " + mm_text(section.station) + ", " + way(section.measured->by));
  out += html_list(section.measured->remarks);
  if (!section.measured->corners.empty()) out += figure(measuring_drawing(tape ? picture_of(*tape) : picture_of(cavity.name, across, section), 120), false);
  if (!tape && all_alike(section.measured->corners)) return out + alike_sentence(section);
  out += "<div class=\"side-by-side\">" + html_table(corner_table(section, across), {1, 2, 3}, "Corners, mm; 95 times in 100 no farther off");
  if (tape) out += html_table(point_table(*tape), {1, 2, 3}, "How each point is fixed");
  out += "</div>\n";
  if (tape) out += html_table(reading_table(*tape), {1, 2, 3}, "Readings; a slip of the last column shows 8 times in 10");
  return out;
}

}  // namespace

std::string page_measuring(const survey::Job& job, const std::vector<TapeSection>& tapes) {
  std::string out;
  for (const survey::Cavity& cavity : job.cavities) {
    const std::vector<const TapeSection*> own = tapes_of(tapes, cavity.name);
    const auto by_tape = [](const survey::Section& s) { return s.measured && s.measured->by == survey::MeasuredBy::tape; };
    const bool match = static_cast<std::size_t>(std::count_if(cavity.sections.at.begin(), cavity.sections.at.end(), by_tape)) == own.size();
    std::size_t next = 0;
    for (const survey::Section& section : cavity.sections.at) {
      if (!section.measured) continue;
      out += section_part(cavity, section, match && by_tape(section) ? own[next++] : nullptr);
    }
  }
  return out.empty() ? out : "<section class=\"part\">\n<h2>Measuring</h2>\n" + out + "</section>\n";
}

}  // namespace cellstow::report
