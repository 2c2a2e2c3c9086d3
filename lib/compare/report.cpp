// A comparison as text and as JSON (compare/1).
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "compare/compare.h"

namespace jambcheck::compare {
namespace {

using json = nlohmann::ordered_json;

std::string figure(const std::string& state, double ratio) {
  if (std::isnan(ratio)) return state;
  return state + (std::isinf(ratio) ? " inf" : fmt::format(" {:.3f}", ratio));
}

json ratio_json(double ratio) { return std::isnan(ratio) ? json(nullptr) : std::isinf(ratio) ? json("unlimited") : json(ratio); }

json result_json(const ResultChange& c) {
  return {{"mark", c.mark}, {"state", {{"before", c.state_before}, {"after", c.state_after}}}, {"ratio", {{"before", ratio_json(c.ratio_before)}, {"after", ratio_json(c.ratio_after)}}},
          {"governs", {{"before", c.governs_before}, {"after", c.governs_after}}}, {"why", c.why}, {"worse", c.worse}};
}

json question_json(const std::vector<QuestionChange>& questions) {
  json out = json::array();
  for (const auto& q : questions) out.push_back({{"mark", q.mark}, {"ask", q.ask}});
  return out;
}

void questions_text(const char* heading, const std::vector<QuestionChange>& questions, std::string& out) {
  if (!questions.empty()) out += std::string(heading) + "\n";
  for (const auto& q : questions) out += fmt::format("  {:<10}  {}\n", q.mark, q.ask);
}

void inputs_text(const Comparison& c, std::string& out) {
  if (!c.inputs.empty()) out += "Inputs that changed:\n";
  for (const auto& i : c.inputs) out += fmt::format("  {:<10}  {:<28} {} -> {}\n", i.mark.empty() ? "project" : i.mark, i.field, i.before, i.after);
  if (!c.inputs_known) out += "Inputs of openings are not compared: a result does not hold them.\n";
}

void results_text(const Comparison& c, std::string& out) {
  if (!c.results.empty()) out += "Results that moved:\n";
  for (const auto& r : c.results) {
    out += fmt::format("  {:<10}  {:<6}  {} -> {}\n", r.mark, r.worse ? "worse" : "better", figure(r.state_before, r.ratio_before), figure(r.state_after, r.ratio_after));
    if (r.worse && !r.why.empty()) out += fmt::format("              {}\n", r.why);
  }
}

}  // namespace

std::string to_text(const Comparison& c, const std::string& before, const std::string& after) {
  std::string out = fmt::format("{} -> {}\n", before, after);
  inputs_text(c, out);
  results_text(c, out);
  questions_text("New questions:", c.questions_new, out);
  questions_text("Questions that are gone:", c.questions_gone, out);
  for (const auto& a : c.added) out += fmt::format("Added:    {:<10}  {}\n", a.mark, figure(a.state_after, a.ratio_after));
  for (const auto& r : c.removed) out += fmt::format("Removed:  {:<10}  was {}\n", r.mark, figure(r.state_before, r.ratio_before));
  out += fmt::format("{} openings the same, {} moved, {} added, {} removed. {}\n", c.same, c.results.size(), c.added.size(), c.removed.size(),
                     c.worse ? "Something got worse." : "Nothing got worse.");
  return out;
}

std::string to_json(const Comparison& c, const std::string& before, const std::string& after, double threshold) {
  json inputs = json::array(), results = json::array(), added = json::array(), removed = json::array();
  for (const auto& i : c.inputs) inputs.push_back({{"mark", i.mark}, {"field", i.field}, {"before", i.before}, {"after", i.after}});
  for (const auto& r : c.results) results.push_back(result_json(r));
  for (const auto& a : c.added) added.push_back({{"mark", a.mark}, {"state", a.state_after}, {"ratio", ratio_json(a.ratio_after)}});
  for (const auto& r : c.removed) removed.push_back({{"mark", r.mark}, {"state", r.state_before}, {"ratio", ratio_json(r.ratio_before)}});
  const json out = {{"format", "compare/1"}, {"before", before}, {"after", after}, {"threshold", threshold}, {"worse", c.worse}, {"inputs_known", c.inputs_known}, {"inputs", inputs},
                    {"results", results}, {"questions_new", question_json(c.questions_new)}, {"questions_gone", question_json(c.questions_gone)}, {"added", added}, {"removed", removed}, {"same", c.same}};
  return out.dump(2) + "\n";
}

}  // namespace jambcheck::compare
