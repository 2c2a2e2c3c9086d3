#include "schedule/gather.h"

#include <algorithm>

namespace jambcheck::schedule {
namespace {

using opening::Written;

bool is_project_field(const Written& value) { return opening::owner_of(value.path) == opening::Owner::project; }

class Gatherer : public Receiver {
 public:
  Gatherer(Gathered& out, const Mapping& mapping, const opening::Project& base, const rules::RuleSet& set, text::Diagnostics& diagnostics)
      : out_(out), base_(base), set_(set), diagnostics_(diagnostics) {
    for (const auto& constant : mapping.constants)
      if (is_project_field(constant)) shared_constants_.push_back(constant);
  }

  void head(const Columns& columns) override {
    for (const auto& column : columns.all)
      if (is_own(column)) out_.own_heads.push_back(column.head);
  }
  void units_row(const csv::Row& row, const Columns& columns) override { (void)row, (void)columns; }
  bool go_on(const Counts& counts) override { return counts.rows < kMost; }

  void row(const Row& row, const Columns& columns) override {
    // The row goes when this call ends; what is told of it must point into what is kept.
    Row& kept = out_.rows.emplace_back();
    kept.cells = row.cells;
    kept.source = row.source;
    for (auto d : row.diagnostics.all()) {
      if (d.place.file == &row.source) d.place.file = &kept.source;
      if (d.other.file == &row.source) d.other.file = &kept.source;
      diagnostics_.take(std::move(d));
    }
    if (row.blank) return;
    if (!row.good) {
      out_.own[row.mark] = own_cells(row, columns);
      out_.not_read.push_back(row.mark.empty() ? "row " + std::to_string(row.cells.line) : row.mark);
      return;
    }
    // Read once more with its places kept: the run has judged it good, and said what there was to say.
    auto values = values_of(kept, columns);
    for (const auto& constant : shared_constants_) {
      const bool given = std::any_of(values.begin(), values.end(), [&](const Written& v) { return v.path == constant.path; });
      if (!given) values.push_back(constant);
    }
    text::Diagnostics said_already;
    auto read = opening::read_written(values, "row " + std::to_string(row.cells.line), base_, set_, said_already);
    if (read.shared) {
      for (const auto& value : values)
        if (is_project_field(value))
          // Under a name that nothing reads: the fingerprint of the inputs must know of it.
          if (const auto* f = opening::fact(read.shared->facts, value.path)) read.opening.facts["row." + value.path] = *f;
      out_.shared[read.opening.mark] = read.shared;
    }
    out_.own[read.opening.mark] = own_cells(row, columns);
    out_.project.openings.push_back(std::move(read.opening));
  }

 private:
  static constexpr std::size_t kMost = 100000;  // rows that papers can hold at once
  static bool is_own(const Column& column) { return column.field.empty() && !column.result; }
  static std::vector<std::string> own_cells(const Row& row, const Columns& columns) {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < columns.all.size(); ++i)
      if (is_own(columns.all[i])) out.emplace_back(i < row.cells.cells.size() ? csv::without_apostrophe(row.cells.cells[i]) : "");
    return out;
  }

  Gathered& out_;
  const opening::Project& base_;
  const rules::RuleSet& set_;
  text::Diagnostics& diagnostics_;
  std::vector<Written> shared_constants_;
};

}  // namespace

std::unique_ptr<Gathered> gather(std::istream& in, const std::string& name, const Mapping& mapping, const opening::Project& base, const rules::RuleSet& set,
                                 text::SourceSet& sources, text::Diagnostics& diagnostics) {
  auto out = std::make_unique<Gathered>();
  out->project = base;
  out->project.openings.clear();
  Gatherer gatherer(*out, mapping, base, set, diagnostics);
  Settings settings;
  settings.check = false;
  if (!run(in, name, mapping, base, set, settings, gatherer, sources, diagnostics)) return nullptr;
  return out;
}

}  // namespace jambcheck::schedule
