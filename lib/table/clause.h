#pragma once
// Where a number comes from: document, clause, and how well that source is known.
#include <string>
#include <string_view>
#include <vector>

#include "text/diagnostic.h"
#include "yaml/node.h"

namespace jambcheck::table {

/// How well a source is known, best first. The weakest of a result travels with it.
enum class Evidence { read, recomputed, second_hand, memory };
std::string_view word(Evidence evidence);
bool parse_evidence(std::string_view text, Evidence& out);
inline Evidence weaker(Evidence a, Evidence b) { return a > b ? a : b; }

struct Clause {
  std::string local;  ///< its name in the file, "c1"
  std::string doc;    ///< key of rules/documents.yaml
  std::string at, eq, table, note;
  Evidence seen = Evidence::memory;
  text::Place place;
  text::Place doc_place;
};
/// "nds-2018 12.2.1.1 eq. 12.2-1"
std::string to_string(const Clause& clause);

/// The `clauses:` map of a rule or table file. Problems: Y003..Y005, C002 (seen), C003 (nothing cited).
std::vector<Clause> read_clauses(const yaml::Node& map, std::string_view what, text::Diagnostics& diagnostics);

/// Index of the clause that `cite: c1` names; reports C001 and returns -1 when there is none.
int find_clause(const std::vector<Clause>& clauses, const yaml::Node& cite, text::Diagnostics& diagnostics);

}  // namespace jambcheck::table
