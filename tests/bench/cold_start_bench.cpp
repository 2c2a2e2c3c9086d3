// How long a whole run takes from nothing: `jambcheck check` of one opening, beside a program that prints one line.
// Arguments: jambcheck, the empty program, a project of one opening, a larger one. Runs alternate; prints the medians.
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <vector>

extern char** environ;

namespace {

double run(std::vector<const char*> arguments) {
  arguments.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  const auto start = std::chrono::steady_clock::now();
  pid_t child = 0;
  if (posix_spawn(&child, arguments[0], &actions, nullptr, const_cast<char**>(arguments.data()), environ) != 0) return -1;
  int status = 0;
  waitpid(child, &status, 0);
  posix_spawn_file_actions_destroy(&actions);
  const double taken = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
  return WIFEXITED(status) && WEXITSTATUS(status) <= 1 ? taken : -1;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

void print(const char* what, const std::vector<double>& taken, double empty) {
  std::printf("  %-32s %6.1f ms (%.1f)   %5.1f times the empty program\n", what, median(taken), *std::min_element(taken.begin(), taken.end()), median(taken) / empty);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 5) {
    std::fprintf(stderr, "usage: cold_start_bench JAMBCHECK EMPTY PROJECT LARGER_PROJECT\n");
    return 2;
  }
  constexpr int kRuns = 41;
  std::vector<double> check, larger, help, empty;
  for (int i = 0; i < kRuns; ++i) {
    check.push_back(run({argv[1], "check", argv[3]}));
    larger.push_back(run({argv[1], "check", argv[4]}));
    help.push_back(run({argv[1], "--help"}));
    empty.push_back(run({argv[2]}));
    if (std::min({check.back(), larger.back(), help.back(), empty.back()}) < 0) {
      std::fprintf(stderr, "a run failed\n");
      return 1;
    }
  }
  std::printf("Whole process from a cold start, median (least) of %d runs\n", kRuns);
  const double unit = median(empty);
  print("a program that prints one line", empty, unit);
  print("jambcheck --help", help, unit);
  print("jambcheck check of one opening", check, unit);
  print("jambcheck check of the demo", larger, unit);
  return 0;
}
