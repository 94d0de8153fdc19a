#pragma once
/// What every command of the program shares: exit statuses, reading a job, telling problems and progress.

#include <CLI/CLI.hpp>

#include <atomic>
#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "cellstow/core/problem.hpp"
#include "cellstow/plan/plan.hpp"
#include "cellstow/survey/catalogue.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::cli {

/// Exit statuses, as promised in the README.
enum Status { all_hold = 0, some_fail = 1, bad_input = 2, program_fault = 3 };

/// One command: its arguments, and what to do once they are read.
struct Command {
  CLI::App* arguments;
  std::function<int()> run;  ///< gives the exit status
};

Command plan_command(CLI::App& app);
Command pack_command(CLI::App& app);
Command audit_command(CLI::App& app);
Command sheet_command(CLI::App& app);
Command enter_command(CLI::App& app);
Command choose_command(CLI::App& app);
Command roughly_command(CLI::App& app);
Command compare_command(CLI::App& app);

/// Set by Ctrl-C: the searches end with the best found so far.
extern std::atomic<bool> stop_asked;

struct Options {
  std::string file, out;
  std::vector<std::string> roots;
  std::string shapes = CELLSTOW_SHAPES;
  bool quiet = false, json = false;
};

/// --quiet and --json.
void add_common(CLI::App* command, Options& options);
/// --root.
void add_roots(CLI::App* command, Options& options);
/// JOB, --root, --shapes and the common ones.
void add_job(CLI::App* command, Options& options);

std::vector<std::filesystem::path> roots_of(const Options& options);

struct Input {
  survey::Catalogue catalogue;
  survey::Job job;
};

core::Result<Input> read(const Options& options);

/// Tells every problem on standard error. @return bad_input
int refuse(const core::Problems& problems);

int status_of(const plan::Plan& plan);

/// Every plan is read back and checked by the part that shares nothing with the packer.
/// @return what does not hold; nothing when all does
std::optional<std::string> own_check(const std::string& plan_text);
/// @return program_fault
int fault(const std::string& text);

/// Tells what is being done once it takes longer than a second.
class SlowProgress {
 public:
  explicit SlowProgress(bool quiet) : quiet_(quiet) {}
  void operator()(const std::string& what) const;

 private:
  bool quiet_;
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

}  // namespace cellstow::cli
