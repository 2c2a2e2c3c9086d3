#pragma once
// Work on many things shared out between threads. Which thread does which thing hangs on chance; results must not.
#include <atomic>
#include <cstddef>
#include <functional>
#include <optional>

namespace jambcheck::threads {

/// Hands out 0, 1 ... count - 1, each once, to whichever thread asks.
class Turns {
 public:
  explicit Turns(std::size_t count) : count_(count) {}
  std::optional<std::size_t> next() {
    const std::size_t i = next_++;
    return i < count_ ? std::optional(i) : std::nullopt;
  }

 private:
  std::size_t count_;
  std::atomic<std::size_t> next_{0};
};

/// How many threads `count` things are shared out to: `jobs` of them, 0 for one a core; never more than things, never none.
std::size_t threads_for(std::size_t count, int jobs);

/// Runs `work` on threads_for(count, jobs) threads: this one, which is thread 0, and others. Each takes its turns until
/// there are none left. Returns when all are done; an exception of any of them comes out here.
void share_out(std::size_t count, int jobs, const std::function<void(Turns& turns, std::size_t thread)>& work);

/// The same where a thread needs nothing of its own.
void for_each_index(std::size_t count, int jobs, const std::function<void(std::size_t)>& work);

}  // namespace jambcheck::threads
