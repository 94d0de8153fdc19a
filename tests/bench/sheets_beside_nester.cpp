/// Sheet parts of the sample jobs on stock sheets: laid by the rectangles round them, beside a general-purpose nester that lays the
/// parts' own outlines. Kits for one car and for several.

#include <fmt/core.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <map>

#include "cellstow/fabrication/sheet_stock.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/read_job.hpp"
#include "nester.hpp"

using namespace cellstow;

namespace {

using Kind = std::pair<std::string, double>;
using Parts = std::vector<const fabrication::SheetPart*>;

std::map<Kind, Parts> parts_of(const plan::Plan& plan) {
  std::map<Kind, Parts> out;
  const auto add = [&](const fabrication::SheetPart& part) { out[{part.material, part.thickness}].push_back(&part); };
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const fabrication::SheetPart& part : box.sheet.parts) add(part);
      for (const fabrication::SheetPart& part : box.holding)
        if (part.kind == fabrication::PartKind::plate) add(part);
    }
  }
  return out;
}

core::Length up(double mm) { return core::Length::from_um(static_cast<core::Um>(std::ceil(mm * 1000 - 1e-6))); }

fabrication::SheetPlan by_rectangles(const Parts& parts, const survey::Stock& stock, int cars) {
  std::vector<fabrication::SheetPiece> pieces;
  for (const fabrication::SheetPart* part : parts) {
    const fabrication::FlatExtent extent = fabrication::extent_of(part->flat.outline);
    pieces.push_back({part->mark, up(extent.width()), up(extent.height()), fabrication::sheet_area(part->flat), part->quantity * cars});
  }
  return fabrication::lay_on_sheets(pieces, stock.sheet_length, stock.sheet_width, stock.sheet_margin, stock.part_gap);
}

bench::SheetsAnswer by_outlines(const Parts& parts, const survey::Stock& stock, int cars) {
  std::vector<bench::NestedPart> nested;
  for (const fabrication::SheetPart* part : parts) {
    bench::NestedPart one{{}, part->quantity * cars};
    for (const fabrication::FlatPoint& p : fabrication::straightened(part->flat.outline, 0.1)) one.outline.emplace_back(std::llround(p.a * 1000), std::llround(p.b * 1000));
    nested.push_back(std::move(one));
  }
  const auto room = [&](core::Length side) { return (side - stock.sheet_margin - stock.sheet_margin).um(); };
  return bench::nest_on_sheets(nested, room(stock.sheet_length), room(stock.sheet_width), stock.part_gap.um());
}

double seconds_since(std::chrono::steady_clock::time_point start) { return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(); }

}  // namespace

int main(int count, char** names) {
  const std::filesystem::path shapes = CELLSTOW_SHAPES;
  const auto catalogue = survey::read_catalogue(shapes);
  if (!catalogue) return 1;
  const std::vector<std::string> jobs = count > 1 ? std::vector<std::string>(names + 1, names + count) : std::vector<std::string>{"coupe", "estate", "van", "saloon"};
  fmt::print("| job | sheet | cars | parts | by area | rectangles | seconds | nester | seconds |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
  for (const std::string& name : jobs) {
    const auto job = survey::read_job(shapes / "samples" / (name + ".json"), {shapes}, shapes, *catalogue);
    if (!job) return 1;
    const plan::Plan plan = plan::make_plan(*job, *catalogue);
    for (const auto& [kind, parts] : parts_of(plan)) {
      for (const int cars : {1, 2, 4, 8}) {
        auto start = std::chrono::steady_clock::now();
        const fabrication::SheetPlan ours = by_rectangles(parts, job->stock, cars);
        const double ours_s = seconds_since(start);
        int pieces = 0;
        for (const fabrication::SheetPart* part : parts) pieces += part->quantity * cars;
        const bench::SheetsAnswer nester = by_outlines(parts, job->stock, cars);
        fmt::print("| {} | {}, {} mm | {} | {} | {} | {} | {:.4f} | {}{} | {:.2f} |\n", name, kind.first, kind.second, cars, pieces, ours.bound, ours.sheets.size(), ours_s,
                   nester.sheets, nester.left_out > 0 ? fmt::format(" ({} left out)", nester.left_out) : "", nester.seconds);
        std::fflush(stdout);
      }
    }
  }
}
