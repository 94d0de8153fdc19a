#include <doctest/doctest.h>

#include <algorithm>
#include <regex>
#include <sstream>

#include "cellstow/report/write.hpp"
#include "report/drawing_checks.hpp"
#include "report/fixture.hpp"
#include "report/outside.hpp"

namespace {

using namespace cellstow;

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) out.push_back(line);
  return out;
}

std::size_t columns(const std::string& line) {
  return static_cast<std::size_t>(std::count_if(line.begin(), line.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}

}  // namespace

TEST_CASE("page: well-formed, whatever the names") {
  for (const fixture::Case& c : {fixture::two_cavities(), fixture::nasty_names(), fixture::loose_cells()}) {
    CHECK(outside::faults_as_xml(report::page(c.job, c.plan)) == "");
  }
}

TEST_CASE("page: asks nothing of a network and runs nothing") {
  for (const fixture::Case& c : {fixture::two_cavities(), fixture::nasty_names()}) {
    const std::string page = report::page(c.job, c.plan);
    for (const char* banned : {"<script", "<img", "<link", "<iframe", " src=", " href=", "url(", "@import", "onload"}) {
      CAPTURE(banned);
      CHECK(page.find(banned) == std::string::npos);
    }
  }
}

TEST_CASE("page: the answer first, then what does not hold with value, limit, cure and source") {
  const fixture::Case c = fixture::two_cavities();
  const std::string page = report::page(c.job, c.plan);
  const auto at = [&](const char* text) {
    CAPTURE(text);
    const std::size_t found = page.find(text);
    CHECK(found != std::string::npos);
    return found;
  };
  CHECK(at("13.3 kWh") < at("What does not hold"));
  CHECK(at("What does not hold") < at("560 × 580 × 305"));
  CHECK(at("Comes to 726 kg; the limit is 720 kg") < at("Cure: move 2 cells"));
  CHECK(at("Limit and sum from: the car&#39;s plate") < at("Axle loads"));
  at("first check for discussion with the certifier");
  at("Measure one more section at z 550: 2 cells hang on it.");
  at("one more needs 387 mm, there are 328: short by 59 mm at the filler neck.");
}

TEST_CASE("page and summary: what falls short says how much is needed, one piece is one piece") {
  fixture::Case c = fixture::two_cavities();
  c.plan.checks = {core::check_at_least("fittings placed", "well", 0, 1, "pieces", "each its place", "give room for: fuse"),
                   core::check_at_least("gap", "well", 2.8, 5, "mm", "one thickness", "more headroom")};
  const std::string page = report::page(c.job, c.plan), summary = report::summary(c.job, c.plan);
  CHECK(page.find("Comes to 0 pieces; needed is at least 1 piece.") != std::string::npos);
  CHECK(page.find("Comes to 2.8 mm; needed is at least 5 mm.") != std::string::npos);
  CHECK(summary.find("fittings placed, well: 0 pieces, needed 1 piece. Cure: give room for: fuse") != std::string::npos);
}

TEST_CASE("page: the words of the trade, and nothing that reads like an approval") {
  const fixture::Case c = fixture::two_cavities();
  std::string text = report::page(c.job, c.plan) + report::summary(c.job, c.plan);
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char ch) { return static_cast<char>(std::tolower(ch)); });
  for (const char* banned : {"solver", "optimal", "optimis", "instance", "score", "dashboard", "module", "enclosure", "payload", "nearside",
                             "offside", "approved", " safe ", "tolerance", "\xE2\x9C\x93", "\xE2\x9C\x94"}) {
    CAPTURE(banned);
    CHECK(text.find(banned) == std::string::npos);
  }
}

TEST_CASE("page: without a failing check it names the hardest worked and promises nothing") {
  fixture::Case c = fixture::two_cavities();
  c.plan.checks.erase(c.plan.checks.begin());
  const std::string page = report::page(c.job, c.plan);
  CHECK(page.find("What does not hold") == std::string::npos);
  CHECK(page.find("none goes past its limit; the hardest worked is sheet bearing") != std::string::npos);
}

TEST_CASE("summary: fits a screen") {
  fixture::Case many = fixture::two_cavities();
  for (int i = 0; i < 40; ++i) {
    many.plan.checks.insert(many.plan.checks.begin(), many.plan.checks.front());
    many.plan.cavities.push_back(many.plan.cavities.front());
  }
  for (const fixture::Case& c : {fixture::two_cavities(), fixture::nasty_names(), fixture::loose_cells(), many}) {
    const std::vector<std::string> got = lines(report::summary(c.job, c.plan));
    CHECK(got.size() <= 24);
    for (const std::string& line : got) {
      CAPTURE(line);
      CHECK(columns(line) <= 100);
      CHECK(line.find('\x1b') == std::string::npos);
    }
  }
}

TEST_CASE("summary: cells, volts, boxes, bolts, axles, and what fails with its cure") {
  const fixture::Case c = fixture::two_cavities();
  const std::string text = report::summary(c.job, c.plan);
  for (const char* wanted : {"26 cells, 26 in series: 83.2 V, 13.3 kWh, about 64 km, in 2 boxes.", "DOES NOT HOLD: 1 check",
                             "726 kg, limit 720 kg. Cure: move 2 cells", "outside 560 x 580 x 305 mm, 12.2 kg empty, 111.2 kg full",
                             "carried by T1, T2, T3, T4; hardest worked: T1, 84 %", "as it came: front 416.0 kg, rear 464.0 kg",
                             "limits: front 600.0 kg, rear 720.0 kg"}) {
    CAPTURE(wanted);
    CHECK(text.find(wanted) != std::string::npos);
  }
  CHECK(text.find("DOES NOT HOLD") < text.find("tank well: 18 cells"));
}
