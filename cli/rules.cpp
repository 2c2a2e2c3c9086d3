// `jambcheck rules`: the list of rules, or their graph as dot.
#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"

namespace jambcheck::cli {
namespace {

std::string list(const rules::RuleSet& set) {
  std::string out;
  for (const auto& rule : set.rules())
    out += fmt::format("{:<4} {:<38} {:<5} {}\n", rule->check ? rule->code : "", rule->id, rule->method, rule->title);
  return out;
}

std::string json(const rules::RuleSet& set) {
  nlohmann::ordered_json out = nlohmann::ordered_json::array();
  for (const auto& rule : set.rules()) {
    nlohmann::ordered_json inputs = nlohmann::ordered_json::object(), outputs = nlohmann::ordered_json::object(), clauses = nlohmann::ordered_json::array();
    for (const auto& i : rule->inputs) inputs[i.name] = {{"from", i.key}, {"unit", i.is_word ? "word" : i.unit.name}};
    for (const auto& o : rule->outputs) outputs[o.step] = o.key;
    for (const auto& c : rule->clauses) clauses.push_back({{"clause", table::to_string(c)}, {"seen", table::word(c.seen)}});
    out.push_back({{"id", rule->id}, {"code", rule->code}, {"title", rule->title}, {"method", rule->method}, {"status", rule->status},
                   {"inputs", inputs}, {"outputs", outputs}, {"clauses", clauses}});
  }
  return nlohmann::ordered_json{{"format", "rules/1"}, {"rules", out}}.dump(2) + "\n";
}

/// Rules as boxes, an arrow for each key that one gives and another reads. Box: decides something.
std::string graph(const rules::RuleSet& set) {
  std::string out = "digraph rules {\n  rankdir=LR;\n  node [shape=ellipse, fontsize=10];\n";
  for (const auto& rule : set.rules())
    out += fmt::format("  \"{}\" [label=\"{}\"{}];\n", rule->id, rule->id, rule->check ? ", shape=box" : "");
  std::set<std::string> edges;
  for (const auto& [name, key] : set.keys())
    for (const auto& [producer, output] : key.producers)
      for (const auto& [consumer, input] : key.consumers)
        if (producer != consumer) edges.insert(fmt::format("  \"{}\" -> \"{}\" [label=\"{}\", fontsize=8];\n", producer->id, consumer->id, name));
  for (const auto& edge : edges) out += edge;
  return out + "}\n";
}

}  // namespace

Exit run_rules(Context& context, bool dot) {
  const auto* set = context.rule_set();
  if (!set) return Exit::input;
  if (dot) return context.write(graph(*set));
  return context.write(context.options().json ? json(*set) : list(*set));
}

}  // namespace jambcheck::cli
