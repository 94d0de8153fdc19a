#include <algorithm>
#include <functional>
#include <nlohmann/json.hpp>

#include "cellstow/core/side_by_side.hpp"
#include "cellstow/fabrication/cut_check.hpp"
#include "cellstow/fabrication/holding_parts.hpp"
#include "cellstow/report/write.hpp"
#include "report/bench.hpp"
#include "report/cavity_view.hpp"
#include "report/dxf.hpp"
#include "report/engineer_page.hpp"
#include "report/file_list.hpp"
#include "report/json_text.hpp"
#include "report/lists.hpp"
#include "report/mock_up.hpp"
#include "report/page_drawings.hpp"
#include "report/paper_files.hpp"
#include "report/part_drawing.hpp"
#ifdef CELLSTOW_STEP
#include "report/step.hpp"
#endif
#include "report/split_parts.hpp"
#include "report/svg.hpp"
#include "report/text.hpp"
#include "report/wired.hpp"
#include "report/xlsx.hpp"

namespace cellstow::report {
namespace {

using Files = std::map<std::string, std::string>;

/// Two parts whose names differ only in characters no file name takes still get two files.
void add(Files& files, const std::string& folder, const std::string& name, std::string bytes) {
  const std::size_t dot = name.rfind('.');
  std::string path = folder + name;
  for (int i = 2; files.contains(path); ++i) {
    path = folder + name.substr(0, dot) + "-" + std::to_string(i) + name.substr(dot);
  }
  files[path] = std::move(bytes);
}

void add_drawings(Files& files, const survey::Job& job, const plan::Plan& plan) {
  for (const Drawing& drawing : all_drawings(job, plan)) {
    add(files, "drawings/", drawing.name + ".svg", to_svg(drawing, SvgUse::own_file));
  }
}

/// A part that a laser shop would send back gets no file; a check of the plan says what is wrong with it.
void add_cut_files(Files& files, const survey::Job& job, const plan::Plan& plan) {
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const fabrication::SheetPart* whole : cut_from_sheet(box)) {
        const fabrication::SheetPart part = fabrication::drilled_later(*whole);
        if (fabrication::cut_faults(part).empty()) add(files, "cut/", dxf_name(part), to_dxf(part, job.rules.cut_files));
      }
    }
  }
}

/// A PDF of all sheets, and each sheet as SVG.
Files drawing_files(const DrawingSet& set) {
  Files files;
  files[set.stem + ".pdf"] = to_pdf(set.sheets, set.title);
  for (std::size_t i = 0; i < set.sheets.size(); ++i) {
    files[set.stem + "_sheet_" + std::to_string(i + 1) + ".svg"] = to_svg(set.sheets[i]);
  }
  return files;
}

void add_lists(Files& files, const survey::Job& job, const plan::Plan& plan) {
  const std::vector<NamedList> lists = all_lists(job, plan);
  for (const NamedList& list : lists) {
    std::string file = list.name;
    std::replace(file.begin(), file.end(), ' ', '_');
    files["lists/" + file + ".csv"] = to_csv(list.table);
  }
  files["lists/lists.xlsx"] = to_xlsx(lists);
}

/// What hangs at the bench.
void add_bench(Files& files, const survey::Job& job, const plan::Plan& plan) {
  const std::vector<const plan::BoxPlan*> boxes = boxes_of(plan);
  if (boxes.empty()) return;
  for (std::size_t i = 0; i < boxes.size(); ++i) add(files, "", build_sheet_name(*boxes[i]), build_sheet(job, plan, i));
  files["labels.html"] = labels(job, plan);
}

#ifdef CELLSTOW_STEP
/// One piece of work: the library behind it makes one at a time.
Files solid_files(const survey::Job& job, const plan::Plan& plan) {
  Files files;
  for (const plan::BoxPlan* box : boxes_of(plan))
    if (!box->sheet.parts.empty()) files["solids/" + file_part(box->box.mark) + ".step"] = to_step(assembly_of(*box, job));
  return files;
}
#endif

using Piece = std::function<Files()>;

/// The folder as pieces of work that share nothing, the longest first.
std::vector<Piece> pieces_of_work(const survey::Job& job, const plan::Plan& plan, const Supplements& more, const std::vector<DrawingSet>& drawings,
                                  const std::vector<DrawingSet>& mock_ups) {
  std::vector<Piece> work;
#ifdef CELLSTOW_STEP
  work.push_back([&] { return solid_files(job, plan); });
#endif
  work.push_back([&] { return Files{{"report.html", page(job, plan, more)}}; });
  for (const DrawingSet& set : mock_ups) work.push_back([&set] { return Files{{set.stem + ".pdf", to_pdf(set.sheets, set.title)}}; });
  for (const DrawingSet& set : drawings) work.push_back([&set] { return drawing_files(set); });
  const auto add_piece = [&](void (*fill)(Files&, const survey::Job&, const plan::Plan&)) {
    work.push_back([&job, &plan, fill] {
      Files files;
      fill(files, job, plan);
      return files;
    });
  };
  for (const auto fill : {add_drawings, add_cut_files, add_lists, add_bench}) add_piece(fill);
  work.push_back([&] { return Files{{"plan.json", json_text(plan_to_json(job, plan))}, {"engineer.html", engineer_page(job, plan)}}; });
  return work;
}

}  // namespace

std::map<std::string, std::string> all_files(const survey::Job& job, const plan::Plan& plan,
                                             const survey::Catalogue&, const Supplements& more) {
  const std::vector<DrawingSet> drawings = workshop_drawings(job, plan), patterns = mock_ups(job, plan);
  const std::vector<Piece> work = pieces_of_work(job, plan, more, drawings, patterns);
  Files files;
  if (more.splits != nullptr) files["lists/splits.csv"] = to_csv(split_table(*more.splits));
  for (Files& some : core::side_by_side(work.size(), [&](std::size_t i) { return work[i](); })) {
    for (auto& [path, bytes] : some) add(files, "", path, std::move(bytes));
  }
  std::string list = std::string(file_list_name) + "\n";
  for (const auto& [path, bytes] : files) list += path + "\n";
  files[file_list_name] = list;
  return files;
}

}  // namespace cellstow::report
