#include "table/clause.h"

#include "text/suggest.h"

namespace jambcheck::table {

using text::MessageId;

std::string_view word(Evidence evidence) {
  switch (evidence) {
    case Evidence::read: return "read";
    case Evidence::recomputed: return "recomputed";
    case Evidence::second_hand: return "second-hand";
    case Evidence::memory: return "memory";
  }
  return "";
}

bool parse_evidence(std::string_view text, Evidence& out) {
  for (const Evidence e : {Evidence::read, Evidence::recomputed, Evidence::second_hand, Evidence::memory})
    if (text == word(e)) {
      out = e;
      return true;
    }
  return false;
}

std::string to_string(const Clause& clause) {
  std::string out = clause.doc;
  if (!clause.at.empty()) out += " " + clause.at;
  if (!clause.eq.empty()) out += " eq. " + clause.eq;
  if (!clause.table.empty()) out += " table " + clause.table;
  return out;
}

std::vector<Clause> read_clauses(const yaml::Node& map, std::string_view what, text::Diagnostics& diagnostics) {
  std::vector<Clause> out;
  const std::string name = "a clause of " + std::string(what);
  for (const auto& [key, value] : map.entries) {
    if (!value.is_map()) {
      diagnostics.add(MessageId::Y005, key.place, {std::string(what), key.text, "a map", std::string(yaml::word(value.kind))});
      continue;
    }
    yaml::check_keys(value, {"doc", "at", "eq", "table", "seen", "note"}, name, diagnostics);
    Clause clause;
    clause.local = key.text;
    clause.place = key.place;
    const auto text_of = [&](std::string_view field) {
      const yaml::Node* node = yaml::may(value, field, yaml::Kind::scalar, name, diagnostics);
      return node ? node->text : std::string();
    };
    if (const auto* doc = yaml::need(value, "doc", yaml::Kind::scalar, name, diagnostics)) {
      clause.doc = doc->text;
      clause.doc_place = doc->place;
    }
    clause.at = text_of("at");
    clause.eq = text_of("eq");
    clause.table = text_of("table");
    clause.note = text_of("note");
    if (const auto* seen = yaml::need(value, "seen", yaml::Kind::scalar, name, diagnostics))
      if (!parse_evidence(seen->text, clause.seen))
        diagnostics.add(MessageId::C002, seen->place, {seen->text});
    out.push_back(std::move(clause));
  }
  return out;
}

int find_clause(const std::vector<Clause>& clauses, const yaml::Node& cite, text::Diagnostics& diagnostics) {
  for (std::size_t i = 0; i < clauses.size(); ++i)
    if (clauses[i].local == cite.text) return static_cast<int>(i);
  std::vector<std::string> names;
  for (const auto& clause : clauses) names.push_back(clause.local);
  diagnostics.add(MessageId::C001, cite.place, {cite.text, names.empty() ? "the file has none" : text::suggestion(cite.text, names)});
  return -1;
}

}  // namespace jambcheck::table
