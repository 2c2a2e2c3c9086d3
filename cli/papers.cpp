// `jambcheck package` and `replay`: the paper for the one who reviews.
#include <stdlib.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>

#include <fmt/format.h>

#include "choose/finder.h"
#include "cli/commands.h"
#include "cli/letters.h"
#include "cli/output.h"
#include "cli/project.h"
#include "document/writers.h"
#include "papers/fastening.h"
#include "papers/package.h"

namespace jambcheck::cli {
namespace {

namespace fs = std::filesystem;
using text::MessageId;

/// A project with all that papers need of it.
struct Whole {
  std::optional<opening::Project> project;
  std::vector<verdict::OpeningResult> results;
  std::vector<std::string> not_read;
  std::unique_ptr<verdict::Checker> checker;
  std::string input;
  Exit problem = Exit::holds;  ///< Exit::input beside good openings
};

bool check_whole(Context& context, const text::SourceFile& source, Whole& out) {
  const auto* set = context.rule_set();
  if (!set) {
    out.problem = Exit::broken;
    return false;
  }
  out.input = source.text;
  out.project = load_project(context, *set, source, out.problem);
  if (!out.project) return false;
  std::vector<const opening::Opening*> good;
  for (const auto& o : out.project->openings) {
    if (o.broken || out.project->broken) out.not_read.push_back(o.mark);
    else good.push_back(&o);
  }
  if (good.empty()) {
    out.problem = Exit::input;
    return false;
  }
  out.checker = std::make_unique<verdict::Checker>(*set);
  out.checker->try_answers(true);
  out.results = out.checker->check_all(*out.project, good, context.options().jobs);
  return true;
}

bool check_whole(Context& context, const std::string& file, Whole& out) {
  const auto* source = context.read(file);
  if (!source) {
    out.problem = Exit::file;
    return false;
  }
  return check_whole(context, *source, out);
}

Exit finish(Exit written, Exit problem) { return written != Exit::holds ? written : problem == Exit::input ? Exit::input : Exit::holds; }

/// A folder that goes when this goes, deep enough that names with ../ stay within it.
class Unpacked {
 public:
  Unpacked() {
    std::string name = (fs::temp_directory_path() / "jambcheck-XXXXXX").string();
    root_ = mkdtemp(name.data()) ? name : "";
    folder_ = root_ / "1" / "2" / "3" / "4" / "5" / "6";
    std::error_code error;
    fs::create_directories(folder_, error);
  }
  ~Unpacked() {
    std::error_code error;
    if (!root_.empty()) fs::remove_all(root_, error);
  }
  Unpacked(const Unpacked&) = delete;
  Unpacked& operator=(const Unpacked&) = delete;
  /// False when the name leads out of it.
  bool add(const document::Inside& file) {
    const fs::path path = (folder_ / file.name).lexically_normal();
    const auto [end, rest] = std::mismatch(root_.begin(), root_.end(), path.begin(), path.end());
    if (end != root_.end() || fs::path(file.name).is_absolute()) return false;
    std::error_code error;
    fs::create_directories(path.parent_path(), error);
    return write_file(path.string(), file.content).empty();
  }
  [[nodiscard]] std::string project() const { return (folder_ / papers::kInputName).string(); }

 private:
  fs::path root_, folder_;
};

bool tell(Context& context, MessageId id, const text::Args& args) {
  text::Diagnostics diagnostics;
  diagnostics.add(id, {}, args);
  context.report(diagnostics);
  return false;
}

/// The project and the record of a package; tells what is wrong.
bool unpack(Context& context, const std::string& file, const std::vector<document::Inside>& inside, Unpacked& folder, std::string& record) {
  bool project = false;
  for (const auto& f : inside) {
    if (f.name == papers::kRecordName) {
      record = f.content;
      continue;
    }
    if (!folder.add(f)) return tell(context, MessageId::L025, {file, f.name});
    project = project || f.name == papers::kInputName;
  }
  return (project && !record.empty()) || tell(context, MessageId::L024, {file});
}

bool is_package(const std::string& text) { return text.rfind("%PDF", 0) == 0 || text.find("<template class=\"inside\"") != std::string::npos; }

std::vector<document::Inside> inside_of(const std::string& text) { return text.rfind("%PDF", 0) == 0 ? document::inside_of_pdf(text) : document::inside_of_html(text); }

/// The older state of a project: what travels inside of a package, or a project file. Its answers are worked out anew, so
/// that what changed is the project and not the rules.
bool check_older(Context& context, const std::string& file, Whole& out) {
  const auto* source = context.read(file);
  if (!source) {
    out.problem = Exit::file;
    return false;
  }
  if (!is_package(source->text)) return check_whole(context, *source, out);
  Unpacked folder;
  std::string record;
  if (unpack(context, file, inside_of(source->text), folder, record)) return check_whole(context, folder.project(), out);
  out.problem = Exit::input;
  return false;
}

/// For the member that decides of each type, what was tried and does not hold: one line a kind and reason.
std::map<std::string, std::vector<papers::Refusal>> refused_of(Context& context, const Whole& whole, const std::vector<papers::Type>& types) {
  std::map<std::string, std::vector<papers::Refusal>> out;
  for (const auto& type : types) {
    auto& all = out[type.letter];
    for (const bool bracket : {false, true}) {
      const auto found = choose::find(*whole.checker, *context.rule_set(), *whole.project, *type.worst().opening, {bracket, choose::Sides::both, choose::By::holes, true}, {});
      for (const auto& refused : found.refused) {
        std::map<std::string, papers::Refusal> by_kind;
        for (const std::size_t i : refused.tried) {
          auto& r = by_kind[papers::spaced(found.space.items[found.space.candidates[i].item].kind)];
          const double ratio = found.tried[i].ratio;
          if (r.tried == 0) r.least = ratio;
          else if (!std::isnan(ratio)) r.least = std::isnan(r.least) ? ratio : std::min(r.least, ratio);
          ++r.tried;
        }
        for (auto& [kind, r] : by_kind) all.push_back({bracket ? "bracket" : "guide", kind, refused.reason, r.tried, r.least});
      }
    }
  }
  return out;
}

}  // namespace

Exit run_package(Context& context, const PaperArguments& arguments) {
  Form form{};
  if (!form_of(context, {Form::html, Form::pdf, Form::text}, form)) return Exit::usage;
  Whole whole;
  if (!check_whole(context, arguments.file, whole)) return whole.problem;
  std::vector<papers::Type> types;
  if (!types_by_letters(context, *whole.project, whole.results, arguments.letters, types)) return Exit::input;
  Whole older;
  if (!arguments.against.empty() && !check_older(context, arguments.against, older)) return older.problem;
  papers::PackageOptions options{paper_of(arguments.paper), context.options().digits, whole.not_read, whole.input,
                                      arguments.workings == "all" ? papers::Extent::all : papers::Extent::deciding, {}, {}, context.options().jobs};
  if (older.project) options.revision = papers::revision_of({*older.project, older.results}, {*whole.project, whole.results}, arguments.against);
  if (arguments.refused) options.refused = refused_of(context, whole, types);
  const auto paper = papers::package(*whole.project, whole.results, types, *context.rule_set(), *whole.checker, options);
  return finish(write_document(context, paper, form), whole.problem);
}

Exit run_replay(Context& context, const std::string& file) {
  const auto* source = context.read(file);
  if (!source) return Exit::file;
  const auto inside = inside_of(source->text);
  Unpacked folder;
  std::string record, problem;
  if (!unpack(context, file, inside, folder, record)) return Exit::input;
  Whole whole;
  if (!check_whole(context, folder.project(), whole)) return whole.problem;
  const auto differences = papers::compare_records(record, papers::replay_record(whole.results, *context.rule_set()), problem);
  if (!problem.empty()) {
    tell(context, MessageId::L024, {file + " (" + problem + ")"});
    return Exit::input;
  }
  if (differences.empty()) return context.write(fmt::format("{}: the same: every opening ({}), every number of every check, every rule file.\n", file, whole.results.size()));
  std::string out = fmt::format("{}: differences ({}):\n", file, differences.size());
  for (const auto& d : differences) out += "  " + d + "\n";
  const Exit written = context.write(out);
  return written == Exit::holds ? Exit::short_ : written;
}

}  // namespace jambcheck::cli
