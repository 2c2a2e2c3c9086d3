// `jambcheck check` and `jambcheck lint` of a schedule: one opening a row.
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/out_file.h"
#include "cli/progress.h"
#include "cli/schedule_input.h"
#include "schedule/run.h"
#include "text/suggest.h"

namespace jambcheck::cli {
namespace {

using rules::State;
using text::MessageId;

/// Messages of rows: the first of a kind in full, the others counted, so that one slip in a column is no flood.
class RowMessages {
 public:
  RowMessages(Context& context, Progress& progress) : context_(context), progress_(progress) {}
  void tell(const schedule::Row& row) {
    text::Diagnostics told;
    for (const auto& d : row.diagnostics.all()) {
      if (d.severity == text::Severity::note && !context_.options().verbose) continue;
      auto& seen = seen_[{d.id, column_of(d.sentence)}];
      if (context_.options().verbose || ++seen <= kMost) told.take(d);
    }
    if (told.all().empty()) return;
    progress_.clear();
    context_.report(told);
  }
  void tell_counts() const {
    for (const auto& [what, count] : seen_)
      if (count > kMost) fmt::print(stderr, "{} more of {}{}; all of them: -v, or the column \"result messages\"\n", count - kMost, text::entry(what.first).name, what.second.empty() ? "" : " in " + what.second);
  }

 private:
  static constexpr std::size_t kMost = 10;
  /// "column F (width)" of a sentence that begins so.
  static std::string column_of(const std::string& sentence) { return sentence.rfind("column ", 0) == 0 ? sentence.substr(0, sentence.find(": ")) : ""; }
  Context& context_;
  Progress& progress_;
  std::map<std::pair<MessageId, std::string>, std::size_t> seen_;
};

/// Common to all ways of writing: messages, progress, the end.
class Writer : public schedule::Receiver {
 public:
  Writer(Context& context, OutFile* out) : out_(out), digits_(context.options().digits), progress_(!context.options().quiet), messages_(context, progress_) {}
  void row(const schedule::Row& row, const schedule::Columns& columns) override {
    messages_.tell(row);
    write_row(row, columns);
  }
  bool go_on(const schedule::Counts& counts) override {
    progress_.show(counts.rows, "rows");
    return !StopOnAsking::asked() && (!out_ || out_->problem().empty());
  }
  virtual void end(const schedule::Counts&) {}
  void finish(const schedule::Counts& counts) {
    progress_.clear();
    messages_.tell_counts();
    end(counts);
  }

 protected:
  virtual void write_row(const schedule::Row& row, const schedule::Columns& columns) = 0;
  void put(const std::string& text) {
    if (out_) out_->write(text);
  }
  [[nodiscard]] int digits() const { return digits_; }

 private:
  OutFile* out_;
  int digits_;
  Progress progress_;
  RowMessages messages_;
};

class NothingWritten : public Writer {
 public:
  using Writer::Writer;
  void head(const schedule::Columns&) override {}
  void units_row(const csv::Row&, const schedule::Columns&) override {}
  void write_row(const schedule::Row&, const schedule::Columns&) override {}
};

class CsvWriter : public Writer {
 public:
  using Writer::Writer;
  void head(const schedule::Columns& columns) override { put((columns.byte_order_mark ? "\xEF\xBB\xBF" : "") + csv::write_row(schedule::out_head(columns))); }
  void units_row(const csv::Row& row, const schedule::Columns& columns) override {
    schedule::Row units;
    units.cells = row;
    units.blank = true;
    write_row(units, columns);
  }
  void write_row(const schedule::Row& row, const schedule::Columns& columns) override { put(csv::write_row(schedule::out_cells(row, columns, digits()))); }
};

class JsonWriter : public Writer {
 public:
  JsonWriter(Context& context, OutFile* out, std::string file) : Writer(context, out), file_(std::move(file)) {}
  void head(const schedule::Columns&) override {
    put("{\"format\": \"schedule/1\", \"program\": \"jambcheck " JAMBCHECK_VERSION "\", \"file\": " + nlohmann::json(file_).dump() + ",\n\"openings\": [");
  }
  void units_row(const csv::Row&, const schedule::Columns&) override {}
  void write_row(const schedule::Row& row, const schedule::Columns&) override {
    if (row.blank) return;
    put((first_ ? "\n" : ",\n") + json_of(row).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace));
    first_ = false;
  }
  void end(const schedule::Counts& counts) override { put(fmt::format("\n],\n\"rows\": {}, \"not_read_rows\": {}, \"complete\": {}}}\n", counts.rows, counts.not_read, !counts.stopped)); }

 private:
  static nlohmann::ordered_json json_of(const schedule::Row& row) {
    using json = nlohmann::ordered_json;
    json out = {{"line", row.cells.line}, {"mark", row.mark}};
    if (row.summary) {
      const schedule::Summary& s = *row.summary;
      json questions = json::array();
      for (const auto& q : s.questions) questions.push_back({{"key", q.key}, {"ask", q.ask}, {"fields", q.fields}});
      out["state"] = rules::word(s.state);
      out["ratio"] = std::isinf(s.ratio) ? json("unlimited") : std::isnan(s.ratio) ? json(nullptr) : json(s.ratio);
      out["governs"] = s.governs;
      out["why"] = s.why;
      out["questions"] = questions;
      out["assumed"] = s.assumed;
    } else {
      out["state"] = "not read";
    }
    json messages = json::array();
    for (const auto& d : row.diagnostics.all()) messages.push_back({{"code", text::entry(d.id).name}, {"message", d.sentence}, {"why", d.why}, {"hint", d.todo}});
    out["messages"] = messages;
    return out;
  }
  std::string file_;
  bool first_ = true;
};

Exit exit_for(const schedule::Counts& counts, const std::string& stop_on) {
  const auto has = [&](State s) { return counts.of_state[static_cast<std::size_t>(s)] != 0; };
  if (counts.not_read != 0) return Exit::input;
  if (stop_on == "never") return Exit::holds;
  if (has(State::short_)) return Exit::short_;
  if ((stop_on == "engineer" || stop_on == "unknown") && has(State::engineer)) return Exit::open;
  if (stop_on == "unknown" && has(State::not_shown)) return Exit::open;
  return Exit::holds;
}

std::string tally(const schedule::Counts& counts) {
  const auto of = [&](State s) { return counts.of_state[static_cast<std::size_t>(s)]; };
  return fmt::format("{} rows: {} hold, {} short, {} for an engineer, {} open, {} not read", counts.rows, of(State::holds), of(State::short_), of(State::engineer),
                     of(State::not_shown), counts.not_read);
}

std::unique_ptr<Writer> writer_for(Context& context, const ScheduleArguments& arguments, OutFile* out) {
  if (arguments.lint) return std::make_unique<NothingWritten>(context, nullptr);
  if (context.options().json) return std::make_unique<JsonWriter>(context, out, arguments.file);
  return std::make_unique<CsvWriter>(context, out);
}

Exit cannot_write(Context& context, const std::string& name, const std::string& why) {
  text::Diagnostics diagnostics;
  diagnostics.add(MessageId::L006, {context.sources().add(name, ""), 0, 0, 0}, {name, why});
  context.report(diagnostics);
  return Exit::file;
}

Exit marks_not_found(Context& context, const schedule::Counts& counts) {
  text::Diagnostics diagnostics;
  for (const auto& mark : counts.missing) diagnostics.add(MessageId::L003, {}, {mark, "write it as in the schedule"});
  context.report(diagnostics);
  return Exit::usage;
}

}  // namespace

bool is_schedule(const ScheduleArguments& arguments) {
  const std::string ending = schedule::folded(std::filesystem::path(arguments.file).extension().string());
  return ending == ".csv" || !arguments.map.empty() || !arguments.base.empty();
}

Exit run_schedule(Context& context, const ScheduleArguments& arguments) {
  const auto* set = context.rule_set();
  if (!set) return Exit::broken;
  Exit problem = Exit::holds;
  const auto shared = read_shared(context, *set, arguments.map, arguments.base, problem);
  if (!shared) return problem;
  std::ifstream in;
  if (!open_schedule(context, arguments.file, in)) return Exit::file;
  OutFile out(arguments.lint ? "-" : context.options().out);
  if (!out.problem().empty()) return cannot_write(context, context.options().out, out.problem());
  const StopOnAsking stop;
  text::Diagnostics diagnostics;
  const auto writer = writer_for(context, arguments, &out);
  const std::string name = arguments.file == "-" ? "standard input" : arguments.file;
  const auto counts = schedule::run(in, name, shared->mapping, shared->base, *set, {context.options().jobs, !arguments.lint, arguments.only}, *writer, context.sources(), diagnostics);
  if (!counts) {
    context.report(diagnostics);
    return Exit::input;
  }
  writer->finish(*counts);
  context.report(diagnostics);
  const std::string trouble = out.finish(!counts->stopped);
  if (!trouble.empty()) return cannot_write(context, out.name(), trouble);
  if (counts->stopped) {
    fmt::print(stderr, "stopped after line {} of {}; {} rows are done and stand in {}\n", counts->last_line, name, counts->rows, out.name());
    return Exit::stopped;
  }
  if (!counts->missing.empty()) return marks_not_found(context, *counts);
  if (!arguments.lint) context.say(tally(*counts));
  else if (counts->not_read == 0) context.say(fmt::format("{}: {} openings, nothing to mend", name, counts->rows));
  return exit_for(*counts, arguments.stop_on);
}

}  // namespace jambcheck::cli
