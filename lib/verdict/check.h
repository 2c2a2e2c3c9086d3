#pragma once
// Checking openings: every required limit state of every connection in every load case, the worst of each kept.
#include <memory>
#include <string>
#include <vector>

#include "opening/model.h"
#include "rules/judge.h"
#include "verdict/by_others.h"
#include "verdict/connection.h"
#include "verdict/link_memory.h"

namespace jambcheck::verdict {

/// What one value of a field gives: the worst of all results in which it was taken.
struct Answer {
  std::string field;  ///< "jamb.species"
  std::string value;  ///< "SPF"
  rules::State state = rules::State::holds;
  double ratio = 0;
  bool tried = false;
  friend bool operator==(const Answer&, const Answer&) = default;
};

/// Something that must be known before an opening can be judged.
struct Question {
  std::string key;
  std::string ask;
  std::string find;
  std::vector<std::string> fields;  ///< of the project file that answer it: "guide.edge"
  std::vector<Answer> answers;      ///< what each word gives, where they are few
  friend bool operator==(const Question& a, const Question& b) { return a.key == b.key; }
};

/// The worst case of one limit state at one connection.
struct CheckResult {
  std::string address;  ///< D-104/LG/L1/W1
  const rules::Rule* rule = nullptr;
  std::string clause;
  std::string load_case;
  rules::Judgement judgement;
  units::Unit unit;         ///< of demand and capacity
  rules::Evidence evidence = rules::Evidence::read;
  std::string weakest;      ///< the clause with that evidence
  std::string runner_up;    ///< the next load case and its ratio, or empty
  double runner_up_ratio = 0;
  std::shared_ptr<const rules::Plan> plan;
  std::shared_ptr<const rules::Case> values;  ///< the whole case, for its working; shared with its neighbours
};

struct LinkResult {
  std::string id;  ///< L1
  std::string name;
  rules::State state = rules::State::holds;
  double ratio = 0;  ///< of the check that decides; NaN when it has none
};

struct Assumed {
  std::string what;   ///< key or field
  std::string value;
  std::string why;
  std::vector<std::string> where;  ///< connections
  std::vector<Answer> otherwise;   ///< what other words would give, where they were tried
};

struct ConnectionResult {
  std::string id;
  std::string name;
  std::string fastener;
  rules::State state = rules::State::holds;
  double ratio = 0;
  std::string governs;
  std::vector<LinkResult> links;
  std::vector<CheckResult> checks;
  std::vector<rules::Reason> reasons;  ///< that stand beside all checks
};

/// What the user gave beside what is worked out.
struct CrossCheck {
  std::string where;  ///< "left guide"
  std::string say;
  std::string given, worked_out;  ///< with units
  double ratio = 0;               ///< given over worked out
  friend bool operator==(const CrossCheck&, const CrossCheck&) = default;
};

struct OpeningResult {
  std::string mark;
  rules::State state = rules::State::engineer;
  double ratio = 0;
  std::string governs;    ///< address of what decides
  std::string why;        ///< in words
  std::vector<ConnectionResult> connections;
  std::vector<rules::Reason> flags;
  std::vector<rules::Reason> notes;  ///< to do or to inspect; without weight for the state
  std::vector<Question> questions;
  std::vector<Assumed> assumed;
  std::vector<CrossCheck> cross_checks;
  std::vector<Answer> answers;  ///< of fields for which the file names several values
  std::vector<std::pair<std::string, std::string>> copied;  ///< path, from
  std::vector<ByOthers> by_others;  ///< where they were asked for
};

class Checker {
 public:
  explicit Checker(const rules::RuleSet& set) : set_(set), plans_(set) {}
  /// Says for each open question what its answers give; costs a run an answer.
  void try_answers(bool on) { try_answers_ = on; }
  /// Says for each assumed word what the other words would give; costs a run a word.
  void try_assumed(bool on) { try_assumed_ = on; }
  /// Works out what wall, header or stud must take.
  void list_by_others(bool on) { list_by_others_ = on; }
  /// One opening; safe to call from several threads. Where the file names several values, all are tried and the worst counts.
  OpeningResult check(const opening::Project& project, const opening::Opening& opening);
  /// One guide or bracket of an opening that leaves nothing to choose, with its working: "LG".
  ConnectionResult check_part(const opening::Project& project, const opening::Opening& opening, opening::Side side, bool bracket);
  /// Plans already made, for Briefs that shall share them.
  rules::PlanCache& plans() { return plans_; }
  /// Many, in the order given, on `jobs` threads; the same result for any number.
  std::vector<OpeningResult> check_all(const opening::Project& project, const std::vector<const opening::Opening*>& openings, int jobs);

 private:
  OpeningResult check_one(const opening::Project& project, const opening::Opening& opening);
  OpeningResult check_one_with_forces(const opening::Project& project, const opening::Opening& opening);
  ConnectionResult check_connection(const opening::Opening& opening, const Connection& connection, OpeningResult& out);
  std::shared_ptr<const JudgedLink> judged(const Connection& connection);
  /// Links that differ, on two threads, into the memory.
  void judge_ahead(const std::vector<Connection>& links);
  JudgedLink judge(const Connection& connection);
  void judge_checks(const Connection& connection, const rules::Case& first, const std::vector<const rules::Rule*>& wanted, JudgedLink& out);
  const rules::RuleSet& set_;
  rules::PlanCache plans_;
  LinkMemory memory_;
  bool try_answers_ = false;
  bool try_assumed_ = false;
  bool list_by_others_ = false;
  bool spare_threads_ = false;  ///< one opening alone is checked: another thread may help
};

}  // namespace jambcheck::verdict
