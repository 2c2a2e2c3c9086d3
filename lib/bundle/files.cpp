// The files of a rule set as the folders list them: this runs at every start, so it opens none.
#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "bundle/contents.h"

namespace jambcheck::bundle {
namespace {

constexpr std::string_view kEnding = ".yaml";

void add_file(int folder, const char* name, const std::string& path, std::vector<FileMark>& out) {
  struct stat about{};
  if (fstatat(folder, name, &about, 0) != 0 || !S_ISREG(about.st_mode)) return;
  out.push_back({path, static_cast<std::uint64_t>(about.st_size), about.st_mtim.tv_sec * 1'000'000'000LL + about.st_mtim.tv_nsec, 0});
}

bool is_folder(int folder, const dirent& entry) {
  if (entry.d_type != DT_UNKNOWN && entry.d_type != DT_LNK) return entry.d_type == DT_DIR;
  struct stat about{};
  return entry.d_type == DT_UNKNOWN && fstatat(folder, entry.d_name, &about, 0) == 0 && S_ISDIR(about.st_mode);
}

void walk(int parent, const char* name, const std::string& path, std::vector<FileMark>& out) {
  const int folder = openat(parent, name, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  DIR* listed = folder < 0 ? nullptr : fdopendir(folder);
  if (!listed) return;
  while (const dirent* entry = readdir(listed)) {
    const std::string_view inner = entry->d_name;
    if (inner == "." || inner == "..") continue;
    if (is_folder(folder, *entry)) walk(folder, entry->d_name, path + "/" + entry->d_name, out);
    else if (inner.ends_with(kEnding)) add_file(folder, entry->d_name, path + "/" + entry->d_name, out);
  }
  closedir(listed);
}

}  // namespace

std::vector<FileMark> files_below(const std::string& root) {
  std::vector<FileMark> out;
  out.reserve(1024);
  for (const char* folder : {"rules", "tables"}) walk(AT_FDCWD, (root + "/" + folder).c_str(), folder, out);
  std::sort(out.begin(), out.end(), [](const FileMark& a, const FileMark& b) { return a.path < b.path; });
  return out;
}

std::uint64_t hash_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) return 0;
  std::ostringstream content;
  content << in.rdbuf();
  std::uint64_t h = 1469598103934665603ULL;
  for (const char c : content.view()) h = (h ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  return h;
}

}  // namespace jambcheck::bundle
