// Long schedules: rows a second and peak memory of `jambcheck check`, for rows that are mostly alike, all different, and
// with one bad row in a hundred.
// Then schedule and take-off of a hundredth of the rows.
//   schedule_bench PROGRAM BASE [ROWS]
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

namespace {

namespace fs = std::filesystem;

enum class Rows { alike, different, some_bad };

/// Rows that copy one opening of the base; the spacing makes them alike or different.
void write_schedule(const fs::path& path, long count, Rows rows) {
  std::ofstream out(path);
  out << "mark,like,guide.spacing,door.weight,door.barrel_weight,Location of mine,Remarks of mine\n";
  for (long i = 0; i < count; ++i) {
    const double spacing = rows == Rows::different ? 12 + static_cast<double>(i) * 2e-4 : 12 + static_cast<double>(i % 7) * 2;
    const bool bad = rows == Rows::some_bad && i % 100 == 50;
    out << "D-" << i << ",D-1," << spacing << (bad ? " what" : " in") << ',' << 150 + i % 5 * 10 << " lbf,70 lbf,\"Building " << i % 40 << ", bay " << i % 9 << "\",as drawn\n";
  }
}

/// Seconds of one command over the rows.
double measure(const char* program, const char* base, long count, Rows rows, const char* name, const char* command = "check") {
  const fs::path folder = fs::temp_directory_path() / ("schedule_bench_" + std::to_string(getpid()));
  fs::create_directories(folder);
  const std::string in = (folder / "plan.csv").string(), out = (folder / "out.csv").string();
  write_schedule(in, count, rows);
  const auto start = std::chrono::steady_clock::now();
  const pid_t child = fork();
  if (child == 0) {
    if (!std::freopen("/dev/null", "w", stderr)) std::_Exit(2);
    execl(program, program, command, in.c_str(), "--base", base, "-o", out.c_str(), "-q", static_cast<char*>(nullptr));
    std::_Exit(2);
  }
  int status = 0;
  rusage usage = {};
  wait4(child, &status, 0, &usage);
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  std::printf("%-10s %8ld rows  %7.2f s  %9.0f rows/s  peak %6.1f MB  exit %d\n", name, count, seconds, static_cast<double>(count) / seconds,
              static_cast<double>(usage.ru_maxrss) / 1024, WIFEXITED(status) ? WEXITSTATUS(status) : -1);
  fs::remove_all(folder);
  return seconds;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  const long count = argc > 3 ? std::atol(argv[3]) : 100000;
  measure(argv[1], argv[2], count, Rows::alike, "alike");
  measure(argv[1], argv[2], count, Rows::some_bad, "1 % bad");
  measure(argv[1], argv[2], count / 10, Rows::different, "different");
  // The lists of a whole project: what they take beyond the check, which they do too, with questions tried.
  const long listed = count / 100;
  const double schedule = measure(argv[1], argv[2], listed, Rows::different, "schedule", "schedule");
  const double takeoff = measure(argv[1], argv[2], listed, Rows::different, "takeoff", "takeoff");
  std::printf("a take-off of %ld rows takes %.2f of the time of their schedule\n", listed, takeoff / schedule);
  return 0;
}
