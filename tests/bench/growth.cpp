/// How time and memory grow with corners, cells, tiers and the range of angles; tables and a picture for docs/benchmarks.md.
///
///   cellstow_growth PICTURE.svg
///
/// Every case runs in a process of its own, so that its peak memory is its own.

#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <functional>
#include <numbers>
#include <string>
#include <vector>

#include "cellstow/packing/pack.hpp"
#include "packing/cavities.hpp"

using namespace cellstow;

namespace {

struct Measured { double milliseconds = 0, megabytes = 0; int cells = 0, bound = 0; };
struct Point { double at; Measured measured; };
struct Series { std::string title, axis; std::vector<Point> points; };

test::Corners blob(int corners, double scale) {
  test::Corners outline;
  for (int k = 0; k < corners; ++k) {
    const double angle = 2 * std::numbers::pi * k / corners;
    const double swell = 1 + 0.08 * std::sin(3 * angle + 0.4) + 0.04 * std::sin(7 * angle + 1.1);
    outline.emplace_back(std::llround(scale * 500'000 * swell * std::cos(angle)),
                         std::llround(scale * 400'000 * swell * std::sin(angle)));
  }
  return outline;
}

/// Median of three runs in a child process, and the child's peak memory.
Measured measure(const std::function<packing::CavityPacking()>& work) {
  int channel[2];
  if (pipe(channel) != 0) return {};
  const pid_t child = fork();
  if (child == 0) {
    Measured m;
    std::vector<double> times;
    for (int run = 0; run < 3; ++run) {
      const auto start = std::chrono::steady_clock::now();
      const packing::CavityPacking packing = work();
      times.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
      m.cells = packing.cells;
      m.bound = packing.bound;
    }
    std::sort(times.begin(), times.end());
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    m.milliseconds = times[1];
    m.megabytes = static_cast<double>(usage.ru_maxrss) / 1024;
    const bool told = write(channel[1], &m, sizeof m) == static_cast<ssize_t>(sizeof m);
    _exit(told ? 0 : 1);
  }
  Measured m;
  close(channel[1]);
  if (read(channel[0], &m, sizeof m) != static_cast<ssize_t>(sizeof m)) m = {};
  close(channel[0]);
  waitpid(child, nullptr, 0);
  return m;
}

survey::Rules shop(survey::Arrangement arrangement, int tiers, survey::Heading heading) {
  survey::Rules rules;
  rules.arrangement = arrangement;
  rules.tiers = tiers;
  rules.heading = heading;
  return rules;
}

Series by_corners(survey::Arrangement arrangement, const std::string& title) {
  Series series{title, "corners of the outline", {}};
  for (const int corners : {8, 20, 50, 200, 1'000, 5'000}) {
    series.points.push_back({static_cast<double>(corners), measure([&] {
      return packing::pack_cavity(test::shaft(blob(corners, 1), 260'000), test::cell(72'000, 174'000, 205'000),
                                  shop(arrangement, 1, survey::Heading::square));
    })});
  }
  return series;
}

Series by_cells() {
  Series series{"rows, 20 corners", "cells in the cavity", {}};
  for (const double scale : {0.5, 1.0, 2.0, 4.0, 8.0}) {
    Point point{0, measure([&] {
      return packing::pack_cavity(test::shaft(blob(20, scale), 260'000), test::cell(72'000, 174'000, 205'000),
                                  shop(survey::Arrangement::rows, 1, survey::Heading::square));
    })};
    point.at = point.measured.cells;
    series.points.push_back(point);
  }
  return series;
}

Series by_tiers() {
  Series series{"rows, 20 corners, all three stances", "tiers", {}};
  for (const int tiers : {1, 2, 3}) {
    series.points.push_back({static_cast<double>(tiers), measure([&] {
      survey::Cell cell = test::cell(72'000, 174'000, 205'000);
      cell.stances = {survey::Stance::upright, survey::Stance::on_edge, survey::Stance::flat};
      return packing::pack_cavity(test::shaft(blob(20, 1), 800'000), cell,
                                  shop(survey::Arrangement::rows, tiers, survey::Heading::square));
    })});
  }
  return series;
}

/// A bay three times as long as broad admits fewer headings than a round one: the width of the range that has to be searched.
Series by_angles() {
  Series series{"rows, 20 corners, free heading", "breadth of the bay, % of its length", {}};
  for (const int percent : {30, 50, 70, 80}) {
    series.points.push_back({static_cast<double>(percent), measure([&] {
      test::Corners outline = blob(20, 1);
      for (auto& [x, y] : outline) y = y * percent / 80;
      return packing::pack_cavity(test::shaft(outline, 260'000), test::cell(72'000, 174'000, 205'000),
                                  shop(survey::Arrangement::rows, 1, survey::Heading::free));
    })});
  }
  return series;
}

void print_table(const Series& series) {
  fmt::print("\n{}\n\n| {} | cells | no more than | time, ms | peak memory, MB |\n|---:|---:|---:|---:|---:|\n", series.title,
             series.axis);
  for (const Point& p : series.points) {
    fmt::print("| {:.0f} | {} | {} | {:.1f} | {:.1f} |\n", p.at, p.measured.cells, p.measured.bound,
               p.measured.milliseconds, p.measured.megabytes);
  }
}

constexpr double wide = 360, high = 220, left = 72, bottom = 48, top = 34;

/// One chart: both axes logarithmic where the range asks for it; time as dots and a line, peak memory written at each dot.
std::string chart(const Series& series, double x0, double y0) {
  double low = 1e300, most = 0, at_low = 1e300, at_high = 0;
  for (const Point& p : series.points) {
    low = std::min(low, p.measured.milliseconds);
    most = std::max(most, p.measured.milliseconds);
    at_low = std::min(at_low, p.at);
    at_high = std::max(at_high, p.at);
  }
  low = std::pow(10, std::floor(std::log10(low)));
  most = std::pow(10, std::ceil(std::log10(most)));
  const auto x_of = [&](double at) {
    const double part = at_high / at_low > 20 ? std::log(at / at_low) / std::log(at_high / at_low)
                                              : (at - at_low) / (at_high - at_low);
    return x0 + left + 22 + part * (wide - left - 66);
  };
  const auto y_of = [&](double ms) {
    return y0 + high - bottom - std::log(ms / low) / std::log(most / low) * (high - bottom - top);
  };
  std::string out = fmt::format("<text x='{}' y='{}' font-weight='bold'>{}</text>\n", x0 + 8, y0 + 18, series.title);
  for (double tick = low; tick <= most * 1.01; tick *= 10) {
    out += fmt::format("<line x1='{0:.1f}' x2='{1:.1f}' y1='{2:.1f}' y2='{2:.1f}' stroke='#ccc'/>\n"
                       "<text x='{3:.1f}' y='{4:.1f}' text-anchor='end'>{5}</text>\n",
                       x0 + left, x0 + wide - 30, y_of(tick), x0 + left - 5, y_of(tick) + 4, tick < 1000 ? fmt::format("{:g} ms", tick) : fmt::format("{:g} s", tick / 1000));
  }
  std::string line;
  for (const Point& p : series.points) {
    const double x = x_of(p.at), y = y_of(p.measured.milliseconds);
    line += fmt::format("{:.1f},{:.1f} ", x, y);
    out += fmt::format("<circle cx='{:.1f}' cy='{:.1f}' r='3.2'/>\n<text x='{:.1f}' y='{:.1f}' text-anchor='middle' fill='#555'>{:.0f} MB</text>\n"
                       "<text x='{:.1f}' y='{:.1f}' text-anchor='middle'>{:.0f}</text>\n",
                       x, y, x, y - 8, p.measured.megabytes, x, y0 + high - bottom + 16, p.at);
  }
  out += fmt::format("<polyline points='{}' fill='none' stroke='#000'/>\n<text x='{:.1f}' y='{:.1f}' text-anchor='middle'>{}</text>\n",
                     line, x0 + left + (wide - left - 40) / 2, y0 + high - 12, series.axis);
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<Series> all{by_corners(survey::Arrangement::rows, "rows, by corners"),
                                by_corners(survey::Arrangement::mixed, "both directions, by corners"), by_cells(), by_tiers(), by_angles()};
  for (const Series& series : all) print_table(series);
  if (argc < 2) return 0;
  std::FILE* file = std::fopen(argv[1], "w");
  if (file == nullptr) return 1;
  const int rows = static_cast<int>(all.size() + 1) / 2;
  fmt::print(file, "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {0} {1}' width='{0}' height='{1}' font-family='sans-serif' font-size='11'>\n"
                   "<rect width='{0}' height='{1}' fill='#fff'/>\n", 2 * wide, rows * high);
  for (std::size_t i = 0; i < all.size(); ++i) {
    fmt::print(file, "{}", chart(all[i], wide * static_cast<double>(i % 2), high * static_cast<double>(i / 2)));
  }
  fmt::print(file, "</svg>\n");
  std::fclose(file);
}
