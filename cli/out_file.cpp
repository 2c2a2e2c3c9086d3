#include "cli/out_file.h"

#include <fmt/format.h>

namespace jambcheck::cli {

namespace fs = std::filesystem;

OutFile::OutFile(const std::string& path) {
  if (path.empty() || path == "-") {
    file_ = stdout;
    return;
  }
  target_ = path;
  std::error_code error;
  const fs::path folder = target_.parent_path().empty() ? fs::path(".") : target_.parent_path();
  if (!fs::is_directory(folder, error)) problem_ = fmt::format("the folder \"{}\" does not exist", folder.string());
  else if (fs::is_directory(target_, error)) problem_ = "it is a folder";
  if (!problem_.empty()) return;
  const bool special = fs::exists(target_, error) && !fs::is_regular_file(target_, error);
  if (special) {  // a pipe or a device: nothing may take its place
    file_ = std::fopen(target_.c_str(), "wb");
    if (!file_) problem_ = "no permission";
    return;
  }
  part_ = folder / ("." + target_.filename().string() + ".part");
  file_ = std::fopen(part_.c_str(), "wb");
  if (!file_) problem_ = "no permission";
}

OutFile::~OutFile() {
  if (file_ && file_ != stdout) std::fclose(file_);
  std::error_code error;
  if (!part_.empty()) fs::remove(part_, error);  // what was given its name is no longer there
}

void OutFile::write(const std::string& text) {
  if (!file_ || !problem_.empty()) return;
  if (std::fwrite(text.data(), 1, text.size(), file_) != text.size())
    problem_ = file_ == stdout ? "standard output takes nothing more" : "no permission, or the disk is full";
}

std::string OutFile::finish(bool complete) {
  if (!file_ || !problem_.empty()) return problem_;
  const bool flushed = std::fflush(file_) == 0;
  if (file_ == stdout) return flushed ? "" : "standard output takes nothing more";
  std::fclose(file_);
  file_ = nullptr;
  if (!flushed) return "no permission, or the disk is full";
  if (part_.empty()) return "";
  if (!complete) target_.replace_filename(target_.stem().string() + ".incomplete" + target_.extension().string());
  std::error_code error;
  fs::rename(part_, target_, error);
  return error ? error.message() : "";
}

std::string OutFile::name() const { return target_.empty() ? "standard output" : target_.string(); }

}  // namespace jambcheck::cli
