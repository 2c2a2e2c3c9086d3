// `jambcheck schedule` and `takeoff`: lists about all openings of a project file or a schedule.
#include <filesystem>
#include <unordered_map>

#include "choose/prices.h"
#include "cli/choose.h"
#include "cli/commands.h"
#include "cli/letters.h"
#include "cli/output.h"
#include "cli/project.h"
#include "cli/schedule_input.h"
#include "papers/schedule_cells.h"
#include "papers/schedule_rows.h"
#include "papers/sheets.h"
#include "papers/takeoff_paper.h"
#include "schedule/gather.h"
#include "threads/share_out.h"

namespace jambcheck::cli {
namespace {

using opening::Opening;

/// All openings with their answers and types.
class Lists {
 public:
  Lists(Context& context, const PaperArguments& arguments) : context_(context), arguments_(arguments) {}

  bool read() {
    set_ = context_.rule_set();
    if (!set_) return fail(Exit::broken);
    const bool is_rows = is_schedule({arguments_.file, arguments_.map, arguments_.base, {}, "short", false});
    if (!(is_rows ? read_rows() : read_project())) return false;
    for (const auto& o : project_->openings)
      if (!o.broken && !project_->broken) good_.push_back(&o);
      else not_read_.push_back(o.mark);
    if (good_.empty()) return fail(Exit::input);
    checker_ = std::make_unique<verdict::Checker>(*set_);
    checker_->try_answers(true);
    check();
    return types_by_letters(context_, *project_, results_, arguments_.letters, types_) || fail(Exit::input);
  }

  [[nodiscard]] const opening::Project& project_of(const Opening& o) const {
    const auto it = gathered_ ? gathered_->shared.find(o.mark) : std::map<std::string, std::shared_ptr<const opening::Project>>::const_iterator();
    return gathered_ && it != gathered_->shared.end() ? *it->second : *project_;
  }
  [[nodiscard]] const papers::Fastenings* fastenings_of(const Opening& o) const {
    const auto it = place_.find(&o);
    return it == place_.end() || it->second >= fastenings_.size() ? nullptr : &fastenings_[it->second];
  }
  /// Where the holes are: counted and measured once, on all threads.
  void find_fastenings() {
    fastenings_.resize(good_.size());
    threads::for_each_index(good_.size(), context_.options().jobs, [&](std::size_t i) { fastenings_[i] = papers::fastenings(project_of(*good_[i]), *good_[i], *set_, *checker_); });
  }

  papers::ScheduleInput input() const {
    papers::OwnColumns own;
    if (gathered_) own = {gathered_->own_heads, gathered_->own};
    return {*project_, types_, not_read_, own, [this](const Opening& o) -> const opening::Project& { return project_of(o); }, [this](const Opening& o) { return fastenings_of(o); }};
  }
  papers::Takeoff takeoff(const choose::Prices& prices) const {
    papers::Takeoff out;
    out.by_phase = arguments_.round_by == "phase";
    for (const auto& [type, member] : papers::in_file_order(*project_, types_)) papers::count(*fastenings_of(*member->opening), *project_, *member->opening, type->letter, *member->result, out);
    papers::sum_up(*project_, prices, out);
    return out;
  }
  std::vector<papers::Alternate> alternates() const { return papers::alternates_of(*project_, types_, *set_, *checker_, [this](const Opening& o) -> const opening::Project& { return project_of(o); }); }

  [[nodiscard]] const opening::Project& project() const { return *project_; }
  [[nodiscard]] const std::vector<verdict::OpeningResult>& results() const { return results_; }
  [[nodiscard]] const std::vector<papers::Type>& types() const { return types_; }
  [[nodiscard]] const std::vector<std::string>& not_read() const { return not_read_; }
  [[nodiscard]] Exit problem() const { return problem_; }
  [[nodiscard]] Exit finish(Exit written) const { return written != Exit::holds ? written : problem_ == Exit::input ? Exit::input : Exit::holds; }

 private:
  bool fail(Exit problem) {
    problem_ = problem;
    return false;
  }
  bool read_project() {
    const auto* source = context_.read(arguments_.file);
    if (!source) return fail(Exit::file);
    project_ = load_project(context_, *set_, *source, problem_);
    return project_.has_value();
  }
  bool read_rows() {
    const auto shared = read_shared(context_, *set_, arguments_.map, arguments_.base, problem_);
    if (!shared) return false;
    std::ifstream in;
    if (!open_schedule(context_, arguments_.file, in)) return fail(Exit::file);
    text::Diagnostics diagnostics;
    const std::string name = arguments_.file == "-" ? "standard input" : arguments_.file;
    gathered_ = schedule::gather(in, name, shared->mapping, shared->base, *set_, context_.sources(), diagnostics);
    context_.report(diagnostics, context_.options().verbose);
    if (!gathered_) return fail(Exit::input);
    if (!gathered_->not_read.empty()) problem_ = Exit::input;
    not_read_ = gathered_->not_read;
    project_ = std::move(gathered_->project);
    return true;
  }
  void check() {
    results_.resize(good_.size());
    threads::for_each_index(good_.size(), context_.options().jobs, [&](std::size_t i) { results_[i] = checker_->check(project_of(*good_[i]), *good_[i]); });
    for (std::size_t i = 0; i < good_.size(); ++i) place_[good_[i]] = i;
  }

  Context& context_;
  const PaperArguments& arguments_;
  const rules::RuleSet* set_ = nullptr;
  std::optional<opening::Project> project_;
  std::unique_ptr<schedule::Gathered> gathered_;
  std::vector<const Opening*> good_;
  std::vector<std::string> not_read_;
  std::unique_ptr<verdict::Checker> checker_;
  std::vector<verdict::OpeningResult> results_;
  std::vector<papers::Fastenings> fastenings_;
  std::unordered_map<const Opening*, std::size_t> place_;
  std::vector<papers::Type> types_;
  Exit problem_ = Exit::holds;  ///< Exit::input beside good openings
};

const std::vector<Form> kForms = {Form::html, Form::pdf, Form::text, Form::csv, Form::xlsx, Form::json};

/// --json is the form when no ending says one.
bool list_form(Context& context, Form& form) {
  if (!form_of(context, kForms, form)) return false;
  if (context.options().json && form == Form::text) form = Form::json;
  return true;
}

}  // namespace

Exit run_schedule_paper(Context& context, const PaperArguments& arguments) {
  Form form{};
  if (!list_form(context, form)) return Exit::usage;
  Lists lists(context, arguments);
  if (!lists.read()) return lists.problem();
  if (form == Form::text || form == Form::html || form == Form::pdf)
    return lists.finish(write_document(context, papers::schedule(lists.project(), lists.results(), lists.types(), {paper_of(arguments.paper), lists.not_read()}), form));
  lists.find_fastenings();
  const auto input = lists.input();
  if (form == Form::csv) return lists.finish(context.write(papers::as_csv(papers::opening_grid(input))));
  const std::vector<papers::Grid> grids = {papers::opening_grid(input), papers::type_grid(input), papers::missing_grid(input), papers::component_grid(input)};
  return lists.finish(context.write(form == Form::xlsx ? papers::workbook(grids, arguments.paper == "a4") : papers::as_json("openings/1", arguments.file, grids)));
}

Exit run_takeoff(Context& context, const PaperArguments& arguments) {
  Form form{};
  if (!list_form(context, form)) return Exit::usage;
  Lists lists(context, arguments);
  if (!lists.read()) return lists.problem();
  const auto prices = prices_of(context, lists.project());
  if (!prices) return context.unreadable() ? Exit::file : Exit::input;
  lists.find_fastenings();
  const auto takeoff = lists.takeoff(*prices);
  std::vector<papers::Alternate> alternates;
  if (arguments.alternates || arguments.rows == "alternate") alternates = lists.alternates();
  if (form == Form::csv) {
    const auto& by = arguments.rows;
    const auto grid = by == "opening" ? papers::bag_grid(takeoff) : by == "phase" ? papers::phase_grid(takeoff) : by == "alternate" ? papers::alternate_grid(alternates) : papers::item_grid(takeoff);
    return lists.finish(context.write(papers::as_csv(grid)));
  }
  std::vector<papers::Grid> grids = {papers::item_grid(takeoff), papers::bag_grid(takeoff), papers::phase_grid(takeoff), papers::uncounted_grid(takeoff)};
  if (!alternates.empty()) grids.push_back(papers::alternate_grid(alternates));
  if (form == Form::xlsx) return lists.finish(context.write(papers::workbook(grids, arguments.paper == "a4")));
  if (form == Form::json) return lists.finish(context.write(papers::as_json("takeoff/1", arguments.file, grids)));
  return lists.finish(write_document(context, papers::takeoff_paper(lists.project(), takeoff, alternates, paper_of(arguments.paper)), form));
}

}  // namespace jambcheck::cli
