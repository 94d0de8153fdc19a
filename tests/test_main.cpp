#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include <cstdio>

namespace {

int cases_started = 0;

/// Counts the test cases that really run.
struct CaseCounter : doctest::IReporter {
  explicit CaseCounter(const doctest::ContextOptions&) {}
  void report_query(const doctest::QueryData&) override {}
  void test_run_start() override {}
  void test_run_end(const doctest::TestRunStats&) override {}
  void test_case_start(const doctest::TestCaseData&) override { ++cases_started; }
  void test_case_reenter(const doctest::TestCaseData&) override {}
  void test_case_end(const doctest::CurrentTestCaseStats&) override {}
  void test_case_exception(const doctest::TestCaseException&) override {}
  void subcase_start(const doctest::SubcaseSignature&) override {}
  void subcase_end() override {}
  void log_assert(const doctest::AssertData&) override {}
  void log_message(const doctest::MessageData&) override {}
  void test_case_skipped(const doctest::TestCaseData&) override {}
};

DOCTEST_REGISTER_LISTENER("case_counter", 1, CaseCounter);

}  // namespace

/// Runs the tests; a program in which no test case ran has failed.
int main(int argc, char** argv) {
  doctest::Context context(argc, argv);
  const int result = context.run();
  if (context.shouldExit()) return result;
  if (cases_started == 0) {
    std::fputs("no test case ran\n", stderr);
    return 1;
  }
  return result;
}
