#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "papers/check_report.h"

namespace jambcheck::papers {
namespace {

using json = nlohmann::ordered_json;
using verdict::CheckResult;
using verdict::ConnectionResult;
using verdict::OpeningResult;

json number(double value) { return std::isfinite(value) ? json(value) : json(nullptr); }

/// A ratio without limit is said in words, for JSON has no infinity.
json ratio(double value) { return std::isinf(value) ? json("unlimited") : number(value); }

json reason_json(const rules::Reason& r) {
  return {{"kind", rules::word(r.kind)}, {"code", r.code}, {"text", r.text}, {"leads_to", rules::word(r.leads_to)}, {"rule", r.rule}, {"clause", r.clause}};
}

const char* kind_of(const CheckResult& c) {
  switch (c.rule->check->kind) {
    case rules::CheckKind::strength: return "strength";
    case rules::CheckKind::measure: return "measure";
    case rules::CheckKind::gate: return "gate";
  }
  return "";
}

json check_json_of(const CheckResult& c) {
  json reasons = json::array();
  for (const auto& r : c.judgement.reasons) reasons.push_back(reason_json(r));
  json j = {{"address", c.address},
            {"rule", c.rule->id},
            {"title", c.rule->title},
            {"kind", kind_of(c)},
            {"clause", c.clause},
            {"case", c.load_case},
            {"demand", number(c.unit.from_canonical(c.judgement.demand))},
            {"capacity", number(c.unit.from_canonical(c.judgement.capacity))},
            {"ratio", ratio(c.judgement.ratio)},
            {"unit", c.unit.name},
            {"state", rules::word(c.judgement.state)},
            {"reasons", reasons},
            {"evidence", {{"seen", table::word(c.evidence)}, {"weakest", c.weakest}}}};
  if (!c.runner_up.empty()) j["runner_up"] = {{"case", c.runner_up}, {"ratio", ratio(c.runner_up_ratio)}};
  return j;
}

json connection_json(const ConnectionResult& c) {
  json links = json::array(), checks = json::array(), reasons = json::array();
  for (const auto& l : c.links) links.push_back({{"id", l.id}, {"name", l.name}, {"state", rules::word(l.state)}, {"ratio", ratio(l.ratio)}});
  for (const auto& check : c.checks) checks.push_back(check_json_of(check));
  for (const auto& r : c.reasons) reasons.push_back(reason_json(r));
  return {{"id", c.id}, {"name", c.name}, {"fastener", c.fastener}, {"state", rules::word(c.state)}, {"ratio", ratio(c.ratio)},
          {"governs", c.governs}, {"links", links}, {"checks", checks}, {"reasons", reasons}};
}

json greatest_json(const verdict::Greatest& g) { return std::isnan(g.value) ? json(nullptr) : json{{"value", g.value}, {"case", g.load_case}}; }

json forces_json(const verdict::Forces& f) {
  return {{"pull", greatest_json(f.pull)}, {"push", greatest_json(f.push)}, {"across", greatest_json(f.across)}, {"along", greatest_json(f.along)}};
}

/// Forces in lbf, the moment in in-lbf.
json by_others_json(const std::vector<verdict::ByOthers>& all) {
  json out = json::array();
  for (const auto& b : all)
    out.push_back({{"id", b.id}, {"name", b.name}, {"link", b.link_id}, {"joins", b.link}, {"level", b.level}, {"in_board", b.in_board},
                   {"one_fastener", forces_json(b.one)}, {"all_together", forces_json(b.all)}, {"moment", greatest_json(b.moment)}});
  return out;
}

json answers_json(const std::vector<verdict::Answer>& answers) {
  json out = json::array();
  for (const auto& a : answers) out.push_back({{"field", a.field}, {"value", a.value}, {"state", rules::word(a.state)}, {"ratio", ratio(a.ratio)}});
  return out;
}

json opening_json(const OpeningResult& o) {
  json connections = json::array(), flags = json::array(), questions = json::array(), assumed = json::array(), copied = json::array();
  for (const auto& c : o.connections) connections.push_back(connection_json(c));
  json notes = json::array();
  for (const auto& f : o.flags) flags.push_back(reason_json(f));
  for (const auto& n : o.notes) notes.push_back(reason_json(n));
  for (const auto& q : o.questions)
    questions.push_back({{"key", q.key}, {"ask", q.ask}, {"find", q.find}, {"fields", q.fields}, {"answers", answers_json(q.answers)}});
  for (const auto& a : o.assumed) assumed.push_back({{"what", a.what}, {"value", a.value}, {"why", a.why}, {"where", a.where}, {"otherwise", answers_json(a.otherwise)}});
  json cross = json::array();
  for (const auto& c : o.cross_checks) cross.push_back({{"where", c.where}, {"say", c.say}, {"given", c.given}, {"worked_out", c.worked_out}, {"ratio", ratio(c.ratio)}});
  for (const auto& [path, from] : o.copied) copied.push_back({{"field", path}, {"from", from}});
  return {{"mark", o.mark}, {"state", rules::word(o.state)}, {"ratio", ratio(o.ratio)}, {"governs", o.governs}, {"why", o.why},
          {"connections", connections}, {"flags", flags}, {"notes", notes}, {"questions", questions}, {"assumed", assumed}, {"cross_checks", cross}, {"answers", answers_json(o.answers)}, {"copied", copied}, {"by_others", by_others_json(o.by_others)}};
}

}  // namespace

std::string check_json(const opening::Project& project, const std::vector<OpeningResult>& results, const rules::RuleSet& set, const ReportOptions& options) {
  json openings = json::array(), facts = json::object(), files = json::array();
  for (const auto& r : results) openings.push_back(opening_json(r));
  for (const auto& [path, f] : project.facts) {
    if (f.unknown) facts[path] = "unknown";
    else if (f.kind == opening::Fact::Kind::number) facts[path] = {{"value", f.shown.from_canonical(f.value)}, {"unit", f.shown.name}};
    else facts[path] = f.word;
  }
  for (const auto& s : set.stamps()) files.push_back({{"file", s.path}, {"hash", fmt::format("{:016x}", s.hash)}});
  const json out = {{"format", "result/1"}, {"program", "jambcheck " JAMBCHECK_VERSION}, {"file", options.file}, {"project", facts}, {"openings", openings}, {"not_read", options.not_read}, {"rules", files}};
  return out.dump(2) + "\n";
}

}  // namespace jambcheck::papers
