#include "dialog/interview.h"

#include <algorithm>
#include <cmath>
#include <istream>
#include <ostream>

#include <fmt/format.h>

#include "opening/field.h"
#include "text/number.h"
#include "text/suggest.h"
#include "verdict/answers.h"

namespace jambcheck::dialog {
namespace {

using opening::Owner;
using opening::Written;
using rules::State;
using verdict::Question;

bool has(const std::vector<Written>& values, const std::string& path) {
  return std::any_of(values.begin(), values.end(), [&](const Written& v) { return v.path == path; });
}

bool of_a_part(const std::string& path) {
  return path.rfind("guide.", 0) == 0 || path.rfind("bracket.", 0) == 0 || path.rfind("buck.", 0) == 0;
}

std::string figure(State state, double ratio) { return std::string(rules::word(state)) + (std::isnan(ratio) ? "" : " " + text::rounded(ratio, 3)); }

}  // namespace

std::vector<std::string> fields_for(const Question& question) {
  const auto written_out = [](const std::string& f) { return opening::owner_of(f) != Owner::nobody; };
  std::vector<std::string> fields;
  std::copy_if(question.fields.begin(), question.fields.end(), std::back_inserter(fields), written_out);
  // Guide and bracket each want their own; of other fields that say the same one is enough.
  std::vector<std::string> parts;
  std::copy_if(fields.begin(), fields.end(), std::back_inserter(parts), of_a_part);
  if (!parts.empty()) return parts;
  if (fields.size() > 1) fields.resize(1);
  return fields;
}

Interview::Interview(const rules::RuleSet& rules, std::vector<Written> given) : rules_(rules), checker_(rules), values_(std::move(given)) {
  if (!has(values_, "mark")) values_.insert(values_.begin(), {"mark", "D-1", {}});
  if (!has(values_, "project.method")) values_.push_back({"project.method", "ASD", {}});
  check();
}

/// Empty, or why the values contradict each other; nothing is judged then.
std::string Interview::check() {
  text::Diagnostics diagnostics;
  auto read = opening::read_written(values_, "the opening", nothing_, rules_, diagnostics);
  if (read.opening.broken) {
    std::string out;
    for (const auto& d : diagnostics.all())
      if (d.severity == text::Severity::error) out += "  " + d.sentence + (d.todo.empty() ? "" : "; " + d.todo) + "\n";
    return out;
  }
  read_ = std::move(read);
  result_ = checker_.check(*read_.shared, read_.opening);
  return "";
}

void Interview::finish() {
  checker_.try_answers(true);
  check();
}

/// How many checks wait for it; what decides which checks there are goes before all.
double Interview::use_of(const Question& question) const {
  double use = 0;
  const auto waits = [&](const std::vector<rules::Reason>& reasons) {
    return std::any_of(reasons.begin(), reasons.end(), [&](const rules::Reason& r) { return r.code == question.key && r.leads_to == State::not_shown; });
  };
  for (const auto& connection : result_.connections) {
    if (waits(connection.reasons)) use += 1000;
    for (const auto& check : connection.checks)
      if (waits(check.judgement.reasons)) use += 1;
  }
  const rules::Key* key = rules_.key(question.key);
  if (key && !key->words.empty()) use += 0.5;  // of two alike the word: numbers often hang on it
  return use;
}

/// A fastener that nothing is known of is asked for as a whole: "lag 3/8 x 4".
std::vector<std::string> Interview::whole_fasteners(const std::vector<std::string>& fields) const {
  constexpr std::string_view kFastener = ".fastener";
  std::vector<std::string> out;
  for (const auto& field : fields) {
    const auto at = field.find(std::string(kFastener) + ".");
    const std::string whole = field.substr(0, at) + std::string(kFastener);
    const bool about_size = at != std::string::npos && field != whole + ".data" && !has(values_, whole) && !has(values_, whole + ".kind");
    const std::string& wanted = about_size ? whole : field;
    if (std::find(out.begin(), out.end(), wanted) == out.end()) out.push_back(wanted);
  }
  return out;
}

std::vector<Interview::Open> Interview::open_questions() const {
  std::vector<std::pair<double, Open>> ranked;
  for (const auto& question : result_.questions) {
    if (done_.count(question.key) != 0) continue;
    Open open{question, whole_fasteners(fields_for(question))};
    open.fields.erase(std::remove_if(open.fields.begin(), open.fields.end(), [&](const std::string& f) { return has(values_, f); }), open.fields.end());
    if (!open.fields.empty()) ranked.emplace_back(use_of(question), std::move(open));
  }
  std::stable_sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Open> out;
  for (auto& [use, open] : ranked) out.push_back(std::move(open));
  return out;
}

std::string Interview::what_answers_give(Question& question) {
  verdict::OpeningResult one;
  one.questions = {question};
  const verdict::CheckOne check_one = [this](const opening::Project& p, const opening::Opening& o) { return checker_.check(p, o); };
  if (!question.fields.empty() && opening::owner_of(question.fields.front()) == Owner::opening) verdict::try_answers(*read_.shared, read_.opening, rules_, check_one, one);
  std::vector<std::string> given;
  for (const auto& a : one.questions.front().answers) given.push_back(a.value + ": " + figure(a.state, a.ratio));
  const bool all_alike = std::all_of(one.questions.front().answers.begin(), one.questions.front().answers.end(), [&](const auto& a) { return a.state == one.questions.front().answers.front().state && std::isnan(a.ratio); });
  return given.empty() || all_alike ? "" : "  this alone would give  " + text::join(given) + "\n";
}

std::string Interview::standing() const {
  std::string out = "  -> " + figure(result_.state, result_.ratio);
  if (!result_.why.empty() && result_.state != State::not_shown) out += "   " + result_.why;
  return out + "\n";
}

void Interview::run(std::istream& in, std::ostream& out) {
  text::SourceSet sources;
  Prompter prompter(rules_, sources, in, out);
  out << "Answer with a value and its unit, or the number of a word. unknown: nobody knows it. Enter: skip. stop: enough.\n";
  while (!prompter.stopped() && result_.state != State::short_) {
    auto open = open_questions();
    if (open.empty()) break;
    out << fmt::format("\n{} left\n", open.size() == 1 ? "1 question" : fmt::format("{} questions", open.size()));
    ask(std::move(open.front()), prompter, out);
  }
  if (result_.state == State::short_) out << "\nIt falls short already: more answers would not change that.\n";
}

void Interview::ask(Open open, Prompter& prompter, std::ostream& out) {
  out << open.question.ask << "\n";
  if (!open.question.find.empty()) out << "  " << open.question.find << "\n";
  out << what_answers_give(open.question);
  done_.insert(open.question.key);
  ++asked_;
  const std::size_t before = values_.size();
  ask_fields(open, prompter);
  if (values_.size() == before) return;
  const std::string problem = check();
  if (!problem.empty()) values_.resize(before);
  out << (problem.empty() ? standing() : problem + "  This answer was dropped.\n");
}

void Interview::ask_fields(const Open& open, Prompter& prompter) {
  std::string same;
  for (const auto& field : open.fields) {
    const auto answer = prompter.ask(field, same);
    if (answer.kind == Prompter::Kind::stopped) return;
    if (answer.kind == Prompter::Kind::skipped) continue;
    Written value = answer.value;
    value.place = {};  // the sources of the answers go with the talk
    values_.push_back(value);
    same = value.text;
  }
}

}  // namespace jambcheck::dialog
