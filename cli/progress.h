#pragma once
// Long runs: an end when it is asked for, and a line on the terminal that says how far they are.
#include <chrono>
#include <csignal>
#include <cstddef>
#include <string_view>

namespace jambcheck::cli {

/// While it lives, Ctrl-C asks for an end after what is in work. One at a time.
class StopOnAsking {
 public:
  StopOnAsking();
  ~StopOnAsking();
  StopOnAsking(const StopOnAsking&) = delete;
  StopOnAsking& operator=(const StopOnAsking&) = delete;
  static bool asked();

 private:
  struct sigaction before_ = {};
};

/// Shows itself on a terminal only, and only when it takes more than a second.
class Progress {
 public:
  explicit Progress(bool wanted);
  /// "120 rows, 60 a second", or with a total "120 of 1000 openings".
  void show(std::size_t done, std::string_view what, std::size_t of = 0);
  void clear();

 private:
  using Clock = std::chrono::steady_clock;
  bool on_, shown_ = false;
  Clock::time_point start_, last_;
};

}  // namespace jambcheck::cli
