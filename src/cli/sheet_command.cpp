#include <fmt/format.h>

#include <filesystem>
#include <memory>

#include "cellstow/report/measuring_sheet.hpp"
#include "command.hpp"

namespace cellstow::cli {
namespace {

int run_sheet(const Options& options) {
  const auto sections = survey::read_tape_sections(options.file, roots_of(options), options.shapes);
  if (!sections) return refuse(sections.error());
  const std::filesystem::path job(options.file), out(options.out);
  const auto written = report::write_sheet(out, report::measuring_sheet_files(job.stem().string(), *sections));
  if (!written) return refuse(written.error());
  if (options.quiet) return all_hold;
  for (const survey::TapeSection& section : *sections) {
    fmt::print("{}, {}\n", section.cavity, survey::section_name(section));
    for (const std::string& remark : section.remarks) fmt::print("  {}\n", remark);
  }
  fmt::print("To print: {}\nTo fill:  {}\n", (out / "sheet.html").string(), (out / "sheet.csv").string());
  return all_hold;
}

}  // namespace

Command sheet_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* sheet = app.add_subcommand("sheet", "The measuring sheet of a job with tapes: a page to print, a list to fill, and what the readings say so far");
  sheet->add_option("JOB", options->file, "Job file; only names, stations and tapes have to be there")->required();
  add_roots(sheet, *options);
  sheet->add_option("--out", options->out, "Folder for sheet.html and sheet.csv; made when missing")->required();
  sheet->add_flag("--quiet", options->quiet, "No summary");
  return {sheet, [options] { return run_sheet(*options); }};
}

}  // namespace cellstow::cli
