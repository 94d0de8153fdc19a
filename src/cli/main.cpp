/// Arguments in, files and an exit status out. Everything between is in the libraries.

#include <fmt/format.h>

#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <exception>

#include "command.hpp"

namespace {

using namespace cellstow::cli;

extern "C" void on_interrupt(int) {
  if (stop_asked.exchange(true)) std::_Exit(130);  // asked twice: at once
}

}  // namespace

int main(int argc, char** argv) try {
  CLI::App app{"Plans battery boxes for a car: most cells in the measured cavities, boxes that can be made,\n"
               "straps and fixings calculated, axle loads before and after.", "cellstow"};
  app.set_version_flag("--version", std::string("cellstow ") + CELLSTOW_VERSION);
  app.require_subcommand(1);
  app.footer("Exit status: 0 done and every check holds; 1 done, some check does not hold (all is written);\n"
             "2 bad input or usage (nothing written); 3 a fault of the program.");
  const Command commands[] = {plan_command(app),  pack_command(app),   audit_command(app),   sheet_command(app),
                              enter_command(app), choose_command(app), roughly_command(app), compare_command(app)};
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? all_hold : bad_input;
  }
  std::signal(SIGINT, on_interrupt);
  for (const Command& command : commands) {
    if (command.arguments->parsed()) return command.run();
  }
  return program_fault;  // one command is required, so one was parsed
} catch (const std::exception& error) {
  fmt::print(stderr, "cellstow: fault of the program: {}\n", error.what());
  return 3;
}
