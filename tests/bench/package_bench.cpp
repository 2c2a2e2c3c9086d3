// A package of 300 openings: time and peak memory of `jambcheck package` as HTML and PDF, check included, beside the time
// of the check alone. Openings copy those of a project and differ in width and weight; many share a type.
//   package_bench PROGRAM BASE [OPENINGS]
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

std::vector<std::string> marks_in(const std::string& project) {
  std::vector<std::string> out;
  const std::string lead = "- mark: ";
  for (auto at = project.find(lead); at != std::string::npos; at = project.find(lead, at + 1)) {
    const auto from = at + lead.size();
    out.push_back(project.substr(from, project.find('\n', from) - from));
  }
  return out;
}

/// In a copy of the folder around the base's, for the base names other files.
fs::path write_project(const fs::path& base, long count, const fs::path& folder) {
  std::ifstream in(base);
  std::stringstream text;
  text << in.rdbuf();
  const auto marks = marks_in(text.str());
  fs::copy(base.parent_path().parent_path(), folder, fs::copy_options::recursive);
  const fs::path path = folder / base.parent_path().filename() / "many.yaml";
  std::ofstream out(path);
  out << text.str();
  for (long i = static_cast<long>(marks.size()); i < count; ++i)
    out << "  - mark: X-" << i << "\n    like: " << marks[static_cast<std::size_t>(i) % marks.size()] << "\n    size: " << 6 + i % 4 << "'-" << i % 13 % 12 << "\" x 8'-0\"\n    door: {barrel_weight: "
        << 60 + i % 7 << " lbf}\n";
  return path;
}

void measure(const char* program, const char* what, const fs::path& in, const char* ending) {
  const std::string out = in.string() + ending;
  const auto start = std::chrono::steady_clock::now();
  const pid_t child = fork();
  if (child == 0) {
    if (!std::freopen("/dev/null", "w", stderr)) std::_Exit(2);
    execl(program, program, what, in.c_str(), "-o", out.c_str(), "-q", static_cast<char*>(nullptr));
    std::_Exit(2);
  }
  int status = 0;
  rusage usage = {};
  wait4(child, &status, 0, &usage);
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  const double cpu = static_cast<double>(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) + static_cast<double>(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) * 1e-6;
  std::printf("%-8s %-5s  %7.2f s  (processor %7.2f s)  peak %6.1f MB  %8.0f kB  exit %d\n", what, ending, seconds, cpu, static_cast<double>(usage.ru_maxrss) / 1024,
              fs::exists(out) ? static_cast<double>(fs::file_size(out)) / 1024 : 0, WIFEXITED(status) ? WEXITSTATUS(status) : -1);
  fs::remove(out);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  const fs::path folder = fs::temp_directory_path() / ("package_bench_" + std::to_string(getpid()));
  const fs::path project = write_project(argv[2], argc > 3 ? std::atol(argv[3]) : 300, folder);
  measure(argv[1], "check", project, ".txt");
  measure(argv[1], "package", project, ".html");
  measure(argv[1], "package", project, ".pdf");
  fs::remove_all(folder);
  return 0;
}
