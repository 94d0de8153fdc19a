#pragma once
/// Work that shares nothing, done on several cores.

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <future>
#include <thread>
#include <vector>

namespace cellstow::core {

/// As many as the machine has.
inline std::size_t all_cores() { return std::max(1U, std::thread::hardware_concurrency()); }

/// Results of `work(i)` for i < count, in order, on as many threads as there are `cores`: which thread takes which never shows.
template <class Work>
auto side_by_side(std::size_t count, Work work, std::size_t cores = all_cores()) {
  std::vector<decltype(work(std::size_t{}))> results(count);
  std::atomic<std::size_t> next{0};
  const auto take = [&] {
    for (std::size_t i = next++; i < count; i = next++) results[i] = work(i);
  };
  std::vector<std::future<void>> others;
  for (std::size_t k = 1; k < std::min(cores, count); ++k) others.push_back(std::async(std::launch::async, take));
  take();
  for (std::future<void>& other : others) other.get();
  return results;
}

}  // namespace cellstow::core
