#include "papers/revision.h"

#include <cmath>

#include <fmt/format.h>

#include "compare/compare.h"
#include "document/words.h"
#include "papers/fastening.h"
#include "papers/working.h"

namespace jambcheck::papers {
namespace {

using verdict::CheckResult;

constexpr double kSame = 1e-9;       // relative: the same number worked out anew
constexpr double kPrinted = 0.0005;  // of a ratio: less is not seen with two decimals

bool same(double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)) || std::fabs(a - b) <= kSame * std::max(std::fabs(a), std::fabs(b)); }

bool same(const CheckResult& a, const CheckResult& b) {
  return a.judgement.state == b.judgement.state && a.load_case == b.load_case && same(a.judgement.demand, b.judgement.demand) &&
         same(a.judgement.capacity, b.judgement.capacity) && same(a.judgement.ratio, b.judgement.ratio);
}

std::map<std::string, const CheckResult*> checks_of(const std::vector<verdict::OpeningResult>& results) {
  std::map<std::string, const CheckResult*> out;
  for (const auto& r : results)
    for (const auto& c : r.connections)
      for (const auto& k : c.checks) out[k.address] = &k;
  return out;
}

std::string answer_text(rules::State state, double ratio) {
  const bool counts = !std::isnan(ratio) && (state == rules::State::holds || state == rules::State::short_);
  return std::string(rules::word(state)) + (counts ? " " + document::ratio_text(ratio) : "");
}

std::string answer_text(const std::string& state, double ratio) { return state + (std::isnan(ratio) ? "" : " " + document::ratio_text(ratio)); }

void add_inputs(const compare::Comparison& c, Revision& out) {
  for (const auto& i : c.inputs) {
    const std::string where = i.mark.empty() ? "project" : i.mark;
    out.inputs.insert(where);
    if (!i.mark.empty()) out.marks.insert(i.mark);
    out.changes.push_back({where, i.field, i.before, i.after, "understood"});
  }
}

void add_results(const compare::Comparison& c, Revision& out) {
  for (const auto& r : c.results) {
    out.marks.insert(r.mark);
    out.changes.push_back({r.mark, "answer", answer_text(r.state_before, r.ratio_before), answer_text(r.state_after, r.ratio_after), "answers"});
  }
  for (const auto& r : c.added) {
    out.marks.insert(r.mark);
    out.inputs.insert(r.mark);
    out.changes.push_back({r.mark, "opening", "none", "new: " + answer_text(r.state_after, r.ratio_after), "answers"});
  }
  for (const auto& r : c.removed) out.changes.push_back({r.mark, "opening", answer_text(r.state_before, r.ratio_before), "is no more", ""});
  for (const auto& q : c.questions_new) out.changes.push_back({q.mark, "question", "not asked", q.ask, "questions"});
  for (const auto& q : c.questions_gone) out.changes.push_back({q.mark, "question", q.ask, "answered", ""});
}

/// Marks every check that is not what it was; lists those whose answer reads otherwise.
void add_checks(const RevisionSide& before, const RevisionSide& now, Revision& out) {
  const auto old = checks_of(before.results);
  for (const auto& r : now.results)
    for (const auto& c : r.connections)
      for (const auto& k : c.checks) {
        const auto it = old.find(k.address);
        if (it != old.end() && same(*it->second, k)) continue;
        out.addresses.insert(k.address);
        if (it == old.end()) continue;  // told by what was added, or a fastener of another kind
        const auto &a = it->second->judgement, &b = k.judgement;
        if (a.state == b.state && (same(a.ratio, b.ratio) || std::fabs(a.ratio - b.ratio) < kPrinted)) continue;
        out.changes.push_back({k.address, "check", answer_text(a.state, a.ratio), answer_text(b.state, b.ratio), "t-" + k.address});
      }
}

}  // namespace

Revision revision_of(const RevisionSide& before, const RevisionSide& now, const std::string& against) {
  constexpr std::size_t kLongest = 3;
  Revision out;
  out.against = against;
  const std::string word = said(now.project.facts, "project.revision");
  out.letter = word.empty() || word.size() > kLongest || word == said(before.project.facts, "project.revision") ? "*" : word;
  const auto comparison = compare::compare(compare::side_of(before.project, before.results), compare::side_of(now.project, now.results), kPrinted);
  add_inputs(comparison, out);
  add_results(comparison, out);
  add_checks(before, now, out);
  return out;
}

}  // namespace jambcheck::papers
