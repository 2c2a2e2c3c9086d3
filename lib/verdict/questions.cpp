#include "verdict/questions.h"

#include <algorithm>

namespace jambcheck::verdict {
namespace {

using rules::Reason;
using rules::State;

template <class T>
void add_once(std::vector<T>& list, const T& item) {
  if (std::find(list.begin(), list.end(), item) == list.end()) list.push_back(item);
}

void ask(const rules::RuleSet& set, const std::string& key, opening::Asker asker, std::vector<Question>& questions) {
  auto it = std::find_if(questions.begin(), questions.end(), [&](const Question& q) { return q.key == key; });
  if (it == questions.end()) it = questions.insert(questions.end(), question_of(set, key));
  for (const auto& field : opening::fields_that_answer(key, asker)) add_once(it->fields, field);
}

}  // namespace

Question question_of(const rules::RuleSet& set, const std::string& key) {
  const rules::Key* info = set.key(key);
  if (!info) return {key, key + " is not given", "", {}, {}};
  return {key, !info->ask.empty() ? info->ask : (info->say.empty() ? key : info->say) + " is not given", info->find, {}, {}};
}

void take_reasons(const rules::RuleSet& set, const ConnectionResult& link, opening::Asker asker, OpeningResult& out) {
  const auto take = [&](const Reason& r) {
    if (r.leads_to == State::not_shown) ask(set, r.code, asker, out.questions);
    else if (r.leads_to == State::holds && r.kind == rules::ReasonKind::flag) add_once(out.notes, r);
    else if (r.leads_to == State::engineer) add_once(out.flags, r);
  };
  for (const auto& r : link.reasons) take(r);
  for (const auto& c : link.checks)
    for (const auto& r : c.judgement.reasons) take(r);
}

void leave_out_what_follows(std::vector<Question>& questions) {
  const auto asks = [&](const char* key) { return std::any_of(questions.begin(), questions.end(), [&](const Question& q) { return q.key == key; }); };
  const auto leave_out = [&](const std::string& start) {
    questions.erase(std::remove_if(questions.begin(), questions.end(), [&](const Question& q) { return q.key.rfind(start, 0) == 0; }), questions.end());
  };
  // Which row of an anchor's report counts hangs on the wall, and which bond strength on its temperature.
  if (asks("masonry.filled") || asks("masonry.kind")) leave_out("anchor.");
  if (asks("anchor.temperature")) leave_out("anchor.tau_");
}

}  // namespace jambcheck::verdict
