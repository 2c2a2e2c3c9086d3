#include "cli/progress.h"

#include <fmt/format.h>
#include <unistd.h>

namespace jambcheck::cli {
namespace {

volatile std::sig_atomic_t stop_asked = 0;
void on_stop(int /*signal*/) { stop_asked = 1; }

double seconds(std::chrono::steady_clock::time_point from, std::chrono::steady_clock::time_point to) { return std::chrono::duration<double>(to - from).count(); }

}  // namespace

StopOnAsking::StopOnAsking() {
  stop_asked = 0;
  struct sigaction action = {};
  action.sa_handler = on_stop;
  sigaction(SIGINT, &action, &before_);
}
StopOnAsking::~StopOnAsking() { sigaction(SIGINT, &before_, nullptr); }
bool StopOnAsking::asked() { return stop_asked != 0; }

Progress::Progress(bool wanted) : on_(wanted && isatty(STDERR_FILENO) != 0), start_(Clock::now()), last_(start_) {}

void Progress::show(std::size_t done, std::string_view what, std::size_t of) {
  const auto now = Clock::now();
  if (!on_ || seconds(start_, now) < 1 || seconds(last_, now) < 0.2) return;
  last_ = now;
  shown_ = true;
  if (of != 0) fmt::print(stderr, "\r{} of {} {} ", done, of, what);
  else fmt::print(stderr, "\r{} {}, {:.0f} a second ", done, what, static_cast<double>(done) / seconds(start_, now));
}

void Progress::clear() {
  if (shown_) fmt::print(stderr, "\r{:50}\r", "");
  shown_ = false;
}

}  // namespace jambcheck::cli
