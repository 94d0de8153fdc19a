#include "cellstow/report/measuring_sheet.hpp"

#include <algorithm>

#include "report/bench_parts.hpp"
#include "report/html.hpp"
#include "report/measuring_view.hpp"
#include "report/svg.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

using survey::TapeReading;
using survey::TapeSection;

constexpr std::size_t most_columns = 5;

constexpr const char* style = R"css(<style>
h1 { font-size: 1.35rem; }
body { font-size: 17px; }
.blank { min-width: 3.6rem; }
section.sheet + section.sheet { break-before: page; }
table.readings td { padding: .12rem .25rem; white-space: nowrap; }
table.readings { margin: .3rem 0; }
table.readings td.box { height: 1.75rem; }
.no { font-size: .72rem; color: #333; display: inline-block; min-width: 1.3rem; vertical-align: top; }
.reading, .unit { display: inline-block; height: 1.45rem; border-bottom: 2px solid #000; vertical-align: bottom; }
.reading { width: calc(100% - 4.6rem); min-width: 3.6rem; }
.unit { width: 2.5rem; margin-left: .3rem; border-bottom-style: dashed; }
table.checks .reading { min-width: 7rem; }
figure { margin: .4rem 0; }
figure svg { max-width: 100%; height: auto; display: block; }
ul { margin: .2rem 0; padding-left: 1.2rem; font-size: .95rem; }
@media print { body { font-size: 10.5pt; } figure, table { break-inside: avoid; } h1 { margin: 0; } }
</style>
)css";

/// One hook of the tape after the other, points in the order of the file; check readings last.
std::vector<const TapeReading*> in_order(const TapeSection& section) {
  std::vector<const TapeReading*> out;
  for (const TapeReading& r : section.readings) out.push_back(&r);
  std::stable_sort(out.begin(), out.end(), [](const TapeReading* r, const TapeReading* s) {
    return r->check != s->check ? s->check : !r->check && r->from < s->from;
  });
  return out;
}

/// A reading to be written, or as it stands.
std::string reading_box(std::size_t no, const TapeReading& reading) {
  const std::string mark = "<span class=\"no\">" + std::to_string(no) + "</span>";
  if (!reading.mm) return mark + "<span class=\"reading\"></span><span class=\"unit\"></span>";
  const bool bare = reading.written.find_first_not_of("0123456789.") == std::string::npos;
  return mark + escape_markup(reading.written + (bare ? " mm" : ""));
}

struct Grid {
  std::vector<std::size_t> from, to;   ///< places, columns and rows
};

Grid grid_of(const std::vector<const TapeReading*>& readings) {
  Grid grid;
  const auto add = [](std::vector<std::size_t>& list, std::size_t place) {
    if (std::find(list.begin(), list.end(), place) == list.end()) list.push_back(place);
  };
  for (const TapeReading* r : readings) {
    if (r->check) continue;
    add(grid.from, r->from);
    add(grid.to, r->to);
  }
  std::sort(grid.to.begin(), grid.to.end());
  return grid;
}

std::string grid_cell(const std::vector<const TapeReading*>& readings, std::size_t from, std::size_t to) {
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const TapeReading& r = *readings[i];
    if (!r.check && r.from == from && r.to == to) return "<td class=\"box\">" + reading_box(i + 1, r) + "</td>";
  }
  return "<td></td>";
}

/// Points down, hooks of the tape across.
std::string grid_table(const TapeSection& section, const std::vector<const TapeReading*>& readings) {
  const Grid grid = grid_of(readings);
  std::string out;
  for (std::size_t first = 0; first < grid.from.size(); first += most_columns) {
    const std::size_t last = std::min(grid.from.size(), first + most_columns);
    out += "<table class=\"readings\">\n<thead><tr><th>point</th>";
    for (std::size_t i = first; i < last; ++i) {
      const std::string at = (grid.from[i] < section.datums.size() ? "" : "point ") + section.name(grid.from[i]);
      out += "<th>hook at " + escape_markup(at) + "</th>";
    }
    out += "</tr></thead>\n<tbody>\n";
    for (const std::size_t to : grid.to) {
      out += "<tr><th>" + escape_markup(section.name(to)) + "</th>";
      for (std::size_t i = first; i < last; ++i) out += grid_cell(readings, grid.from[i], to);
      out += "</tr>\n";
    }
    out += "</tbody></table>\n";
  }
  return out;
}

/// Check readings, and room for two that the one at the car thinks of.
std::string check_table(const TapeSection& section, const std::vector<const TapeReading*>& readings) {
  std::string out = "<table class=\"readings checks\">\n<thead><tr><th>check reading between</th><th>and</th><th>reading, unit</th></tr></thead>\n<tbody>\n";
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const TapeReading& r = *readings[i];
    if (!r.check) continue;
    out += "<tr><td>" + escape_markup(section.name(r.from)) + "</td><td>" + escape_markup(section.name(r.to)) + "</td><td class=\"box\">" + reading_box(i + 1, r) + "</td></tr>\n";
  }
  for (int i = 0; i < 2; ++i) {
    out += "<tr><td></td><td></td><td class=\"box\"><span class=\"no\"></span><span class=\"reading\"></span><span class=\"unit\"></span></td></tr>\n";
  }
  return out + "</tbody></table>\n";
}

std::string datum_line(const TapeSection& section) {
  const char axes[][3] = {"yz", "xz", "xy"};
  const char* axis = axes[static_cast<int>(section.across)];
  std::string out = "Datums, mm: ";
  for (std::size_t i = 0; i < section.datums.size(); ++i) {
    const measuring::Datum& d = section.datums[i];
    out += (i == 0 ? "" : "; ") + d.name + " " + axis[0] + " " + number(d.at.a) + ", " + axis[1] + " " + number(d.at.b);
  }
  return element("p", out + ".");
}

std::string how_to(const TapeSection& section) {
  return element("p", "Hook the tape at the first datum and read every point in the order of the small numbers, then the next datum, check readings last. Write each "
                      "reading as the tape shows it, and its unit beside it: 440 mm, 17 5/16 in. Read to the millimetre or the sixteenth, no rounding to 5. A reading here "
                      "is taken as good to give or take " + number(section.give_or_take_mm, 2) + " mm, 19 times in 20.");
}

std::string so_far(const TapeSection& section) {
  return section.remarks.empty() ? "" : "<p><b>What the readings say so far</b></p>\n" + html_list(section.remarks);
}

std::string section_sheet(const std::string& title, const TapeSection& section) {
  const std::vector<const TapeReading*> readings = in_order(section);
  std::string out = "<section class=\"sheet\">\n" + element("h1", "Measuring sheet: " + section.cavity + ", " + survey::section_name(section));
  out += element("p", title + ": " + plane_words(section.across, section.station) + ".");
  out += std::string("<p>measured by ") + blank + blank + " date " + blank + " car stood: nose up " + blank + "° right down " + blank + "°</p>\n";
  out += figure(measuring_drawing(picture_of(section), 92), false) + datum_line(section) + how_to(section);
  out += grid_table(section, readings) + check_table(section, readings) + so_far(section);
  return out + "</section>\n";
}

std::string sheet_page(const std::string& title, const std::vector<TapeSection>& sections) {
  std::string out = bench_head(title + ": measuring sheet");
  out.insert(out.find("</head>"), style);
  for (const TapeSection& section : sections) out += section_sheet(title, section);
  return out + "</body>\n</html>\n";
}

std::string sheet_list(const std::vector<TapeSection>& sections) {
  std::string out;
  for (const std::string_view name : survey::sheet_columns) out += (out.empty() ? "" : ",") + std::string(name);
  out += "\r\n";
  for (const TapeSection& section : sections) {
    std::size_t no = 0;
    for (const TapeReading* r : in_order(section)) {
      out += std::to_string(++no) + "," + csv_field(section.cavity) + "," + csv_field(survey::section_name(section)) + "," + csv_field(section.name(r->from)) + "," +
             csv_field(section.name(r->to)) + "," + csv_field(r->written) + ",," + (r->check ? "check reading" : "") + "\r\n";
    }
  }
  return out;
}

}  // namespace

std::map<std::string, std::string> measuring_sheet_files(const std::string& title, const std::vector<TapeSection>& sections) {
  std::map<std::string, std::string> files;
  files["sheet.html"] = sheet_page(one_line(title), sections);
  files["sheet.csv"] = sheet_list(sections);
  return files;
}

}  // namespace cellstow::report
