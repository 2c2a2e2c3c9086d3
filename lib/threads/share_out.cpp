#include "threads/share_out.h"

#include <algorithm>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace jambcheck::threads {

std::size_t threads_for(std::size_t count, int jobs) {
  const std::size_t wanted = jobs > 0 ? static_cast<std::size_t>(jobs) : std::max(1U, std::thread::hardware_concurrency());
  return std::min(wanted, std::max<std::size_t>(1, count));
}

void share_out(std::size_t count, int jobs, const std::function<void(Turns& turns, std::size_t thread)>& work) {
  Turns turns(count);
  std::mutex mutex;
  std::exception_ptr problem;
  const auto run = [&](std::size_t thread) {
    try {
      work(turns, thread);
    } catch (...) {
      const std::lock_guard lock(mutex);
      if (!problem) problem = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> pool;
    for (std::size_t t = 1; t < threads_for(count, jobs); ++t) pool.emplace_back(run, t);
    run(0);
  }
  if (problem) std::rethrow_exception(problem);
}

void for_each_index(std::size_t count, int jobs, const std::function<void(std::size_t)>& work) {
  share_out(count, jobs, [&](Turns& turns, std::size_t) {
    while (const auto i = turns.next()) work(*i);
  });
}

}  // namespace jambcheck::threads
