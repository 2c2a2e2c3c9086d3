#include "schedule/run.h"

#include <algorithm>
#include <functional>
#include <memory>
#include <unordered_map>

#include "schedule/known.h"
#include "text/number.h"
#include "threads/share_out.h"

namespace jambcheck::schedule {
namespace {

using text::MessageId;

constexpr std::size_t kBlock = 512;  // rows in work at once: enough for all threads, little to lose when stopped

class Run {
 public:
  Run(const std::string& name, const opening::Project& base, const rules::RuleSet& set, const Settings& settings, Receiver& receiver)
      : name_(name), base_(base), set_(set), settings_(settings), receiver_(receiver), checker_(set) {
    counts_.missing.insert(settings.only.begin(), settings.only.end());
  }

  Counts rows(csv::RowReader& reader, const Columns& columns, bool pending, csv::Row&& first) {
    std::vector<Row> block;
    bool more = true;
    while (more) {
      block.clear();
      while (block.size() < kBlock) {
        if (!pending) more = reader.next(first);
        pending = false;
        if (!more) break;
        Row row;
        row.cells = std::move(first);
        block.push_back(std::move(row));
      }
      work_through(block, columns);
      for (auto& row : block) hand_on(row, columns);
      if (more && !receiver_.go_on(counts_)) {
        counts_.stopped = true;
        break;
      }
    }
    return counts_;
  }

 private:
  void work_through(std::vector<Row>& block, const Columns& columns) {
    std::vector<std::vector<opening::Written>> values(block.size());
    for (std::size_t i = 0; i < block.size(); ++i) values[i] = prepare(block[i], columns);
    while (lights_.size() < threads::threads_for(block.size(), settings_.jobs)) lights_.push_back(std::make_unique<verdict::Light>(set_, checker_.plans()));
    threads::share_out(block.size(), settings_.jobs, [&](threads::Turns& turns, std::size_t thread) {
      while (const auto i = turns.next())
        if (!block[*i].blank && !block[*i].left_out && block[*i].good) check(block[*i], values[*i], *lights_[thread]);
    });
  }

  /// What must go in the order of the file: marks that were used before.
  std::vector<opening::Written> prepare(Row& row, const Columns& columns) {
    row.source = text::source_file(name_, row.cells.written, static_cast<std::uint32_t>(row.cells.line));
    auto values = values_of(row, columns);
    for (const auto& value : values)
      if (value.path == "mark") row.mark = value.text;
    if (!settings_.only.empty()) {
      row.left_out = std::find(settings_.only.begin(), settings_.only.end(), row.mark) == settings_.only.end();
      counts_.missing.erase(row.mark);
    }
    row.good = !row.blank && !row.diagnostics.has_errors();
    if (row.blank || row.left_out || row.mark.empty()) return values;
    const auto [first, fresh] = marks_.emplace(row.mark, static_cast<std::uint32_t>(row.cells.line));
    if (!fresh) {
      const text::Place place = place_of(row.cells, columns.mark, row.source);
      row.diagnostics.add(MessageId::S012, place, {row.mark, std::to_string(first->second)});
      row.good = false;
    }
    return values;
  }

  /// The light way where it can tell all that a row prints, else the full check; both tell the same.
  Summary worked_out(verdict::Light& light, const opening::Project& project, const opening::Opening& opening) {
    if (const auto result = light.check(project, opening)) return summary_of(*result);
    return summary_of(checker_.check(project, opening));
  }

  void check(Row& row, const std::vector<opening::Written>& values, verdict::Light& light) {
    const std::string key = Known::key_of(values);
    const Known::Found known = settings_.check && mark_is_plain(row.mark) ? known_.find(key, row.mark) : Known::Found();
    if (known.summary && known.silent && row.diagnostics.all().empty()) {
      row.summary = known.summary;
      return;
    }
    const auto read = opening::read_written(values, "row " + std::to_string(row.cells.line), base_, set_, row.diagnostics);
    row.good = !read.opening.broken;
    if (!row.good || !settings_.check) return;
    row.summary = known.summary;
    if (row.summary) return;
    row.summary = std::make_shared<Summary>(worked_out(light, read.shared ? *read.shared : base_, read.opening));
    if (mark_is_plain(row.mark)) known_.keep(key, row.mark, *row.summary, row.diagnostics.all().empty());
  }

  /// A mark that the reader takes as it stands.
  static bool mark_is_plain(const std::string& mark) {
    return !mark.empty() && mark.size() <= 40 && mark.find_first_of("/[{") == std::string::npos && mark != "unknown";
  }

  void hand_on(Row& row, const Columns& columns) {
    counts_.last_line = row.cells.line;
    if (row.left_out) return;
    if (!row.blank) {
      ++counts_.rows;
      if (!row.good) ++counts_.not_read;
      else if (row.summary) ++counts_.of_state[static_cast<std::size_t>(row.summary->state)];
    }
    name_columns(row, columns);
    receiver_.row(row, columns);
  }

  const std::string& name_;
  const opening::Project& base_;
  const rules::RuleSet& set_;
  const Settings& settings_;
  Receiver& receiver_;
  verdict::Checker checker_;
  std::vector<std::unique_ptr<verdict::Light>> lights_;  ///< one a thread
  Known known_;
  std::unordered_map<std::string, std::uint32_t> marks_;
  Counts counts_;
};

/// The base with the constants that are said once for all.
std::optional<opening::Project> with_constants(Columns& columns, const opening::Project& base, const rules::RuleSet& set, text::Diagnostics& diagnostics) {
  std::vector<opening::Written> shared, own;
  for (auto& constant : columns.constants) (opening::owner_of(constant.path) == opening::Owner::project ? shared : own).push_back(constant);
  columns.constants = std::move(own);
  const auto earlier = diagnostics.count(text::Severity::error);
  const auto project = opening::with_project_values(shared, "", base, set, diagnostics);
  if (diagnostics.count(text::Severity::error) != earlier) return std::nullopt;
  opening::Project out = project ? *project : base;
  out.openings = base.openings;
  return out;
}

}  // namespace

std::optional<Counts> run(std::istream& in, const std::string& name, const Mapping& mapping, const opening::Project& base, const rules::RuleSet& set,
                          const Settings& settings, Receiver& receiver, text::SourceSet& sources, text::Diagnostics& diagnostics) {
  csv::RowReader reader(in);
  csv::Row row;
  if (reader.wide()) {
    diagnostics.add(MessageId::S013, {sources.add(name, ""), 0, 0, 0}, {});
    return std::nullopt;
  }
  if (!reader.next(row) || !row.problem.empty()) {
    const std::string why = row.problem.empty() ? "it is empty" : "line " + std::to_string(row.problem_line) + ": " + row.problem;
    diagnostics.add(MessageId::L007, {sources.add(name, ""), 0, 0, 0}, {why});
    return std::nullopt;
  }
  auto columns = read_head(row, *sources.add(name, row.written), mapping, diagnostics);
  if (!columns) return std::nullopt;
  columns->byte_order_mark = reader.marked();
  const auto project = with_constants(*columns, base, set, diagnostics);
  bool pending = reader.next(row);
  const bool units = pending && is_units_row(row);
  if (units) {
    auto piece = text::source_file(name, row.written, static_cast<std::uint32_t>(row.line));
    read_units_row(row, *sources.add(std::move(piece)), *columns, diagnostics);
  }
  if (!project || diagnostics.has_errors()) return std::nullopt;
  receiver.head(*columns);
  if (units) {
    receiver.units_row(row, *columns);
    pending = reader.next(row);
  }
  if (!pending) return Run(name, *project, set, settings, receiver).rows(reader, *columns, false, csv::Row());
  return Run(name, *project, set, settings, receiver).rows(reader, *columns, true, std::move(row));
}

}  // namespace jambcheck::schedule
