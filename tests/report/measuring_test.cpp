/// The measuring sheet, the pictures of measured sections, and their part of the page.

#include <doctest/doctest.h>

#include <cmath>

#include "cellstow/report/measuring_sheet.hpp"
#include "cellstow/report/write.hpp"
#include "report/measuring_view.hpp"
#include "report/outside.hpp"
#include "report/page_parts.hpp"

namespace {

using namespace cellstow;
using namespace cellstow::report;

struct Known { const char* name; double a, b; };

const std::vector<Known> datums = {{"D1", -520, 760}, {"D2", 540, 770}, {"D3", -30, 140}};
const std::vector<Known> walls = {{"1", -410, 250}, {"2", -150, 250}, {"3", -140, 330}, {"4", 380, 340},
                                    {"5", 430, 520}, {"6", 400, 690}, {"7", -380, 700}, {"8", -440, 480}};

const Known& known(const std::string& name) {
  for (const auto* list : {&datums, &walls}) {
    for (const Known& one : *list) {
      if (one.name == name) return one;
    }
  }
  FAIL("no place " << name);
  return datums[0];
}

double length(const std::string& from, const std::string& to) {
  return std::hypot(known(from).a - known(to).a, known(from).b - known(to).b);
}

/// An invented boot: every corner from every datum, two diagonals; readings to the millimetre, or all still missing.
std::string job_text(bool read, double slip_mm = 0) {
  const auto value = [&](const std::string& from, const std::string& to) {
    const double slip = from == "D2" && to == "7" ? slip_mm : 0;
    return read ? std::to_string(std::lround(length(from, to) + slip)) : std::string("null");
  };
  std::string out = R"({"format": "cellstow-job/1", "cavities": [{"name": "boot & well", "sections": {"across": "x", "at": [{"station_mm": 2310, "tape": {"datums": [)";
  for (std::size_t i = 0; i < datums.size(); ++i) {
    out += (i ? ", " : "") + std::string("{\"name\": \"") + datums[i].name + "\", \"at_mm\": [" + std::to_string(datums[i].a) + ", " + std::to_string(datums[i].b) + "]}";
  }
  out += "], \"points\": [";
  for (std::size_t i = 0; i < walls.size(); ++i) {
    out += (i ? ",\n" : "") + std::string("{\"name\": \"") + walls[i].name + "\", \"from_mm\": {";
    for (std::size_t d = 0; d < datums.size(); ++d) out += (d ? ", \"" : "\"") + std::string(datums[d].name) + "\": " + value(datums[d].name, walls[i].name);
    out += "}}";
  }
  return out + R"(], "checks": [{"between": ["1", "6"], "reading_mm": )" + value("1", "6") + R"(}, {"between": ["4", "7"], "reading_mm": )" + value("4", "7") + "}]}}]}}]}\n";
}

std::vector<survey::TapeSection> tapes(const std::string& text) {
  const auto got = survey::read_tape_sections_text(text, "job.json");
  if (!got) FAIL(core::to_text(got.error()));
  return *got;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find("\r\n", at);
    out.push_back(text.substr(at, end - at));
    at = end + 2;
  }
  return out;
}

std::size_t count_of(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

void check_drawing(const Drawing& drawing) {
  std::vector<Patch> letters;
  const auto on_paper = [&](double x, double y) { return x >= 0 && y >= 0 && x <= drawing.width && y <= drawing.height; };
  for (const Item& item : drawing.items) {
    if (const auto* stroke = std::get_if<Stroke>(&item)) {
      for (const Spot& s : stroke->points) CHECK(on_paper(s.x, s.y));
    } else if (const auto* label = std::get_if<Label>(&item)) {
      const Patch patch = text_patch(*label);
      CAPTURE(label->text);
      CHECK(on_paper(patch.left, patch.top));
      CHECK(on_paper(patch.right, patch.bottom));
      for (const Patch& other : letters) CHECK_FALSE(patch.overlaps(other));
      letters.push_back(patch);
    }
  }
  CHECK(letters.size() > 6);
}

}  // namespace

TEST_CASE("measuring: pictures lie on the paper, no lettering on other lettering, and fit the height asked for") {
  for (const std::string& text : {job_text(false), job_text(true), job_text(true, 60), replaced(job_text(true), "\"D1\": 522", "\"D1\": null")}) {
    for (const double most : {74.0, 108.0}) {
      const Drawing drawing = measuring_drawing(picture_of(tapes(text).front()), most);
      check_drawing(drawing);
      CHECK(drawing.height <= most + 0.001);
    }
  }
}

TEST_CASE("measuring: ellipses are drawn as many times too large as is said, and a doubted reading is shown") {
  const survey::TapeSection section = tapes(job_text(true, 60)).front();
  REQUIRE(section.fit);
  REQUIRE_FALSE(section.fit->doubts.empty());
  const Drawing drawing = measuring_drawing(picture_of(section), 120);
  double times = 0, scale = std::stod(drawing.scale.substr(2));
  std::size_t gaps = 0, ellipses = 0;
  for (const Item& item : drawing.items) {
    if (const auto* label = std::get_if<Label>(&item)) {
      const std::size_t at = label->text.find("drawn ");
      if (at != std::string::npos) times = std::stod(label->text.substr(at + 6));
    }
  }
  REQUIRE(times > 1);
  for (const Item& item : drawing.items) {
    const auto* stroke = std::get_if<Stroke>(&item);
    if (!stroke) continue;
    gaps += stroke->pen == Pen::gap;
    if (stroke->pen != Pen::section_1 || stroke->points.size() != 48) continue;
    double longest = 0;
    for (const Spot& p : stroke->points) {
      for (const Spot& q : stroke->points) longest = std::max(longest, std::hypot(p.x - q.x, p.y - q.y));
    }
    CHECK(longest == doctest::Approx(2 * section.fit->points[ellipses++].ellipse.major_mm * times / scale).epsilon(0.01));
  }
  CHECK(ellipses == walls.size());
  CHECK(gaps >= 2);  // the reading and its sample
}

TEST_CASE("measuring: the sheet asks for every reading once, in the order of the tape's hooks") {
  const auto files = measuring_sheet_files("demo", tapes(job_text(false)));
  const std::vector<std::string> lines = lines_of(files.at("sheet.csv"));
  REQUIRE(lines.size() == 1 + 3 * 8 + 2);
  CHECK(lines[0] == "no,cavity,section,from,to,reading,unit,remark");
  CHECK(lines[1] == "1,boot & well,x 2310,D1,1,,,");
  CHECK(lines[9] == "9,boot & well,x 2310,D2,1,,,");
  CHECK(lines[26] == "26,boot & well,x 2310,4,7,,,check reading");
  const std::string& page = files.at("sheet.html");
  // a line to write on for each, and two check readings to spare
  CHECK(count_of(page, "class=\"reading\"") == 26 + 2);
  CHECK(count_of(page, "class=\"unit\"") == 26 + 2);
  for (int no = 1; no <= 26; ++no) CHECK(count_of(page, "<span class=\"no\">" + std::to_string(no) + "</span>") == 1);
  CHECK(page.find("boot &amp; well, x 2310") != std::string::npos);
  CHECK(page.find("boot & well") == std::string::npos);
}

TEST_CASE("measuring: sheet, filled by hand, entered, and the corners are where they are") {
  const std::string empty = job_text(false);
  std::string list;
  for (const std::string& line : lines_of(measuring_sheet_files("demo", tapes(empty)).at("sheet.csv"))) {
    std::vector<std::string> fields;
    for (std::size_t at = 0; at <= line.size();) {
      const std::size_t end = std::min(line.find(',', at), line.size());
      fields.push_back(line.substr(at, end - at));
      at = end + 1;
    }
    REQUIRE(fields.size() == 8);
    if (fields[0] != "no") {
      const double mm = length(fields[3], fields[4]);
      const bool inches = fields[3] == "D2";   // the other side of the tape
      const long sixteenths = std::lround(mm / 25.4 * 16);
      fields[5] = inches ? std::to_string(sixteenths / 16) + (sixteenths % 16 ? " " + std::to_string(sixteenths % 16) + "/16" : "") : std::to_string(std::lround(mm));
      if (inches) fields[6] = "in";
    }
    for (std::size_t i = 0; i < 8; ++i) list += (i ? ";" : "") + fields[i];
    list += "\n";
  }
  const auto entered = survey::enter_readings(empty, "job.json", list, "filled.csv");
  REQUIRE_MESSAGE(entered, (entered ? "" : core::to_text(entered.error())));
  CHECK(entered->entered == 26);
  CHECK(entered->missing.empty());
  const survey::TapeSection section = tapes(entered->job_text).front();
  REQUIRE(section.fit);
  CHECK(section.fit->doubts.empty());
  // rounded to 0.5 mm and 1/32 in
  for (std::size_t i = 0; i < walls.size(); ++i) {
    CHECK(measuring::distance(section.fit->points[i].at, {walls[i].a, walls[i].b}) < 1.5);
  }
  // what is there is printed again, and entering the same list once more changes nothing
  CHECK(count_of(measuring_sheet_files("demo", tapes(entered->job_text)).at("sheet.html"), "class=\"reading\"") == 2);
  const auto again = survey::enter_readings(entered->job_text, "job.json", list, "filled.csv");
  REQUIRE(again);
  CHECK(again->job_text == entered->job_text);
}

TEST_CASE("measuring: a filled list is never written over") {
  const outside::Folder folder("sheet");
  const auto files = measuring_sheet_files("demo", tapes(job_text(false)));
  REQUIRE(write_sheet(folder.path() / "new", files));
  CHECK(outside::bytes(folder.path() / "new" / "sheet.csv") == files.at("sheet.csv"));
  CHECK(write_sheet(folder.path() / "new", files));
  std::ofstream(folder.path() / "new" / "sheet.csv") << "an evening's readings";
  const auto refused = write_sheet(folder.path() / "new", files);
  REQUIRE_FALSE(refused);
  CHECK(refused.error().front().id == "E402");
  CHECK(outside::bytes(folder.path() / "new" / "sheet.csv") == "an evening's readings");
  REQUIRE(write_file(folder.path() / "new" / "sheet.csv", "whole"));
  CHECK(outside::bytes(folder.path() / "new" / "sheet.csv") == "whole");
  CHECK(std::distance(std::filesystem::directory_iterator(folder.path() / "new"), {}) == 2);
  CHECK_FALSE(write_file(folder.path() / "new", "a folder is there"));
}

TEST_CASE("measuring: the page tells how each section was measured, with or without the tape at hand") {
  survey::Job job;
  survey::Cavity cavity;
  cavity.name = "boot & well";
  cavity.sections.across = core::Axis::x;
  survey::Section section, plain;
  section.station = core::Length::from_mm(2310);
  section.measured.emplace();
  section.measured->by = survey::MeasuredBy::tape;
  section.measured->remarks = {"D2 to point 7 <does> not fit."};
  for (const Known& corner : walls) {
    section.outline.push_back({core::Length::from_mm(corner.a), core::Length::from_mm(corner.b)});
    section.measured->corners.push_back({corner.name, core::Length::from_mm(2.5)});
  }
  plain.station = core::Length::from_mm(2800);
  plain.outline = section.outline;
  cavity.sections.at = {section, plain};
  job.cavities = {cavity};
  const std::string with_tape = page_measuring(job, tapes(job_text(true)));
  CHECK(with_tape.find("<h2>Measuring</h2>") != std::string::npos);
  CHECK(with_tape.find("section x 2310, with the tape") != std::string::npos);
  CHECK(with_tape.find("D2 to point 7 &lt;does&gt; not fit.") != std::string::npos);
  CHECK(count_of(with_tape, "<svg") == 1);
  CHECK(with_tape.find("95 times in 100, drawn") != std::string::npos);
  CHECK(count_of(with_tape, "<tr>") == 3 + 8 + 8 + 26);  // corners, points, readings, and their heads
  const std::string resolved = page_measuring(job, {});
  CHECK(resolved.find("give or take of the corner, drawn") != std::string::npos);
  CHECK(resolved.find("2.5") != std::string::npos);
  check_drawing(measuring_drawing(picture_of("boot & well", core::Axis::x, section), 108));
  job.cavities[0].sections.at = {plain};
  CHECK(page_measuring(job, {}).empty());
}
