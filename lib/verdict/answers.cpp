#include "verdict/answers.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "opening/choices.h"
#include "opening/field.h"

namespace jambcheck::verdict {
namespace {

using opening::Choice;
using opening::Fact;
using rules::State;

constexpr std::size_t kMostWords = 12;      // a list longer than this says little on a screen
constexpr std::size_t kMostQuestions = 4;   // the first ones count most

bool is_worse(State a, double x, State b, double y) {
  if (a != b) return a > b;
  if (std::isnan(x) || std::isnan(y)) return std::isnan(x) && !std::isnan(y);
  return x > y;
}

template <class T>
void unite(std::vector<T>& into, const std::vector<T>& more) {
  for (const T& m : more)
    if (std::find(into.begin(), into.end(), m) == into.end()) into.push_back(m);
}

void unite_assumed(std::vector<Assumed>& into, const std::vector<Assumed>& more) {
  for (const Assumed& m : more) {
    const auto it = std::find_if(into.begin(), into.end(), [&](const Assumed& a) { return a.what == m.what && a.value == m.value && a.why == m.why; });
    if (it == into.end()) into.push_back(m);
    else unite(it->where, m.where);
  }
}

void merge_connection(ConnectionResult& worst, const ConnectionResult& next) {
  for (const CheckResult& check : next.checks) {
    const auto it = std::find_if(worst.checks.begin(), worst.checks.end(), [&](const CheckResult& c) { return c.address == check.address; });
    if (it == worst.checks.end()) worst.checks.push_back(check);
    else if (is_worse(check.judgement.state, check.judgement.ratio, it->judgement.state, it->judgement.ratio)) *it = check;
  }
  unite(worst.reasons, next.reasons);
  for (std::size_t i = 0; i < worst.links.size() && i < next.links.size(); ++i)
    if (is_worse(next.links[i].state, next.links[i].ratio, worst.links[i].state, worst.links[i].ratio)) worst.links[i] = next.links[i];
  if (!is_worse(next.state, next.ratio, worst.state, worst.ratio)) return;
  worst.state = next.state;
  worst.ratio = next.ratio;
  worst.governs = next.governs;
  worst.fastener = next.fastener;
}

void merge(OpeningResult& worst, const OpeningResult& next) {
  for (std::size_t i = 0; i < worst.connections.size() && i < next.connections.size(); ++i) merge_connection(worst.connections[i], next.connections[i]);
  unite(worst.flags, next.flags);
  unite(worst.notes, next.notes);
  unite(worst.questions, next.questions);
  unite(worst.cross_checks, next.cross_checks);
  unite_assumed(worst.assumed, next.assumed);
  take_greater(worst.by_others, next.by_others);
  if (!is_worse(next.state, next.ratio, worst.state, worst.ratio)) return;
  worst.state = next.state;
  worst.ratio = next.ratio;
  worst.governs = next.governs;
  worst.why = next.why;
}

/// Counts through all combinations like a tape counter; false after the last.
bool advance(std::vector<std::size_t>& at, const std::vector<const Choice*>& choices) {
  for (std::size_t i = 0; i < at.size(); ++i) {
    if (++at[i] < choices[i]->options.size()) return true;
    at[i] = 0;
  }
  return false;
}

/// Which values stand behind a result, for its load case: ", jamb.species SPF".
void name_values(OpeningResult& result, const std::string& values) {
  for (auto& connection : result.connections)
    for (auto& check : connection.checks) check.load_case += values;
  if (result.state == State::holds || result.state == State::short_) result.why += values;
}

void note(std::vector<Answer>& answers, std::size_t i, const OpeningResult& result) {
  Answer& answer = answers[i];
  if (!answer.tried || is_worse(result.state, result.ratio, answer.state, answer.ratio)) {
    answer.state = result.state;
    answer.ratio = result.ratio;
  }
  answer.tried = true;
}

/// A project and an opening in which these fields have one word, on both sides.
struct Tried {
  opening::Project project;  ///< its shared facts only
  opening::Opening opening;

  Tried(const opening::Project& p, const opening::Opening& o, const std::vector<std::string>& paths, const std::string& word) : opening(o) {
    project.facts = p.facts;
    for (const auto& path : paths) set(path, word);
  }

 private:
  void set(const std::string& path, const std::string& word) {
    Fact fact;
    fact.kind = Fact::Kind::word;
    fact.word = word;
    if (opening::find_field(opening::Level::file, path)) {
      project.facts[path] = std::move(fact);
      return;
    }
    for (const char* side : {"left.", "right."}) opening.facts.erase(side + path);
    opening.facts[path] = std::move(fact);
  }
};

}  // namespace

OpeningResult check_each(const opening::Project& project, const opening::Opening& opening, const CheckOne& check_one) {
  std::vector<const Choice*> choices;
  for (const auto& c : project.choices) choices.push_back(&c);
  const std::size_t shared = choices.size();
  for (const auto& c : opening.choices) choices.push_back(&c);
  std::vector<Answer> answers;
  std::vector<std::size_t> first;
  for (const Choice* c : choices) {
    first.push_back(answers.size());
    for (const auto& option : c->options) answers.push_back({c->path, option.text, State::holds, 0, false});
  }
  OpeningResult worst;
  bool any = false;
  std::vector<std::size_t> at(choices.size(), 0);
  do {
    opening::Project picked_project;
    picked_project.facts = project.facts;
    picked_project.anchors = project.anchors;
    opening::Opening picked = opening;
    picked.choices.clear();
    std::string values;
    for (std::size_t i = 0; i < choices.size(); ++i) {
      opening::pick(*choices[i], at[i], i < shared ? picked_project.facts : picked.facts);
      values += fmt::format(", {} {}", choices[i]->path, choices[i]->options[at[i]].text);
    }
    OpeningResult result = check_one(picked_project, picked);
    for (std::size_t i = 0; i < choices.size(); ++i) note(answers, first[i] + at[i], result);
    name_values(result, values);
    if (any) merge(worst, result);
    else worst = std::move(result);
    any = true;
  } while (advance(at, choices));
  worst.answers = std::move(answers);
  return worst;
}

void try_answers(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, const CheckOne& check_one, OpeningResult& result) {
  for (std::size_t i = 0; i < result.questions.size() && i < kMostQuestions; ++i) {
    Question& question = result.questions[i];
    const rules::Key* key = set.key(question.key);
    if (!key || key->words.empty() || key->words.size() > kMostWords || question.fields.empty()) continue;
    const bool filled = std::all_of(question.fields.begin(), question.fields.end(), [&](const auto& field) { return opening::key_of(field) == question.key; });
    if (!filled) continue;  // the answer is written in another form
    for (const auto& word : key->words) {
      const Tried tried(project, opening, question.fields, word);
      const OpeningResult one = check_one(tried.project, tried.opening);
      question.answers.push_back({question.fields.front(), word, one.state, one.ratio, true});
    }
  }
}

void try_assumed(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set, const CheckOne& check_one, OpeningResult& result) {
  for (Assumed& assumed : result.assumed) {
    const rules::Key* key = set.key(assumed.what);
    if (!key || key->words.empty() || key->words.size() > kMostWords) continue;
    std::vector<std::string> fields = opening::fields_for(assumed.what, "guide");
    for (const auto& field : opening::fields_for(assumed.what, "bracket"))
      if (std::find(fields.begin(), fields.end(), field) == fields.end()) fields.push_back(field);
    if (fields.empty()) continue;
    for (const auto& word : key->words) {
      if (word == assumed.value) continue;
      const Tried tried(project, opening, fields, word);
      const OpeningResult one = check_one(tried.project, tried.opening);
      if (is_worse(one.state, one.ratio, result.state, result.ratio)) assumed.otherwise.push_back({fields.front(), word, one.state, one.ratio, true});
    }
  }
}

}  // namespace jambcheck::verdict
