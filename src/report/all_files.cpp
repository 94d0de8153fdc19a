#include <nlohmann/json.hpp>

#include "cellstow/report/write.hpp"
#include "report/cavity_view.hpp"
#include "report/dxf.hpp"
#include "report/file_list.hpp"
#include "report/json_text.hpp"
#include "report/lists.hpp"
#include "report/page_drawings.hpp"
#ifdef CELLSTOW_STEP
#include "report/step.hpp"
#endif
#include "report/svg.hpp"
#include "report/text.hpp"

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

void add_cut_files(Files& files, const plan::Plan& plan) {
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      for (const box::Panel& panel : box.box.panels) {
        if (!panel.outline.empty()) add(files, "cut/", dxf_name(panel), to_dxf(panel));
      }
    }
  }
}

#ifdef CELLSTOW_STEP
void add_solids(Files& files, const survey::Job& job, const plan::Plan& plan) {
  for (const plan::CavityPlan& cavity : plan.cavities) {
    for (const plan::BoxPlan& box : cavity.boxes) {
      if (!box.sheet.parts.empty()) add(files, "solids/", file_part(box.box.mark) + ".step", to_step(assembly_of(box, job)));
    }
  }
}
#endif

void add_lists(Files& files, const survey::Job& job, const plan::Plan& plan) {
  files["lists/cut_list.csv"] = cut_list_csv(plan);
  files["lists/hole_schedule.csv"] = hole_schedule_csv(job, plan);
  files["lists/weights.csv"] = weights_csv(job, plan);
  files["lists/checks.csv"] = checks_csv(plan);
  files["lists/limits.csv"] = limits_csv(plan);
  files["lists/sheet_plan.csv"] = sheet_plan_csv(job, plan);
  files["lists/bar_plan.csv"] = bar_plan_csv(job, plan);
  files["lists/buying_list.csv"] = buying_list_csv(job, plan);
  files["lists/lists.xlsx"] = lists_xlsx(job, plan);
}

}  // namespace

std::map<std::string, std::string> all_files(const survey::Job& job, const plan::Plan& plan,
                                             const survey::Catalogue&) {
  Files files;
  files["plan.json"] = json_text(plan_to_json(job, plan));
  files["report.html"] = page(job, plan);
  add_drawings(files, job, plan);
  add_cut_files(files, plan);
#ifdef CELLSTOW_STEP
  add_solids(files, job, plan);
#endif
  add_lists(files, job, plan);
  std::string list = std::string(file_list_name) + "\n";
  for (const auto& [path, bytes] : files) list += path + "\n";
  files[file_list_name] = list;
  return files;
}

}  // namespace cellstow::report
