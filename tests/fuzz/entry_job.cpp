#include "entries.hpp"

#include <string>

#include "cellstow/report/write.hpp"
#include "cellstow/survey/read_job.hpp"
#include "promises.hpp"
#include "survey/tables.hpp"

namespace cellstow::fuzz {
namespace {

core::Result<survey::Job> read(std::string_view text) {
  static const survey::Catalogue tables = survey::testing::small_tables();
  const std::filesystem::path nowhere = "/nonexistent/cellstow";
  return survey::read_job_text(text, "job.json", nowhere, {}, nowhere, tables);
}

}  // namespace

void job(std::string_view bytes) {
  const auto read_once = read(bytes);
  if (!read_once) return check_told(read_once.error());
  const std::string written = report::job_to_json(*read_once).dump();
  const auto read_again = read(written);
  promise(read_again.has_value(), "a written job is a job");
  promise(report::job_to_json(*read_again).dump() == written, "a written job comes back the same");
}

}  // namespace cellstow::fuzz
